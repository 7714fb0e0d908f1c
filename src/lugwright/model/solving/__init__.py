"""One ask at a time, and what is made of its answer.

``solve``     build, solve, cut off what is not joined, solve again; the cheapest of equals
``over_few``  first over the jumpers that bounds leave open, then as far as the answer says
``judge``     which electrical families an answer breaks, in exact integers
``tree_walk``  currents and drops over an answer's trees
``barrels``   which wire end goes into which barrel
``resize``    the same trees in other wire
"""
