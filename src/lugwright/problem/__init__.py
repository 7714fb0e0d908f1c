"""The question without a solver: sets and integers, and which ends may share which fittings.

``schema``         the question; start here
``build``          console, limits, stock and routes made into it
``sizes``          which wire sizes a circuit may be run in; its fuse and smallest conductor decide
``groups``         which wire ends may share which fittings, as tables
``boat_blocks``    how what comes aboard may land
``judged_paths``   drops, ground shifts and loom legs to be judged
``leaves``         how many ends trees must have, so that no drop is too large
``given_faults``   what no choice mends: given wires, fuses and loads; ``way_faults`` of ways
``landing_posts``  where a circuit's supply may land, and which instruments may be its hub
``held``           what is held, put into the question
``built_jumper``   a jumper that is there already
``built_harness``  what is built already, put into the question
``settings``       how the search is set
"""
