"""What no answer can cost less than, without solving anything to the end.

``by_landing``      bounds of parts, one relaxation asked for every landing; start here
``relaxation``      a part's linear relaxation, cut by cut
``linear_program``  its rows put to HiGHS: answers and prices in floating point
``weak_duality``    a bound from any prices, exact; that there is no answer (Farkas)
``reduced_costs``   what prices say of each jumper: those too dear are left out
``directed_cuts``   the cuts of a relaxation as sets of nodes; capacities rounded up (Chvátal)
``separation``      cuts that a fractional answer breaks, by largest flows
``rows``            the linear rows of a model as arrays
``dominance``       wire sizes that others beat, table by table
"""
