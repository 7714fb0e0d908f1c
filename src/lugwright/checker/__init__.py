"""The second opinion: recomputes a plan from its inputs and plays its steps.

It imports nothing of the planner: every rule here is derived once more.

``run``        ``check_plan``: all checks, one report; ``whose`` console's plan it is
``rules``      the closed list of rules, one line each
``finding``    findings and reports;  ``book`` where checks write them down
``facts``      console, limits, stock and plan side by side
``shape``      names, labels, wire ends;  ``connect`` trees, splices;  ``hub``
``positions``  what conducts in which setting of the devices;  ``live`` what is live then
``bypass``     no wire passes round a way;  ``ways`` what each carries, and may
``runs``       the way of every wire (``routed``): corners, ``loom``, ``obstacles``
``lengths``, ``reach``;  ``geometry`` distances;  ``nut_room`` round a stud
``network``    by exact nodal analysis (``electrics.nodal``): currents, drops, ground shift
``ampacity``, ``fuses``, ``wires``  what each wire may carry, its colour, size and spool
``barrels``, ``fittings``, ``studs``  crimps, fits, strips, stacks
``totals``, ``supplies``  sums, cost, buy list, caps, ties
``holds``, ``waivers``  what was held is kept; what was waived is told, and needed
``panel``      the panel that the plan repeats;  ``printed_tests`` what a meter should show
``play``       the printed steps on a virtual panel
``run_counts`` a production run;  ``written`` lengths written down for a panel that stands
"""
