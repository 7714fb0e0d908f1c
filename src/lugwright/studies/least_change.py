"""The first step of a ladder that is enough, each step tried by a solve."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from lugwright.studies.question import Verdict


@dataclass(frozen=True)
class Least:
    """The first step that is enough, by its place in the ladder; None where none is known.

    ``least``: the step before it (or, where steps do not climb, every one before it) is known
    not to be enough; the value as it stands counts as the step before the first. ``unknown``:
    some step got no answer in time.
    """

    index: int | None
    least: bool
    unknown: bool


def least_step(count: int, verdict: Callable[[int], Verdict], *, climbs: bool) -> Least:
    """The first of ``count`` steps for which a plan exists.

    ``climbs``: whatever a step allows the next one allows too, so that strides and halving do;
    otherwise every step is tried in turn. The present value is known not to be enough.
    """
    return _by_halving(count, verdict) if climbs else _in_turn(count, verdict)


def _in_turn(count: int, verdict: Callable[[int], Verdict]) -> Least:
    unknown = False
    for index in range(count):
        found = verdict(index)
        if found is Verdict.POSSIBLE:
            return Least(index, not unknown, unknown)
        unknown = unknown or found is Verdict.UNDECIDED
    return Least(None, False, unknown)


def _by_halving(count: int, verdict: Callable[[int], Verdict]) -> Least:
    """Strides that double until a plan exists, then halves between the last two."""
    below, stride, above = -1, 1, None
    while above is None:
        index = min(below + stride, count - 1)
        if index <= below:
            return Least(None, False, unknown=False)
        found = verdict(index)
        if found is Verdict.UNDECIDED:
            return Least(None, False, unknown=True)
        if found is Verdict.POSSIBLE:
            above = index
        else:
            below, stride = index, stride * 2
    while above - below > 1:
        middle = (above + below) // 2
        found = verdict(middle)
        if found is Verdict.UNDECIDED:
            return Least(above, False, unknown=True)
        above, below = (middle, below) if found is Verdict.POSSIBLE else (above, middle)
    return Least(above, True, unknown=False)
