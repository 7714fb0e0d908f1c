"""What a case says beyond its console: metal across instruments, grounds joined aboard,
leads whose free end is chosen.

Each is as a file states it, in the integers of the console.
"""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.scenario.console import Pigtail


@dataclass(frozen=True)
class Strap:
    """One metal across studs of several instruments, a ready-made lug on each stud.

    ``carries_ma`` 0: no limit stated.
    """

    posts: tuple[str, ...]
    thickness_dmm: int
    contact_uohm: int = 0
    carries_ma: int = 0


@dataclass(frozen=True)
class FreeLead:
    """A lead with a length: its post's ``at`` is its exit, its end is chosen."""

    post: str
    length_dmm: int


@dataclass(frozen=True)
class Statements:
    """Everything that a case says beyond its console.

    ``joined_aboard`` are further ground pigtails of a circuit that has one, each of another
    harness: the negatives are joined aboard.
    """

    straps: tuple[Strap, ...] = ()
    joined_aboard: tuple[Pigtail, ...] = ()
    free_leads: tuple[FreeLead, ...] = ()


NONE = Statements()
