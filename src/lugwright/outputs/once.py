"""What several sheets of one plan need is made once: that of the last plan is kept.

A plan is known by identity, not by value: comparing two plans would cost more than most of what
is kept here, and a plan never changes. What is kept is shared by many hands, so it must not be
changed by any.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from lugwright.plans.schema import Plan

Made = TypeVar("Made")


def once_a_plan(make: Callable[[Plan], Made]) -> Callable[[Plan], Made]:
    """``make``, which for the plan it was last asked about gives what it has made already."""
    last: list[tuple[Plan, Made]] = []

    @wraps(make)
    def kept(plan: Plan) -> Made:
        # one pair, read and put as a whole: two threads may both make it, never mix it up
        for known, made in last[:1]:
            if known is plan:
                return made
        made = make(plan)
        last[:] = [(plan, made)]
        return made

    return kept
