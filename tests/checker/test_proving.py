"""The tests at key-on: the numbers of the test sheet, on every sheet, and none that fails."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from support.plan_edits import judge, rules
from support.plans import plan_of
from support.wired_by_hand import hand_plan

from lugwright.checker import printed_tests
from lugwright.outputs.folder import folder_files
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan, Step
from lugwright.readings.bands import TOLERANCES
from lugwright.readings.lines import sheet_of
from lugwright.readings.schema import Sheet
from lugwright.readings.words import band_text

Change = Callable[[Step], Step]


def reworded(old: str, new: str) -> Change:
    """A step with other words in its sentence."""
    return lambda step: step.model_copy(update={"text": step.text.replace(old, new)})


def edited(change: Change) -> Plan:
    """The hand plan with its steps at key-on changed."""
    plan = hand_plan()
    steps = tuple(change(step) if step.stage == "key-on" else step for step in plan.steps)
    assert steps != plan.steps
    return plan.model_copy(update={"steps": steps})


@pytest.mark.parametrize(
    "change",
    [
        reworded("at most 0.3 ohm", "at most 3 ohm"),
        reworded("every fuse out", "every fuse in"),
        reworded("Battery on, then key on", "Key on, then battery on"),
        reworded("By a qualified person only", "By anyone"),
        lambda step: step.model_copy(update={"parts": ()}),
        lambda step: step.model_copy(update={"target": step.target.replace("1", "2")}),
    ],
)
def test_another_word_or_number_is_found(change: Change) -> None:
    """A band widened, an order turned round, a caution taken out, a line renumbered."""
    assert rules(judge(edited(change))) == {"test lines"}


def test_a_line_left_out_or_told_twice_is_found() -> None:
    """One step fewer, or the last one again."""
    plan = hand_plan()
    last = plan.steps[-1]
    again = last.model_copy(update={"number": last.number + 1})
    for steps in (plan.steps[:-1], (*plan.steps, again)):
        assert rules(judge(plan.model_copy(update={"steps": steps}))) == {"test lines"}


def test_a_band_that_fails_a_sound_panel_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """The checker's own drop, at the highest supply, must lie in the band."""

    def narrow(plan: Plan) -> Sheet:
        sheet = sheet_of(plan)
        lines = tuple(replace(line, low=-10) if line.of_supply else line for line in sheet.lines)
        return replace(sheet, lines=lines)

    monkeypatch.setattr(printed_tests, "sheet_of", narrow)
    assert rules(judge(hand_plan())) == {"test lines"}


@pytest.mark.parametrize("name", ["sandbar-skiff", "switch-panel-loom", "flying-leads"])
def test_no_two_sheets_differ(name: str) -> None:
    """Every volt, ohm and ampere that passes stands on test sheet, job sheet and build list alike.

    Each sheet is searched for whatever looks like a band; none has one that no line has.
    """
    plan = plan_of(name)
    files = folder_files(ShownPlan(plan))
    bands = {band_text(line) for line in sheet_of(plan).lines if line.unit != "yes or no"}
    for sheet in ("test-sheet.html", "job-sheet.html", "build-list.txt"):
        words = " ".join(re.sub(r"<[^>]*>", " ", files[sheet].decode()).split())
        assert [band for band in bands if band not in words] == [], sheet
        found = set(re.findall(r"(?:at least|at most|under) [\d.]+ (?:ohm|V|A)\b", words))
        told = " ".join([*bands, *(" ".join(row) for row in TOLERANCES)])
        assert [one for one in found if one not in told] == [], sheet
