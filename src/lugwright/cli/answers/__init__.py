"""What each command answers: its files and its words, loaded when the command is run.

``plan``        the plan's folder, the build list, and the end of the story
``check``       verdicts, and edited plans that are accepted
``hubs``        the page, the table, how it ends; ``hubs_asked`` what is asked for it
``sheets``      sheets of a plan, or of a console that is not planned yet
``readings``    verdicts on readings, and the joint that is bad
``rework``      the work that changes a harness
``kits``        a run's sums and batches;  ``spools`` what is cut from which length
``family``      variants side by side, their folders
``lengths``     the best sets of standard lengths
``catalogue``   a catalogue's overview in text, workbook and page
``limits``      the limits in force;  ``patterns`` the instrument library

Each command's own file, ``cmd_NAME.py``, holds its options and nothing heavy.
"""
