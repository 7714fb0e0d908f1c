"""A short mark by which paper and plan know each other: printed on every sheet of a plan."""

from __future__ import annotations

import hashlib

from lugwright.outputs.once import once_a_plan
from lugwright.outputs.plan_json import plan_text
from lugwright.plans.schema import Plan

SHOWN_DIGITS = 12  # 48 bits: no two plans of one shop will ever share them


@once_a_plan
def plan_digest(plan: Plan) -> str:
    """The first 12 hex digits of the SHA-256 of the plan as ``plan.json`` has it.

    Two sheets with the same digest are made from the same plan, whatever their titles say; it
    can be looked up again with any program that takes the SHA-256 of a file.
    """
    return hashlib.sha256(plan_text(plan).encode()).hexdigest()[:SHOWN_DIGITS]
