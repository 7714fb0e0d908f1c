"""Cutting stock: jumpers of a run cut from spools and offcuts.

``question``        the pieces wanted, the lengths there are, and what an answer is
``kerf_and_scrap``  what a cut takes (no kerf), and what of a rest is scrap
``bounds``          plain bounds of bin packing; an answer set beside them
``first_answer``    fill one length after the other: good, not proved
``model``           the best answer in CP-SAT, by patterns or length by length; start here
"""
