"""The guide: pages of plain text that come with the program, to be read without a network.

``topics``      the pages by name, and their text
``key_tables``  makes ``scenario-file.md`` and ``limits.md`` from the models
``rigger.md``, ``production.md``, ``shop.md``, ``engineers.md``, ``other-files.md``  written by hand
``scenario-file.md``, ``limits.md``  made; a test holds them to the models
"""
