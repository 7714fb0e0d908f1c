"""A plan made again from its own bare decisions, and set beside itself leaf by leaf.

``decisions``  what a plan decides, read back off its cut and crimp lists
``compare``    where two plans differ, told as findings
``again``      the judgement over a plan file: what is printed follows from the facts

The second opinion (``check``) judges facts and shares nothing with the planner. This room shares
everything with it on purpose: it does not ask whether a plan is right, only whether somebody has
changed what is printed.
"""
