"""The same answer in other fittings of equal cost: fewest folds, less money, more margin.

Joint by joint, from the tables: jumpers, landings, sizes, and which ends meet stay, and so does the
number of lugs. So a plan is fitted out as rule R28 says even where the search had no time to tell
equal plans apart, or where the first of them breaks a rule of currents.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import product
from math import prod

from lugwright.base.identity import JointId
from lugwright.model.formulation.ask import Answer, GroupKey
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import ends_in, options_of, stage_of, stud_holds
from lugwright.problem.schema import GroupOption, Problem
from lugwright.trade.names import boat_group, is_boat_group
from lugwright.trade.objective import counts_money, rank_of_equals

MOST_TRIED = 4096  # ways to fit out one stud that are looked at; beyond that it stays as it is

Fitted = dict[GroupKey, GroupOption]


def refitted(problem: Problem, judge: Judge, answer: Answer) -> Answer:
    """The answer with every joint fitted out as rule R28 says, and its sums.

    A joint whose other fittings break a rule of currents stays as it was.
    """
    joints: dict[JointId, Fitted] = {}
    for key, option in sorted(answer.picks.items(), key=lambda pick: pick[0]):
        if option.picks:
            joints.setdefault(key[0], {})[key] = option
    firsts = [_first(problem, answer, joint, now) for joint, now in joints.items()]
    better = [found for found in firsts if found]
    if not better:
        return answer
    changed = _with(answer, [each for found in better for each in found.items()])
    if not judge.broken(changed):
        return changed
    for found in better:
        changed = _with(answer, list(found.items()))
        if not judge.broken(changed):
            answer = changed
    return answer


def _with(answer: Answer, changes: Sequence[tuple[GroupKey, GroupOption]]) -> Answer:
    """An answer with other options at some joints, summed up again."""
    sums = answer.sums
    for key, new in changes:
        old = answer.picks[key]
        sums = replace(
            sums,
            money_micro=sums.money_micro + new.money_micro - old.money_micro,
            folds=sums.folds + new.folds - old.folds,
            margin_um2=sums.margin_um2 + new.margin_um2 - old.margin_um2,
        )
    return replace(answer, picks={**answer.picks, **dict(changes)}, sums=sums)


def _first(problem: Problem, answer: Answer, joint: JointId, now: Fitted) -> Fitted | None:
    """The first way to fit out a joint; None where that is the way it is."""
    keys = list(now)
    choices = [_alike(problem, key, now[key]) for key in keys]
    if prod(len(options) for options in choices) > MOST_TRIED:
        return None
    best: Sequence[GroupOption] = tuple(now.values())
    for options in product(*choices):
        if _rank(options) >= _rank(best):
            continue
        if joint not in problem.studs or stud_holds(problem, answer, joint, options):
            best = options
    found = dict(zip(keys, best, strict=True))
    return found if found != now else None


def _alike(problem: Problem, key: GroupKey, option: GroupOption) -> list[GroupOption]:
    """Options for the same ends that cost the objective the same; the one there is among them."""
    joint, whose = key
    if is_boat_group(whose):
        groups = problem.boat_groups
        block = next(g for g in groups if g.post == joint and boat_group(g.boat_block) == whose)
        offered = block.options
    else:
        counts = tuple(sorted(Counter(ends_in(option)).items()))
        offered = options_of(problem, joint, counts, stage_of(problem, whose))
    money = counts_money(problem.limits)
    return [option] + [
        other
        for other in offered
        if (other.lugs, other.fittings) == (option.lugs, option.fittings)
        and other.picks != option.picks
        and (not money or other.money_micro == option.money_micro)
    ]


def _rank(options: Sequence[GroupOption]) -> tuple[int, ...]:
    ranks = [rank_of_equals(option) for option in options]
    return tuple(sum(each) for each in zip(*ranks, strict=True))
