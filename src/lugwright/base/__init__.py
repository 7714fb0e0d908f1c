"""Words everybody uses: scales, errors, origins, units.

``identity``  names of wires and joints, as types of their own
``scale``   the integer scales of every quantity, stated once
``shapes``  shapes of holes and bodies, exact: whether they overlap, what they reach
``units``   reading lengths, wire sizes, currents and shares as a person writes them
``origin``  where a limit comes from
``errors``  the errors raised on purpose
``positions``  what a kill lanyard adds to its device
``cautions``  the cautions of every sheet, word for word
``stop``    what Ctrl-C and the system's request to end do
``files``   reading a file somebody named, without waiting and within a size
``old_words`` what files used to call a thing, for messages
``spelling`` the nearest known spelling of a word, offered
``toml``    reading TOML with the place of every key
``canonical``  one text for one value, to key and compare results by
``letters``  which letters the printed faces have, which names look alike
``csv_marks``  the mark between the cells of a CSV, and its decimal mark
``version`` the program's version
"""
