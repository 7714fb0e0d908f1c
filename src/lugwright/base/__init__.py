"""Words everybody uses: scales, errors, origins, units.

``scale``   the integer scales of every quantity, stated once
``units``   reading lengths, wire sizes, currents and shares as a person writes them
``origin``  where a limit comes from
``errors``  the errors raised on purpose
``files``   reading a file somebody named, without waiting and within a size
``old_words`` what files used to call a thing, for messages
``spelling`` the nearest known spelling of a word, offered
``toml``    reading TOML with the place of every key
``version`` the program's version
"""
