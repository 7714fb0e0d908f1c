"""A plan as its sheets show it: what several of them need is made when first asked for, and kept.

Whoever makes sheets makes one of these and hands it to every sheet. What it keeps is shared by
many hands, so none of them may change it.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from lugwright.outputs.build_list import build_list
from lugwright.outputs.digest import text_digest
from lugwright.outputs.plan_json import plan_text
from lugwright.outputs.rows import Rows, rows_of
from lugwright.plans.schema import Plan

if TYPE_CHECKING:
    from lugwright.outputs.drawn import DrawnPlan


class ShownPlan:
    """One plan, which never changes, with its texts, rows and drawings."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    @cached_property
    def text(self) -> str:
        """``plan.json`` as text."""
        return plan_text(self.plan)

    @cached_property
    def digest(self) -> str:
        """The mark by which paper and plan know each other."""
        return text_digest(self.text)

    @cached_property
    def rows(self) -> Rows:
        """Every row of every table."""
        return rows_of(self.plan)

    @cached_property
    def build_list(self) -> str:
        """The build list as text."""
        return build_list(self.plan, self.rows)

    @cached_property
    def drawn(self) -> DrawnPlan:
        """The plan laid out and drawn. Who asks for no drawing loads no library for them."""
        from lugwright.outputs.drawn import DrawnPlan

        return DrawnPlan(self.plan)
