"""Lengths a person wrote down for a panel that stands, beside what its wires have to span.

A wire shorter than its path cannot lie where it is said to lie: the length or the post is wrong.
One that spans its path without the slack asked for pulls at its lugs: it is told as strain.
"""

from __future__ import annotations

from collections.abc import Mapping

from lugwright.base.scale import mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import JOIN, Facts
from lugwright.checker.finding import Report
from lugwright.checker.reach import given_run
from lugwright.plans.schema import Jumper, Plan
from lugwright.scenario.brief import Brief


def check_written(brief: Brief, plan: Plan, lengths_dmm: Mapping[str, int]) -> Report:
    """Judge written lengths (0.1 mm, by a wire's label) of a plan made from a jumper list.

    Findings: wires shorter than their path. Notes: wires under strain, and every other length
    that is not the one routes and allowances come to.
    """
    facts, book = Facts(brief, plan), Book()
    notes = []
    for label, written in lengths_dmm.items():
        jumper = facts.jumpers.get(label)
        if jumper is None or jumper.length_dmm == written:
            continue
        least, easy = _spans(facts, jumper)
        where = f"{jumper.from_joint} and {jumper.to_joint}"
        spans = book.expect(
            written >= least, "cut length", label,
            f"is written shorter than its path between {where}: measure it again, or it ends "
            "elsewhere",
            f"{mm_text(written)} mm", f"{mm_text(least)} mm", "its path",
        )  # fmt: skip
        if spans:
            notes.append(_note(jumper, written, easy))
    report = book.report()
    return Report(report.findings, report.checks, tuple(notes))


def _spans(facts: Facts, jumper: Jumper) -> tuple[int, int]:
    """The least a piece must be to span its path, and to do so with slack, 0.1 mm.

    A pigtail's extension spans what the pigtail's reach leaves open; with slack also the panel's
    travel, drip loop and re-terminations.
    """
    limits = facts.limits
    if jumper.role == "jumper":
        path = jumper.path_dmm
        return path, -(-path * (1000 + limits.slack_permille) // 1000)
    wire = facts.panel_wires.get(jumper.from_joint.removeprefix(JOIN))
    run = given_run(facts, wire) if wire else None
    if wire is None or run is None:
        return 0, 0
    spare = facts.console.service_travel_dmm
    spare += limits.drip_loop_dmm + 2 * limits.re_termination_dmm
    short = run.path_dmm - wire.reach_dmm
    return max(0, short), max(0, short + spare)


def _note(jumper: Jumper, written: int, easy: int) -> str:
    """How a length that spans its path differs from what would be cut."""
    if written < easy:
        return (
            f"{jumper.label} is under strain: written as {mm_text(written)} mm, its path with "
            f"slack is {mm_text(easy)} mm ({mm_text(jumper.length_dmm)} mm would be cut)"
        )
    longer = "longer" if written > jumper.length_dmm else "shorter"
    difference = mm_text(abs(written - jumper.length_dmm))
    return (
        f"{jumper.label} is written as {mm_text(written)} mm: {difference} mm {longer} "
        f"than its route and allowances come to ({mm_text(jumper.length_dmm)} mm)"
    )
