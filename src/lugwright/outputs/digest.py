"""A short mark by which paper and plan know each other: printed on every sheet of a plan."""

from __future__ import annotations

import hashlib

from lugwright.outputs.plan_json import plan_text
from lugwright.plans.schema import Plan

SHOWN_DIGITS = 12  # 48 bits: no two plans of one shop will ever share them


def plan_digest(plan: Plan) -> str:
    """The digest of a plan; see ``text_digest``. Sheets take that of their ``ShownPlan``."""
    return text_digest(plan_text(plan))


def text_digest(text: str) -> str:
    """The first 12 hex digits of the SHA-256 of ``plan.json``, given as its text.

    Two sheets with the same digest are made from the same plan, whatever their titles say; it
    can be looked up again with any program that takes the SHA-256 of a file.
    """
    return hashlib.sha256(text.encode()).hexdigest()[:SHOWN_DIGITS]
