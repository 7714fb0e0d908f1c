"""The command line: words in, words and exit codes out. Nothing is decided here.

``main``           the group of commands, and what becomes of an error
``nearest_group``  the nearest known command offered for one that is none
``options``        options that several commands share; ``production_options`` of a run
``exits``          how a command can end
``talk``           standard output that survives a reader who has gone; ``table`` tables on it
``progress_line``  best and bound on standard error while a search runs

``cmd_new``        a starter scenario
``cmd_plan``       plan, check, write
``cmd_check``      judge a plan or a jumper list
``cmd_hubs``       hubs side by side, frontier, tight spots
``cmd_sheets``     some sheets of a plan again
``cmd_readings``   what a meter showed, judged
``cmd_changes``    two revisions of a plan
``cmd_rework``     a harness that is built, changed as little as pays
``cmd_kits``       a production run
``cmd_spools``     which piece from which spool
``cmd_family``     variants that share parts
``cmd_lengths``    which standard lengths to stock
``cmd_catalogue``  a folder of consoles
``cmd_limits``     the limits in force and where they come from
``cmd_stock``      the stock
``cmd_patterns``   the instrument library
``cmd_guide``      the guide's pages

``answers``        what each command writes and says, one file each

A command's module is imported only when the command is run or its help is asked for, and what it
works with only when it is run.
"""
