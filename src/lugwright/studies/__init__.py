"""Many runs of the planner on one console, to answer what a single plan cannot.

=====================  ==========================================================================
file                   what it holds
=====================  ==========================================================================
``why_not``            the door: why no plan exists, and what would let one exist
``hubs``               every hub candidate at its own best
``frontier``           one thing against another
``tight_spots``        which limits a plan leans on
``holds``              what every hold costs
``schema``             the answer: conflicts, their members, the ways out
``words``              the answer in lines, and as data
``question_variants``  variants of the question: things taken away, steps taken
``ways``               the ways out: the least change of one thing, or of a few together
``question``           one question put to the planner, its probes counted and kept
``easing``             what can be taken away, and its ladder of steps
``limit_steps``        the limits that can be loosened
``fact_steps``         the facts of instruments and of the call that a person can change
``wire_steps``         the facts of given wires and their fuses
``way_steps``          the facts of devices: what their ways carry, their contacts
``facts``              what the steps of facts have in common
``stock_steps``        what else could lie in stock
``conflict``           the fewest things that cannot hold together
``least_change``       the first step of a ladder that is enough
``excess``             what a plan wants more of than was allowed, with places and numbers
=====================  ==========================================================================
"""
