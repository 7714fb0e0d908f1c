"""What ``lugwright check`` accepts and answers."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lugwright import pipeline
from lugwright.checker.finding import Report
from lugwright.outputs.plan_json import PLAN_FILE, write_plan
from lugwright.outputs.words import one_line
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief


def accepted(
    brief: Brief, plan: Plan, file: Path, report: Report, notes: tuple[str, ...]
) -> tuple[Report, tuple[str, ...]]:
    """An edited plan that is right in all else, written anew in its place; what was found of it."""
    found = pipeline.accepted(brief, plan, report)
    if found is None or not found[1].passed:
        return report, notes
    write_plan(found[0], file / PLAN_FILE if file.is_dir() else file)
    return found[1], (*notes, "edited by hand: sealed again, with no claim to be proved best")


def as_data(file: Path, report: Report, notes: tuple[str, ...]) -> dict[str, Any]:
    """One verdict as data."""
    return {
        "file": file.as_posix(),
        "passed": report.passed,
        "checks": report.checks,
        "findings": [vars(finding) for finding in report.findings],
        "notes": list(notes),
    }


def as_lines(file: Path, report: Report, notes: tuple[str, ...]) -> list[str]:
    """One verdict as lines."""
    checks = f"{report.checks} check{'s' if report.checks != 1 else ''}"
    if report.passed:
        head = f"passed, {checks}"
    else:
        count = len(report.findings)
        head = f"rejected, {count} finding{'s' if count != 1 else ''} in {checks}"
    return [
        f"{one_line(str(file))}: {head}",
        *(f"  note: {one_line(note)}" for note in notes),
        *(f"  {one_line(str(finding))}" for finding in report.findings),
    ]
