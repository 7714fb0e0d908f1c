"""Fittings by where they sit: which go there, and how many wire ends they may hold there."""

from __future__ import annotations

from typing import Literal

from lugwright.limits.schema import Limits
from lugwright.stock.schema import STUD_KINDS, FittingType

Where = Literal["post", "mid-air", "join"]
"""On a post, at a lead or splice, or between a given wire and its extension."""

WIRES_ON_A_TAB = 2  # a push-on (common practice, no source)
WIRES_AT_A_SPLICE = 3  # at least: two ends are no splice, rule R9


def goes_on_stud(fitting: FittingType, thread: str, limits: Limits) -> bool:
    """Whether a fitting may go on a stud of that thread. Rule R21."""
    kind = fitting.kind
    return kind in STUD_KINDS and kind in limits.stud_kinds and thread in fitting.stud_threads


def goes_on_tab(fitting: FittingType, tab_size: str) -> bool:
    """Whether a fitting goes on a tab of that size. Rule R24."""
    return fitting.kind == "push-on" and fitting.tab_size == tab_size


def most_in_barrel(where: Where, limits: Limits, post: str = "") -> int:
    """The most wires in one barrel, a lone wire folded back counted twice.

    On a post the limit there, at a join the limit; in mid-air only all halves together count.
    """
    return limits.wires_per_splice if where == "mid-air" else limits.at("wires_per_barrel", post)


def most_on_tab(limits: Limits, post: str) -> int:
    """The most wire ends in a push-on on a tab. Rule R24."""
    return min(WIRES_ON_A_TAB, limits.at("wires_per_barrel", post))


def most_on_lead(limits: Limits) -> int:
    """The most wire ends that may be joined to a lead, which counts as one itself. Rule R31."""
    return limits.wires_per_splice - 1
