"""What the shop allows: one set of limits that every plan obeys, each with where it came from.

From the first thing to look at to the last:

``schema``     ``Limits``: every limit in force, resolved to integers
``spec``       what a limit is: name, group, unit, meaning, range, safer direction
``spec_rows``  one such row for every limit there is
``practice/``  the built-in rule sets, every value with its published source beside it
``values``     one value from text to integer, and back to text
``read``       one layer: a TOML table, or settings of the command line
``built_in``   the built-in rule sets, read
``resolve``    four layers made into one ``Limits``, each value with its origin
``load``       the same from a scenario file, a limits file's path and the call's options
``defaults``   a built-in rule set with nothing laid over it
``explain``    the limits in force as rows to print; the layout of a limits file as JSON Schema
"""
