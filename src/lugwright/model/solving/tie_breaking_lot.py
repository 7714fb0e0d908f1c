"""Which of equal answers it is: fewest folds, less money, more margin, then names (rule R28).

The tie-breaking lot of a jumper is a small number made from its name alone, so that neither the
clock nor the number of workers nor the order of the file has a say. The least sum of lots wins.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace

from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Ask, Solved, Status
from lugwright.model.formulation.costs import wire_micro
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.pose import Posed, hint_all, hint_answer, pose
from lugwright.model.formulation.variables import Linear, total
from lugwright.model.solving.solve import run
from lugwright.problem.schema import Problem

LOTS = 1 << 10
TIE_WORK = 8.0  # deterministic work units of the solver for one tie
FOLDED = "folded where the money is least"
TIE_STEP = 1 << 20  # more than the lots of any one plan add up to


def cheapest_equal(
    problem: Problem,
    ask: Ask,
    objective: Objective,
    clock: Clock,
    known: Solved,
    narrow: Narrow | None = None,
) -> Solved:
    """Of the answers that cost as much as ``known`` the first by folds, money, margin and lots.

    ``known`` may hold the answer of a whole plan: what the ask costs is its ``value``.

    Money is brought down first: where nothing is folded with the least of it, no plan has fewer
    folds or less money. Both are then held: all four in one number would be larger than the solver
    reckons with.
    The work put into it is limited by count and not by the clock, so that the same question ends
    the same way every time: ``BEST``, ``NONE`` where there is none as good in these sizes, or
    ``UNKNOWN`` when it was not settled within that. ``extra`` tells the ``FOLDED`` wires where the
    money is least.
    """
    if known.answer is None:
        return Solved(Status.UNKNOWN)
    priced = objective if ask.price_tall else replace(objective, tallest=0)
    value = known.value
    if narrow is None:
        posed = pose(problem, ask, objective)
    else:
        posed = pose(problem, ask, objective, narrow.keeps(value), narrow.cuts)
    posed.model.add(posed.terms.scalar(priced) <= value)
    hint_answer(posed, known.answer)
    posed.solver.parameters.max_deterministic_time = TIE_WORK
    terms = posed.terms
    solved = _least(posed, terms.money, clock)
    folded = {FOLDED: solved.answer.sums.folds} if solved.answer else {}
    if folded.get(FOLDED):
        solved = _least(posed, terms.folds * _more_than_money(posed) + terms.money, clock)
    if solved.answer is None:
        return solved
    posed.model.add(terms.folds == solved.answer.sums.folds)
    posed.model.add(terms.money == solved.answer.sums.money_micro)
    return replace(_least(posed, _last(posed), clock), extra=folded)


def _least(posed: Posed, level: Linear, clock: Clock) -> Solved:
    """The proved least of a level, from which the next solve starts."""
    posed.model.minimize(level)
    solved = run(posed, clock)
    if solved.status is Status.BEST:
        hint_all(posed)
        return solved
    return solved if solved.status is Status.NONE else Solved(Status.UNKNOWN)


def _more_than_money(posed: Posed) -> int:
    """More millionths than what is asked for can cost: a node has one jumper that comes in."""
    v = posed.v
    pieces = {
        circuit.name: max(
            (
                wire_micro(arc.choice, arc.edge.length_dmm, v.problem.limits)
                for arc in v.arcs
                if arc.circuit == circuit.name
            ),
            default=0,
        )
        for circuit in v.circuits
    }
    wire = sum(pieces[circuit.name] * len(circuit.nodes) for circuit in v.circuits)
    crimped = sum(max(option.money_micro for option, _ in picks) for picks in v.picks.values())
    given = sum(need.money_micro for need in v.problem.extensions)
    given += sum(group.money_micro for group in v.problem.boat_groups)
    for source in v.sources:
        supply = v.problem.circuit(source.circuit).supply
        given += supply.ready_money_micro if supply else 0
        if source.extension:
            length = source.landing.extension_dmm
            given += wire_micro(source.extension, length, v.problem.limits)
            given += v.problem.circuit(source.circuit).butts[source.extension.size].money_micro
    return wire + crimped + given + 1


def _last(posed: Posed) -> Linear:
    """The most margin, then the least lots."""
    lots = total(lot(f"{a.circuit} {a.a} {a.b}") * a.use for a in posed.v.arcs)
    options = total(
        lot(f"{key[0]} {key[1]} {option.picks}") * use
        for key, picks in posed.v.picks.items()
        for option, use in picks
    )
    return lots + options - posed.terms.margin * TIE_STEP


def lot(name: str) -> int:
    """A small number drawn from a name: always the same, on every machine."""
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:2], "big") % LOTS
