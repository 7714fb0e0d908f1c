"""Wires that would carry current round a key, fuse, breaker, switch or dimmer: each is found.

The plans are of consoles with devices, invented; what is planted is in ``support.bridged``. Rule
R32: what a switch or fuse guards is fed through it alone (33 CFR 183.455 for fuses and breakers at
the source; that no other path may exist is common practice, no source).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from support.bridged import FAULTS
from support.plans import SCENARIOS
from support.shared import shared

from lugwright.checker.book import Book
from lugwright.checker.bypass import check_bypass
from lugwright.checker.facts import Facts
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

MADE = Path(__file__).parents[1] / "scenario" / "consoles"
WITH_WAYS = sorted(
    file
    for file in (*SCENARIOS.glob("*.toml"), *MADE.glob("*.toml"))
    if "supplied_by" in file.read_text(encoding="utf-8") and file.stem != "twin-outboard"
)
"""Two harnesses have tests of their own: ``test_planted_harnesses``."""
# No pigtail is capped off there, or no holder is empty.
NOT_EVERYWHERE = {"capped", "empty holders"}


@cache
def planned(file: Path) -> tuple[Brief, Plan]:
    """A console and its plan."""
    brief = read_inputs(file)
    run = shared(f"plan of {file}", lambda: make_plan(brief))
    assert run.plan is not None
    return brief, run.plan


def found(brief: Brief, plan: Plan) -> list[str]:
    """What the proof alone finds."""
    book = Book()
    check_bypass(Facts(brief, plan), book)
    return [str(finding) for finding in book.report().findings]


@pytest.mark.parametrize("file", WITH_WAYS, ids=lambda file: file.stem)
def test_sound_plans_pass(file: Path) -> None:
    """Every console with devices is planned, and no check finds anything."""
    report = check_plan(*planned(file))
    assert [str(finding) for finding in report.findings] == []


@pytest.mark.parametrize("kind", FAULTS)
@pytest.mark.parametrize("file", WITH_WAYS, ids=lambda file: file.stem)
def test_every_planted_fault_is_found(file: Path, kind: str) -> None:
    """Each fault of each kind, everywhere it can be planted: the proof finds it by itself."""
    brief, plan = planned(file)
    faults = list(FAULTS[kind](brief.console, plan))
    assert faults or kind in NOT_EVERYWHERE
    assert [what for what, planted in faults if not found(brief, planted)] == []


def test_each_kind_is_planted_somewhere() -> None:
    """No kind of fault is planted nowhere at all."""
    assert len(WITH_WAYS) >= 3
    for plant in FAULTS.values():
        assert any(list(plant(brief.console, plan)) for brief, plan in map(planned, WITH_WAYS))


def test_a_plan_that_joins_a_feed_is_rejected() -> None:
    """The whole check says so, in words a rigger reads."""
    brief, plan = planned(MADE / "day-boat.toml")
    for what, planted in FAULTS["across ways"](brief.console, plan):
        report = check_plan(brief, planted)
        assert {"bypass"} < {finding.rule for finding in report.findings}, what
    told = [str(finding) for finding in report.findings if finding.rule == "bypass"]
    assert any("a wire of the plan passes round the switch to light.out" in one for one in told)
