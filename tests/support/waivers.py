"""A waiver for tests that are not about reading one."""

from __future__ import annotations

from lugwright.base.origin import Origin
from lugwright.limits.spec import SizeValue
from lugwright.limits.waivable import Waiver


def waived(limit: str, place: str, number: int, reason: str = "tried out") -> Waiver:
    """One limit loosened at one place, to a value in the limit's own integer."""
    value = SizeValue("18 AWG", number) if limit == "minimum_size" else number
    origin = Origin("scenario", "skiff.toml", 40)
    return Waiver(limit, place, value, reason, "AB", "2026-01-31", origin)
