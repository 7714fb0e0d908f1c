"""The command line: words in, words and exit codes out. Nothing is decided here.

``main``       the group of commands, and what becomes of an error
``options``    options that several commands share
``exits``      how a command can end
``talk``       standard output that survives a reader who has gone
``progress``   best and bound on standard error while a search runs
``cmd_new``    ``lugwright new``: a starter scenario
``cmd_plan``   ``lugwright plan``: plan, check, write
``cmd_check``  ``lugwright check``: judge a plan or a jumper list
``cmd_limits`` ``lugwright limits``: the limits in force and where they come from
``cmd_stock``  ``lugwright stock``: the stock

A command's module is imported only when the command is run, and heavy libraries only when it
has something for them to do.
"""
