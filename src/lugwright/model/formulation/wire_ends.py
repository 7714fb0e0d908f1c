"""How many wire ends can meet at a joint, and the ways there are to take them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product

from lugwright.base.identity import JointId
from lugwright.problem.groups import lead_type
from lugwright.problem.schema import CircuitQuestion, Counts, GroupOption, Problem, Stud
from lugwright.scenario.console import Stage
from lugwright.trade.fittings import most_on_lead, most_on_tab
from lugwright.trade.studs import FULL_TURN_DEG, counts_conductors, lugs_round


def options_at(
    problem: Problem, joint: JointId, counts: Counts, stage: Stage = "bench"
) -> tuple[GroupOption, ...]:
    """Ways to take these ends at a joint: bench ends, unless it is said that they come aboard."""
    tables = problem.tables
    kind = problem.post_kind.get(joint, "splice")
    if kind == "splice":
        return tables.splice(counts)
    post = problem.console.post(joint)
    if kind == "stud":
        return tables.stud(post.thread, counts, stage, post.id)
    if kind == "tab":
        return tables.tab(post.tab_size, counts, stage, post.id)
    if post.lead is None:
        return ()
    return tables.lead(lead_type(joint, post.lead.area_um2, post.lead.insulation_um), counts)


def end_counts(
    problem: Problem,
    circuit: CircuitQuestion,
    joint: JointId,
    jumpers: Sequence[str],
    singles: Sequence[str],
) -> Iterable[Counts]:
    """Every multiset of a circuit's ends that could meet at a joint, those of loads among them."""
    every = possible(jumpers, singles, most_ends(problem, circuit, joint))
    there = tuple((end.end_type, 1) for end in problem.bench_ends_at(circuit.name, joint))
    if not there:
        return every
    return [tuple(sorted((*there, *counts))) for counts in ((), *every)]


def most_ends(problem: Problem, circuit: CircuitQuestion, joint: JointId) -> int:
    """More ends than this cannot come to a joint: by its room, and by how many nodes there are.

    From a root goes its one first jumper, where it has one.
    """
    room = room_for_ends(problem, joint) - len(problem.bench_ends_at(circuit.name, joint))
    if joint == circuit.root and circuit.has_first_jumper:
        return min(1, room)
    return min(room, len(circuit.nodes))


def room_for_ends(problem: Problem, joint: JointId) -> int:
    """More wire ends than this have no room at a joint, whatever it is crimped with."""
    kind = problem.post_kind.get(joint, "splice")
    if kind == "stud":
        return _ends_on_a_stud(problem, problem.studs[joint])
    if kind == "tab":
        return most_on_tab(problem.limits, joint)
    return most_on_lead(problem.limits) if kind == "lead" else problem.limits.wires_per_splice


def _ends_on_a_stud(problem: Problem, stud: Stud) -> int:
    """Ends that find room in number, thread and all round, were every lug the smallest there is.

    Where the number is no limit, thread and room still are: without them a stud would have ways
    beyond number that can never be.
    """
    tongue_dmm, angle_deg = problem.tables.least_lug(problem.console.post(stud.post).thread)
    lugs = stud.places
    if tongue_dmm:
        lugs = min(lugs, max(0, stud.thread_dmm) // tongue_dmm)
    if angle_deg:
        lugs = min(lugs, max(0, lugs_round(angle_deg, FULL_TURN_DEG) - stud.reserved))
    ends = lugs * problem.tables.most_at(stud.post)
    counted = counts_conductors(problem.limits)
    return min(ends, max(0, stud.places - stud.reserved)) if counted else ends


def possible(jumpers: Sequence[str], singles: Sequence[str], most: int) -> Iterable[Counts]:
    """Every multiset of at most ``most`` jumper ends and at most one of each single end."""
    for alone in product(range(2), repeat=len(singles)):
        for numbers in _at_most(len(jumpers), most - sum(alone)):
            if sum(alone) + sum(numbers):
                pairs = zip((*singles, *jumpers), (*alone, *numbers), strict=True)
                yield tuple(sorted((name, number) for name, number in pairs if number))


def _at_most(kinds: int, most: int) -> Iterable[tuple[int, ...]]:
    """Every tuple of ``kinds`` numbers that add up to at most ``most``."""
    if kinds == 0:
        if most >= 0:
            yield ()
        return
    for first in range(most + 1):
        for rest in _at_most(kinds - 1, most - first):
            yield (first, *rest)
