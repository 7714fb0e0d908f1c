"""Waivers of the scenario: repeated by the plan as they are, and needed by it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.finding import Finding, Report
from lugwright.limits.schema import Limits
from lugwright.limits.waivable import Waiver


def check_waivers(facts: Facts, book: Book) -> None:
    """The plan states every waiver that loosens it, in full, and makes none up."""
    own = {(row.limit, row.place): _told(row) for row in facts.limits.waivers}
    stated = {
        (row.limit, row.place): (row.value, row.reason, row.initials, row.date)
        for row in facts.plan.waivers
    }
    for key in sorted(own.keys() | stated.keys()):
        place = f"{key[0]} at {key[1]}"
        if key not in own:
            book.complain("waiver", place, "the plan waives this, and the scenario does not")
        elif key not in stated:
            book.complain("waiver", place, "the scenario waives this, and the plan does not say so")
        else:
            message = "value, reason, initials and date of the waiver"
            book.same(stated[key], own[key], "waiver", place, message)
    message = "a waiver is stated twice"
    book.expect(len(stated) == len(facts.plan.waivers), "waiver", "waivers", message)


def _told(waiver: Waiver) -> tuple[str, str, str, str]:
    return (waiver.text, waiver.reason, waiver.initials, waiver.date)


Judge = Callable[[Limits], Report]


def needless(limits: Limits, report: Report, judge: Judge) -> Iterator[str]:
    """A note on every waiver without which the plan would stand just as well.

    Each is left out in turn and the plan judged again: it is needed where the plan then breaks a
    limit that it keeps with it.
    """
    kept = set(_broken(report))
    for waiver in limits.waivers:
        others = tuple(one for one in limits.waivers if one != waiver)
        without = judge(replace(limits, waivers=others))
        if not set(_broken(without)) - kept:
            yield f"{waiver}: this plan does not need it ({waiver.origin})"


def _broken(report: Report) -> Iterator[Finding]:
    """Findings of limits that do not hold; a value stated otherwise names no limit."""
    return (finding for finding in report.findings if finding.limit and finding.rule != "waiver")
