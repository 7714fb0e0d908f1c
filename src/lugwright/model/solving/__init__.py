"""One ask at a time, and what is made of its answer.

``solve``     build, solve, cut off what is not joined, solve again
``over_few``  first over the jumpers that bounds leave open, then as far as the answer says
``refit``     an answer's joints in other fittings of equal cost
``tie_breaking_lot``  which of equal answers: folds, money, margin, lots drawn from names
``judge``     which electrical families an answer breaks, in exact integers
``tree_walk``  currents and drops over an answer's trees
``barrels``   which wire end goes into which barrel
``resize``    the same trees in other wire
"""
