"""What lies in stock: wire, fittings, nuts and washers, fuses.

``schema``  the rows, resolved to integers; the whole is a Stock
``read``    a Stock from the built-in stock, a shop's folder, or both
``table``   one CSV file to rows of named cells, every fault of its form kept
``cells``   one row's cells to values, every fault kept
``rows``    cells to the rows of ``schema``
``tables/``  the built-in tables; every row has a ``source`` column, and prices are invented
"""
