"""No edit of what a plan prints passes the check.

Every leaf of four plans is changed, every entry of every list is left out, doubled and moved.
Each edit is tried at its worst: the seal is made anew, as nobody does who edits by hand. Without
that nothing passes at all, because an edited plan may not claim to be proved best.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from support.edits_of_plans import Edit, edited, edits_of, passes
from support.plans import SCENARIOS, plan_of

from lugwright.outputs.plan_json import SEAL, plan_text
from lugwright.pipeline import make_plan, read_inputs
from lugwright.routes.build import build_routes
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief

Made = Callable[[str], tuple[Brief, Routes, str]]

SAMPLE = 12  # edits of each console in the default run
CONSOLES = ("sandbar-skiff", "six-dial-console", "aboard-pigtails", "key-fuses-dimmer")
# What a plan says of devices, their ways and what is live.
OF_WAYS = re.compile(
    r"ways|live|landings|panel\.(ways|circuits\.supplied_by)|panel\.loads\.(kind|duty)"
    r"|panel\.instruments\.(positions|lanyard|carries_in_ma|ignition_protected|setting)"
)

# Aboard pigtails, with a waiver and three things held.
MORE = """
[[hold]]
hub = "volts"

[[hold]]
no_splice = true

[[waiver]]
limit = "lugs_per_stud"
place = "volts.ground"
value = 5
reason = "longer studs fitted"
initials = "AB"
date = 2026-11-25
"""

# What only a search or the seal can know of a plan, so that a forged seal hides the edit.
ALLOWED = {
    "family": "the family's name stands on no sheet; numbers are judged by it",
    "made_with": "an earlier version may have made it; check tells so in a note",
    "proof.note": "what the search says of its own ending",
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Inputs, routes and plan file of a console by its name, each made once."""
    folder = tmp_path_factory.mktemp("consoles")

    @cache
    def make(name: str) -> tuple[Brief, Routes, str]:
        scenario = SCENARIOS / f"{name}.toml"
        if name == "aboard-pigtails":
            text = scenario.read_text(encoding="utf-8") + MORE
            scenario = folder / f"{name}.toml"
            scenario.write_text(text, encoding="utf-8")
        inputs = read_inputs(scenario)
        plan = plan_of(name) if scenario.parent == SCENARIOS else make_plan(inputs).plan
        assert plan is not None
        return inputs, build_routes(inputs), plan_text(plan)

    return make


def _bare(text: str) -> dict[str, Any]:
    """A plan file's data without its seal."""
    data: dict[str, Any] = json.loads(text)
    del data[SEAL]
    return data


def _passing(made: Made, name: str, folder: Path, step: int | None) -> list[Edit]:
    """Edits that pass; every so-manieth is tried, all of them with a step of 1."""
    inputs, routes, text = made(name)
    data, file = _bare(text), folder / "edited.json"
    edits = list(edits_of(data))
    assert passes(inputs, routes, text, file)
    tried = edits[:: step or max(1, len(edits) // SAMPLE)]
    return [one for one in tried if passes(inputs, routes, edited(data, one, sealed=True), file)]


@pytest.mark.parametrize("name", CONSOLES)
def test_a_sample_of_edits_does_not_pass(made: Made, name: str, tmp_path: Path) -> None:
    """A fixed sample of all edits of a plan: none passes but the named ones."""
    assert {one.field for one in _passing(made, name, tmp_path, None)} <= ALLOWED.keys()


@pytest.mark.slow
@pytest.mark.parametrize("name", CONSOLES)
def test_no_edit_passes(made: Made, name: str, tmp_path: Path) -> None:
    """All edits of a plan: the named ones pass, and no other."""
    assert {one.field for one in _passing(made, name, tmp_path, 1)} == ALLOWED.keys()


@pytest.mark.parametrize("step", [19, pytest.param(1, marks=pytest.mark.slow)])
def test_no_edit_of_devices_and_ways_passes(made: Made, tmp_path: Path, step: int) -> None:
    """Every edit of what a plan says of its devices, or every ninth of them: none passes."""
    inputs, routes, text = made("key-fuses-dimmer")
    data, file = _bare(text), tmp_path / "edited.json"
    tried = [one for one in edits_of(data) if OF_WAYS.match(one.field)]
    assert len(tried) > 300
    some = tried[::step]
    passed = [x for x in some if passes(inputs, routes, edited(data, x, sealed=True), file)]
    assert [str(one) for one in passed] == []


# One edit of each kind that was once printed without a word.
ONCE_PRINTED = (
    ("steps", 12, "text"), ("cautions", 0), ("fuses", 0), ("circuit_wires", 0, "colour"),
    ("steps", -1, "parts", 0), ("limits", 3, "value"), ("limits", 3, "origin"),
    ("stacks", 0, "lugs", 0, "clock"), ("buy", 0, "cost_micro"), ("drops", 0, "limit_nv"),
    ("inputs", "limits in force"), ("panel", "posts", 0, "function"), ("proof", "held", 0),
    ("caps", 0, "live"), ("given", 0, "colour_code"),
)  # fmt: skip


@pytest.mark.parametrize("path", ONCE_PRINTED, ids=str)
def test_what_is_printed_is_judged(made: Made, path: tuple[str | int, ...], tmp_path: Path) -> None:
    """Each of these, changed, is told: with the seal broken, and with the seal made anew."""
    name = "aboard-pigtails" if path[0] == "proof" else "sandbar-skiff"
    inputs, routes, text = made(name)
    data: Any = _bare(text)
    value = data
    for step in path:
        value = value[step]
    (edit, *_) = edits_of(value, path)
    for sealed in (True, False):
        assert not passes(inputs, routes, edited(data, edit, sealed=sealed), tmp_path / "x.json")


def test_a_hold_taken_out_is_told(made: Made, tmp_path: Path) -> None:
    """The plan of a held console says so, or is no plan of it."""
    inputs, routes, text = made("aboard-pigtails")
    data = _bare(text)
    edit = Edit(("proof", "held"), "taken out", [])
    assert not passes(inputs, routes, edited(data, edit, sealed=True), tmp_path / "x.json")
