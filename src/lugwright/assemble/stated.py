"""What a plan states of what it was made from: the limits in force, and digests."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from lugwright.limits.explain import limit_rows
from lugwright.limits.schema import Limits
from lugwright.plans.schema import LimitUsed
from lugwright.scenario.brief import Brief

IN_FORCE = "limits in force"


def limits_used(limits: Limits) -> tuple[LimitUsed, ...]:
    """Every limit in force with where it was set, as a plan states it."""
    return tuple(
        LimitUsed(name=row.name, value=row.value, origin=row.on_paper, source=row.source)
        for row in limit_rows(limits)
    )


def limits_digest(rows: Iterable[LimitUsed]) -> str:
    """SHA-256 over every limit in force, by name and value, wherever it was set."""
    text = "\n".join(f"{row.name} = {row.value}" for row in rows)
    return hashlib.sha256(text.encode()).hexdigest()


def stated_digests(brief: Brief, used: Iterable[LimitUsed]) -> dict[str, str]:
    """The digests of all that a plan is made from, by name; ``used`` are the limits in force."""
    return dict(sorted({**brief.digests, IN_FORCE: limits_digest(used)}.items()))
