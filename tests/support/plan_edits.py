"""Small edits of a plan, for planting one fault at a time."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import Any

from support.wired_by_hand import (
    STEPS,
    hand_console,
    hand_limits,
    hand_plan,
    hand_stock,
    proved,
    steps,
)

from lugwright.assemble.panel import panel_of
from lugwright.checker.finding import Report
from lugwright.checker.run import UNJUDGED, check_plan
from lugwright.limits.schema import Limits
from lugwright.plans.record import Record
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock


def judge(
    plan: Plan | None = None,
    *,
    console: Console | None = None,
    limits: Limits | None = None,
    stock: Stock | None = None,
) -> Report:
    """The report on a plan, by default that of the correct hand plan.

    The plan repeats the panel of the console it is judged by, and where that is another, its tests.
    """
    console, limits = console or hand_console(), limits or hand_limits()
    plan = plan or hand_plan()
    brief = Brief(console, limits, stock or hand_stock())
    own = panel_of(brief)
    if own != plan.panel:
        plan = plan.model_copy(update={"panel": own})
        with suppress(*UNJUDGED):  # a plan may be too broken for any tests
            plan = proved(plan)
    return check_plan(brief, plan)


def rules(report: Report) -> set[str]:
    """The names of the rules that were broken."""
    return {finding.rule for finding in report.findings}


def of(name: str) -> Any:
    """A test for the label, number or post of a record."""
    return lambda row: name in (
        getattr(row, "label", None), getattr(row, "post", None), getattr(row, "wire", None),
        getattr(row, "load", None), getattr(row, "item", None), getattr(row, "pigtail", None),
        getattr(row, "circuit", None) if not hasattr(row, "label") else None,
    )  # fmt: skip


def crimp(number: int) -> Any:
    """A test for a crimp's number."""
    return lambda row: row.number == number


def edit(plan: Plan, part: str, which: Callable[[Any], bool], **changes: Any) -> Plan:
    """The plan with the fields of the matching records of one list changed."""
    rows: tuple[Record, ...] = getattr(plan, part)
    changed = tuple(row.model_copy(update=changes) if which(row) else row for row in rows)
    if changed == rows:
        raise AssertionError(f"nothing was changed in {part}")
    return plan.model_copy(update={part: changed})


def without(plan: Plan, part: str, which: Callable[[Any], bool]) -> Plan:
    """The plan without the matching records of one list."""
    rows: tuple[Record, ...] = getattr(plan, part)
    kept = tuple(row for row in rows if not which(row))
    if len(kept) == len(rows):
        raise AssertionError(f"nothing was taken out of {part}")
    return plan.model_copy(update={part: kept})


def with_steps(rows: list[tuple[str, str, str, tuple[str, ...]]]) -> Plan:
    """The hand plan with other steps."""
    return proved(hand_plan().model_copy(update={"steps": steps(rows)}))


def step_rows() -> list[tuple[str, str, str, tuple[str, ...]]]:
    """The steps of the hand plan, to be shuffled."""
    return list(STEPS)
