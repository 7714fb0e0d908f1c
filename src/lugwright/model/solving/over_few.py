"""An ask solved over few jumpers first: those that its bounds leave open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.formulation.ask import Answer, Solved, Status
from lugwright.model.formulation.variables import ArcKey

MOST_KEPT = 0.6  # of all jumpers: beyond that leaving some out is not worth a solve
WIDER = (1.01, 1.05)  # how far above the bound to look where nothing was found on it
STEPS = (1.0, 1.005, 1.02, 1.05, 1.1)  # the same, where trials are looked at in turns

Solve = Callable[[frozenset[ArcKey] | None, Answer | None], Solved]
"""Solves over the jumpers given (None: over all), with an answer known to be one."""


def solve_narrow(narrow: Narrow, solve: Solve) -> Solved:
    """The proved best answer, found over few jumpers where the bounds allow it.

    Over the jumpers that an answer of at most ``limit`` may have, the best answer is the best of
    all if it costs at most ``limit``. If it costs more, it says how far to look at most. "None"
    is said only when all jumpers were looked at.
    """
    seen: frozenset[ArcKey] | None = None
    for limit in (narrow.bound, *(int(narrow.bound * factor) for factor in WIDER)):
        if narrow.share(limit) > MOST_KEPT:
            break
        keep = narrow.keeps(limit)
        if keep == seen:
            continue
        seen = keep
        solved = solve(keep, None)
        if solved.status is Status.NONE:
            continue
        if solved.status is Status.BEST and solved.value > limit:
            wider = narrow.keeps(solved.value)
            if wider != keep:
                return _within(narrow, solve(wider, solved.answer), solved.value)
            return solved
        return _within(narrow, solved, limit)
    return _within(narrow, solve(None, None), None)


def solve_step(narrow: Narrow, solve: Solve, step: int) -> Solved:
    """One look for an answer, at each step over more jumpers; over all of them in the end.

    Where no answer costs as little as the step goes, the bound is raised above that.
    """
    limit = int(narrow.bound * STEPS[min(step, len(STEPS) - 1)])
    if step >= len(STEPS) or narrow.share(limit) > MOST_KEPT:
        return _within(narrow, solve(None, None), None)
    solved = solve(narrow.keeps(limit), None)
    if solved.status is Status.NONE:
        return Solved(Status.UNKNOWN, bound=limit + 1)
    if solved.status is Status.BEST and solved.value > limit:
        return replace(solved, status=Status.SOME, bound=limit + 1)
    return _within(narrow, solved, limit)


def solve_within(narrow: Narrow, solve: Solve, limit: int) -> Solved | None:
    """The proved best answer if one costs at most ``limit``; None where none does.

    What comes back unproved holds a bound of all answers.
    """
    if narrow.bound > limit:
        return None
    solved = solve(narrow.keeps(limit), None)
    if solved.status is Status.NONE or solved.bound > limit:
        return None
    return _within(narrow, solved, limit)


def _within(narrow: Narrow, solved: Solved, limit: int | None) -> Solved:
    """What a solve over the jumpers of ``limit`` says of all: beyond them all cost more."""
    if solved.status in (Status.BEST, Status.NONE):
        return solved
    bound = solved.bound if limit is None else min(solved.bound, limit)
    return replace(solved, bound=max(bound, narrow.bound))
