"""A run of boats: kits, spools, standard lengths, families, revisions, rework.

``run``           so many boats of one model or a mix, gathered into kits and batches
``whole_run``     everything about one run, gathered once
``run_text``, ``run_folder``, ``tables``, ``traveller``  what is printed of it
``times``         minutes of setting up
``spool_plan``    which piece from which spool or offcut (``packing``)
``standard_lengths``  which standard lengths waste the least wire
``family``        variants planned jointly; ``family_file`` the file that names them
``free_ends``     what wants leads with stated ends
``revisions``     what changed between two revisions of a plan
``pairing``       which piece of one plan is which of another
``compare``       fittings and stacks of two plans
``rework``        a built harness changed as little as pays; ``rework_lines``, ``rework_sheet``
"""
