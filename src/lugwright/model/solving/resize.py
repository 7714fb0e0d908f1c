"""The same trees in other wire: thicker where drop or ampacity wants it, thinner where it may be.

Only the sizes of circuits change; jumpers, landings and the way ends share fittings stay. What
each joint then takes is looked up in the same tables, so a resized answer is as exact as the
one it came from. Used where one size serves a whole circuit.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import product

from lugwright.base.identity import JointId
from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.formulation.ask import Answer, GroupKey
from lugwright.model.formulation.costs import wire_micro
from lugwright.model.formulation.objective import Objective, Sums
from lugwright.model.formulation.wire_ends import options_at
from lugwright.model.solving.judge import Judge
from lugwright.problem.schema import Counts, GroupOption, Problem
from lugwright.scenario.console import Stage
from lugwright.trade.names import circuit_of_pigtail, is_boat_group, is_lead, is_pigtail
from lugwright.trade.objective import rank_of_equals
from lugwright.trade.studs import FULL_TURN_DEG, turn_wanted_deg

MOST_VECTORS = 4096


def in_other_wire(
    problem: Problem,
    answer: Answer,
    sizes: SizeSets,
    judge: Judge,
    objective: Objective,
    rank: Callable[[Answer], tuple[int, ...]] | None = None,
) -> Answer | None:
    """The same trees in the sizes that pass the judge at equal cost, the first by rule R28.

    ``rank`` puts something else before that. None where no vector of sizes does (or where there
    are too many to look at).
    """
    if sizes.each_jumper or problem.built:
        return None  # in other wire nothing that is built would be kept
    names = sorted(name for name, choices in sizes.every.items() if choices)
    vectors = list(product(*(sizes.every[name] for name in names)))
    if len(vectors) > MOST_VECTORS:
        return None
    wanted = objective.scalar(answer.sums)
    found = [answer]
    for vector in vectors:
        resized = resize(problem, answer, dict(zip(names, vector, strict=True)))
        if resized is not None and objective.scalar(resized.sums) == wanted:
            found.append(resized)
    found.sort(
        key=lambda each: (rank(each) if rank else (), rank_of_equals(each.sums), each.jumpers)
    )
    return next((each for each in found if not judge.broken(each)), None)


def resize(problem: Problem, answer: Answer, sizes: dict[str, str]) -> Answer | None:
    """An answer's trees in other sizes; None where some joint's ends no longer go together."""
    jumpers = tuple(replace(j, wire_size=sizes.get(j.circuit, j.wire_size)) for j in answer.jumpers)
    extensions = {
        name: size if problem.circuit(name).own_extension else sizes.get(name, size)
        for name, size in answer.extension_sizes.items()
    }
    if any(size not in problem.circuit(name).butts for name, size in extensions.items()):
        return None
    picks: dict[GroupKey, GroupOption] = {}
    for key, option in answer.picks.items():
        found = _same_way(problem, key, option, sizes)
        if found is None:
            return None
        picks[key] = found
    sums = _resum(problem, answer, sizes, picks)
    resized = Answer(answer.landings, jumpers, extensions, picks, sums)
    return resized if _fits(problem, resized) else None


def _same_way(
    problem: Problem, key: GroupKey, option: GroupOption, sizes: dict[str, str]
) -> GroupOption | None:
    """The option that takes the renamed ends in as many lugs on the thinnest tongues."""
    joint, whose = key
    if is_boat_group(whose) or not option.picks:
        return option
    circuit = problem.circuit(circuit_of_pigtail(whose))
    if circuit.name not in sizes:
        return option
    wanted = circuit.choice(sizes[circuit.name]).end_type
    own = {choice.end_type for choice in circuit.choices}
    counts = Counter(wanted if name in own else name for name in ends_in(option))
    options = options_of(problem, joint, tuple(sorted(counts.items())), stage_of(problem, whose))
    ways = [other for other in options if other.fittings == option.fittings]
    return min(
        ways, key=lambda way: (way.tongue_dmm, rank_of_equals(way), way.picks), default=None
    )


def ends_in(option: GroupOption) -> list[str]:
    """The ends in all fittings of an option, each by its type, a lead's own left out."""
    return [
        name for pick in option.picks for half in pick.barrels for name in half if not is_lead(name)
    ]


def stage_of(problem: Problem, whose: str) -> Stage:
    """When the fittings of a group of ends that is no block's are put on their post."""
    supply = problem.circuit(circuit_of_pigtail(whose)).supply
    return supply.stage if supply and is_pigtail(whose) else "bench"


def options_of(
    problem: Problem, joint: JointId, counts: Counts, stage: Stage
) -> tuple[GroupOption, ...]:
    """Ways to take these ends at a joint, as fittings put there at that stage."""
    if stage == "bench":
        return options_at(problem, joint, counts)
    post = problem.console.post(joint)
    if post.kind == "stud":
        return problem.tables.stud(post.thread, counts, stage, post.id)
    return problem.tables.tab(post.tab_size, counts, stage, post.id)


def _resum(
    problem: Problem, answer: Answer, sizes: dict[str, str], picks: dict[GroupKey, GroupOption]
) -> Sums:
    """Money, folds and margin change with the wire and its fittings; wire length, stacks and
    fittings do not."""
    money, folds, margin = answer.sums.money_micro, answer.sums.folds, answer.sums.margin_um2
    for key, option in picks.items():
        money += option.money_micro - answer.picks[key].money_micro
        folds += option.folds - answer.picks[key].folds
        margin += option.margin_um2 - answer.picks[key].margin_um2
    lengths = {
        (c.name, frozenset((e.a, e.b))): e.length_dmm
        for c in problem.circuits
        for e in (*c.edges, *c.take_off)
    }
    for jumper in answer.jumpers:
        circuit = problem.circuit(jumper.circuit)
        length = lengths[jumper.circuit, frozenset((jumper.a, jumper.b))]
        money -= wire_micro(circuit.choice(jumper.wire_size), length, problem.limits)
        new = circuit.choice(sizes.get(jumper.circuit, jumper.wire_size))
        money += wire_micro(new, length, problem.limits)
    for name, size in answer.extension_sizes.items():
        circuit = problem.circuit(name)
        if circuit.own_extension:
            continue
        landing = next(x for x in circuit.landings if x.post == answer.landings[name])
        for sign, each in ((-1, size), (1, sizes.get(name, size))):
            piece = wire_micro(circuit.choice(each), landing.extension_dmm, problem.limits)
            money += sign * (piece + circuit.butts[each].money_micro)
            folds += sign * circuit.butts[each].folds
            margin += sign * circuit.butts[each].margin_um2
    return replace(answer.sums, money_micro=money, folds=folds, margin_um2=margin)


def _fits(problem: Problem, answer: Answer) -> bool:
    """Whether every stud has thread and room for what is now on it (as many lugs as before)."""
    on: dict[JointId, list[GroupOption]] = {}
    for (joint, _), option in answer.picks.items():
        if joint in problem.studs and option.lugs:
            on.setdefault(joint, []).append(option)
    return all(stud_holds(problem, answer, joint, options) for joint, options in on.items())


def stud_holds(
    problem: Problem, answer: Answer, joint: JointId, options: Sequence[GroupOption]
) -> bool:
    """Whether a stud has thread and room for these lugs and what is ready-made on it; their
    number is not judged."""
    stud = problem.studs[joint]
    ready = _ready_made(problem, answer, joint)
    tongues = sum(option.tongue_dmm for option in options) + sum(t for t, _, _ in ready)
    lugs = sum(option.lugs for option in options) + sum(number for _, _, number in ready)
    widest = max([option.angle_deg for option in options] + [angle for _, angle, _ in ready])
    if stud.reserved:
        widest = max(widest, stud.reserved_angle_deg)
    turn_deg = turn_wanted_deg(lugs + stud.reserved, widest)
    return tongues <= stud.thread_dmm and turn_deg <= FULL_TURN_DEG


def _ready_made(problem: Problem, answer: Answer, post: str) -> list[tuple[int, int, int]]:
    """Ready-made rings on a post: (tongues, widest, number)."""
    found = []
    for circuit in problem.circuits:
        supply = circuit.supply
        if supply is None or supply.end_type or answer.landings.get(circuit.name) != post:
            continue
        if circuit.name not in answer.extension_sizes:
            found.append((supply.ready_tongue_dmm, supply.ready_angle_deg, 1))
    for group in problem.boat_groups:
        if group.post == post and group.ready_lugs:
            found.append((group.ready_tongue_dmm, group.ready_angle_deg, group.ready_lugs))
    return found
