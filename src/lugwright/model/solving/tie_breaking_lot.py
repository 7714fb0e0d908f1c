"""Which of equal answers it is: the least money, then the least sum of lots drawn from names.

The tie-breaking lot of a jumper is a small number made from its name alone, so that neither the
clock nor the number of workers nor the order of the file has a say.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace

from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Solved, Status
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.pose import Posed, hint_answer, pose
from lugwright.model.formulation.variables import Linear, total
from lugwright.model.solving.solve import run
from lugwright.problem.schema import Problem

LOTS = 1 << 10
TIE_WORK = 8.0  # deterministic work units of the solver for one tie
TIE_STEP = 1 << 20  # more than the lots of any one plan add up to


def cheapest_equal(
    problem: Problem,
    ask: Ask,
    objective: Objective,
    clock: Clock,
    known: Solved,
    narrow: Narrow | None = None,
) -> Answer | None:
    """Of the answers as good as ``known`` the one with the least money, then the least lots.

    The work put into it is limited by count and not by the clock, so that the same question ends
    the same way every time. None when it was not settled within that.
    """
    if known.answer is None:
        return None
    priced = objective if ask.price_tall else replace(objective, tallest=0)
    value = known.value if ask.families else priced.scalar(known.answer.sums)
    if narrow is None:
        posed = pose(problem, ask, objective)
    else:
        posed = pose(problem, ask, objective, narrow.keeps(value), narrow.cuts)
    posed.model.add(posed.terms.scalar(priced) <= value)
    posed.model.minimize(_tie_cost(posed))
    hint_answer(posed, known.answer)
    posed.solver.parameters.max_deterministic_time = TIE_WORK
    solved = run(posed, clock)
    return solved.answer if solved.status is Status.BEST else None


def _tie_cost(posed: Posed) -> Linear:
    lots = total(lot(f"{a.circuit} {a.a} {a.b}") * a.use for a in posed.v.arcs)
    options = total(
        lot(f"{key[0]} {key[1]} {option.picks}") * use
        for key, picks in posed.v.picks.items()
        for option, use in picks
    )
    return posed.terms.money * TIE_STEP + lots + options


def lot(name: str) -> int:
    """A small number drawn from a name: always the same, on every machine."""
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:2], "big") % LOTS
