"""What bounds say of an ask, and how an ask is solved over few jumpers first."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from lugwright.model.ask import Answer, Solved, Status
from lugwright.model.variables import ArcKey

MOST_KEPT = 0.6  # of all jumpers: beyond that leaving some out is not worth a solve
WIDER = (1.01, 1.05)  # how far above the bound to look where nothing was found on it

Cut = tuple[str, frozenset[str]]
"""A circuit and names of its nodes that at least one way leads into."""


@dataclass(frozen=True)
class Narrow:
    """What a relaxation says of an ask: its ``bound``, and the bound with each jumper in it."""

    bound: int
    with_arc: Mapping[ArcKey, int]
    cuts: tuple[Cut, ...]

    def keeps(self, limit: int) -> frozenset[ArcKey]:
        """The jumpers that an answer of at most ``limit`` may have."""
        return frozenset(key for key, bound in self.with_arc.items() if bound <= limit)


def joined(parts: Sequence[Narrow]) -> Narrow:
    """The same of several parts that are asked for together."""
    bound = sum(part.bound for part in parts)
    with_arc = {
        key: bound - part.bound + value for part in parts for key, value in part.with_arc.items()
    }
    return Narrow(bound, with_arc, tuple(cut for part in parts for cut in part.cuts))


def least(ways: Sequence[Narrow]) -> Narrow:
    """The same of an ask that is answered in one of several ways."""
    with_arc: dict[ArcKey, int] = {}
    for way in ways:
        for key, bound in way.with_arc.items():
            with_arc[key] = min(bound, with_arc.get(key, bound))
    cuts = dict.fromkeys(cut for way in ways for cut in way.cuts)
    return Narrow(min(way.bound for way in ways), with_arc, tuple(cuts))


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
        keep = narrow.keeps(limit)
        if len(keep) > MOST_KEPT * len(narrow.with_arc):
            break
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


def _within(narrow: Narrow, solved: Solved, limit: int | None) -> Solved:
    """What a solve over the jumpers of ``limit`` says of all: beyond them all cost more."""
    if solved.status in (Status.BEST, Status.NONE):
        return solved
    bound = solved.bound if limit is None else min(solved.bound, limit)
    return replace(solved, bound=max(bound, narrow.bound))
