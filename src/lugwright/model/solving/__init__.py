"""One ask at a time, and what is made of its answer.

``solve``     build, solve, cut off what is not joined, solve again
``over_few``  first over the jumpers that bounds leave open, then as far as the answer says
``tie_breaking_lot``  of equal answers the cheapest, then the least lots drawn from names
``judge``     which electrical families an answer breaks, in exact integers
``tree_walk``  currents and drops over an answer's trees
``barrels``   which wire end goes into which barrel
``resize``    the same trees in other wire
"""
