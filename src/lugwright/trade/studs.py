"""Room on a stud: what is counted there, and barrels that want their share of a full turn."""

from __future__ import annotations

from lugwright.limits.schema import Limits

FULL_TURN_DEG = 360


def counts_conductors(limits: Limits) -> bool:
    """Whether the wires on a stud are counted, in place of its lugs. Rule R23."""
    return limits.stud_count == "conductors"


def lugs_round(widest_deg: int, most: int) -> int:
    """How many lugs find room round a stud when each wants as much as the widest; at most that.

    Rule R23.

    >>> lugs_round(60, 10), lugs_round(0, 10)
    (6, 10)
    """
    return min(most, FULL_TURN_DEG // widest_deg) if widest_deg else most


def turn_wanted_deg(lugs: int, widest_deg: int) -> int:
    """The turn that so many lugs want round a stud, each as much as the widest. Rule R23."""
    return lugs * widest_deg
