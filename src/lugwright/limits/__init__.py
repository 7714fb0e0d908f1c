"""What the shop allows: one set of limits that every plan obeys, each with where it came from.

From the first thing to look at to the last:

``schema``     ``Limits``: every limit in force, resolved to integers
``spec``       what a limit is: name, group, unit, meaning, range, safer direction
``spec_rows``  one such row for every limit there is
``rule_sets/``  the built-in rule sets, every value with its published source beside it
``values``     one value from text to integer, and back to text
``read``       one layer: a TOML table, or settings of the command line
``built_in``   the built-in rule sets, read
``compare``    which of two values is the looser one
``locks``      how a shop holds one limit, and why it refuses a value
``shop``       the ``[shop]`` table of a limits file
``shop_layers``  the shop's files, each extending another, made into one
``waivable``   which limits can be waived at a place
``waivers``    the waivers of a scenario, read and judged; their places on a console:
               ``scenario.waiver_places``
``refused``    how it ends where something asks for more than the shop allows
``resolve``    four layers made into one ``Limits``, each value with its origin
``load``       the same from a scenario file, a limits file's path and the call's options
``defaults``   a built-in rule set with nothing laid over it
``explain``    the limits in force as rows to print; the layout of a limits file as JSON Schema
"""
