"""A trial under search, a best plan, and what a search ends with."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.model.formulation.ask import Answer
from lugwright.model.formulation.trials import Trial


@dataclass
class Candidate:
    """A trial under search: its bound so far, and its answer once it has one.

    ``rough``: the bound is one that cost little, and a better one may be had. ``step``: how
    often it was asked with families posed, over more jumpers each time.
    """

    trial: Trial
    bound: int
    settled: bool = False
    families: frozenset[str] = frozenset()
    answer: Answer | None = None
    unfinished: bool = False
    rough: bool = False
    step: int = 0


@dataclass(frozen=True)
class Best:
    """A best plan so far, and the families that had to be minded to get it."""

    answer: Answer
    value: int
    trial: Trial
    families: frozenset[str]


@dataclass(frozen=True)
class Found:
    """What a search ends with. ``bound`` is folded; ``ended`` False: time ran out.

    ``disagreed``: two solves differed on whether some part has an answer; nothing is claimed.
    """

    best: Best | None
    bound: int
    ended: bool
    disagreed: bool = False
    equal_open: bool = False
