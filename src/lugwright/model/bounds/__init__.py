"""What no answer can cost less than, without solving anything to the end.

``by_landing``      bounds of parts, one relaxation asked for every landing; start here
``relaxation``      a part's linear relaxation, cut by cut
``linear_program``  its rows put to HiGHS: answers and prices in floating point
``weak_duality``    a bound from any prices, exact
``farkas``          that there is no answer, from prices that prove it
``reduced_costs``   what prices say of each jumper: those too dear are left out
``directed_cuts``   the cuts of a relaxation as sets of nodes
``chvatal_rounding``  how many ways must lead into a set, by what it draws
``net``             a circuit's jumpers as arcs, for cuts to be looked for in
``separation``      cuts that a fractional answer breaks, by largest flows
``rows``            the linear rows of a model as arrays
``dominance``       wire sizes that others beat, table by table
"""
