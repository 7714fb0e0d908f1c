"""The fewest things that cannot hold together.

The deletion filter of Chinneck and Dravnieks (ORSA Journal on Computing 3 (1991) 157-168,
recalled from memory), by halves instead of one at a time: whatever can go without ending the
conflict goes, a whole half at once where it can. What is kept has been tried: without it the
conflict ends.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lugwright.studies.question import Verdict


@dataclass(frozen=True)
class Thinned:
    """What is left, in order, and which of it stayed only because no answer came in time."""

    kept: tuple[str, ...]
    undecided: tuple[str, ...]


def thinned(names: Sequence[str], still: Callable[[frozenset[str]], bool | None]) -> Thinned:
    """A least part of ``names`` for which ``still`` holds; it holds for the whole.

    ``still`` says whether what matters holds for some of them (None: no answer in time), and
    holds for every larger part where it holds for one. Of two that could stand in for each
    other the later one stays.
    """
    kept = list(names)
    undecided: list[str] = []

    def thin(part: Sequence[str]) -> None:
        holds = still(frozenset(kept) - frozenset(part)) if part else False
        if holds:
            kept[:] = [name for name in kept if name not in part]
        elif len(part) > 1:
            half = len(part) // 2
            thin(part[:half])
            thin(part[half:])
        elif part and holds is None:
            undecided.append(part[0])

    half = len(names) // 2
    thin(list(names[:half]))
    thin(list(names[half:]))
    return Thinned(tuple(kept), tuple(undecided))


def conflict_persists(verdict: Verdict) -> bool | None:
    """Whether a probe says that no plan exists; None where it does not know."""
    return None if verdict is Verdict.UNDECIDED else verdict is Verdict.IMPOSSIBLE


def plan_persists(verdict: Verdict) -> bool | None:
    """Whether a probe says that a plan exists; None where it does not know."""
    return None if verdict is Verdict.UNDECIDED else verdict is Verdict.POSSIBLE
