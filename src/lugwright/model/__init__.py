"""The question in CP-SAT words, what bounds it, and the search that ends in a proof.

From the last made to the first needed; each imports only from below it:

``variants``     many questions that share something: families of consoles, frontiers
``choose``       the door: a problem in, an outcome out
``search``       best-first search over hubs: open trials, incumbent, part solver, loop
``solving``      one ask put to the solver; an answer judged, and resized
``bounds``       linear relaxations, directed cuts, weak duality, reduced costs, dominated sizes
``formulation``  an ask as variables and rows: trees, joints, currents, costs
``clock``        when to stop
``solver``       the one door to the solver library
``PROOF``        why the last word is true, as a page (``PROOF.md``)

Words: a *trial* says where the supplies land; its *parts* share nothing but electrical rules and
the landing stud; an *ask* is what is put to the solver in one go; a *family* is a group of
electrical rules posed together, only where an answer broke one of them. Why the last word is
true: ``search.loop``, and ``PROOF.md``.
"""
