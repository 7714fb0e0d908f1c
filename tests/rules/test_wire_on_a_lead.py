"""A boat wire on a flying lead: one fitting, made aboard, and what flows in the lead. Rule R31.

That a sender's wire is crimped to a dial's own lead: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, pose, read_inputs
from lugwright.scenario.brief import Brief

TEXT = """\
title = "Two dials, one with a flying signal lead"
[panel]
width = "320 mm"
height = "150 mm"
thickness = "6 mm"
[[instrument]]
name = "volts"
pattern = "voltmeter-52"
centre = ["70 mm", "85 mm"]
[[instrument]]
name = "water"
centre = ["190 mm", "85 mm"]
[instrument.geometry]
about = "dial with two studs and a flying signal lead"
cut_out = "2-1/16 in"
bezel = "61 mm"
body = "51 mm"
body_depth = "48 mm"
loads = [{ name = "movement", feed = "ignition", ground = "ground", current = "0.1 A" }]
posts.ignition = { kind = "stud", function = "ignition", at = ["-13 mm", "8 mm"], height = "54 mm", thread = "#10-32", free_thread = "10 mm" }
posts.ground = { kind = "stud", function = "ground", at = ["13 mm", "8 mm"], height = "54 mm", thread = "#10-32", free_thread = "10 mm" }
posts.signal = { kind = "lead", function = "signal", at = ["20 mm", "-40 mm"], height = "60 mm", lead = { wire_size = "18 AWG", colour = "white" } }
[[harness]]
entry = ["160 mm", "0 mm"]
pigtails = [
  { circuit = "ignition", colour = "purple", wire_size = "16 AWG", reach = "500 mm", fuse = "5 A" },
  { circuit = "ground", colour = "black", wire_size = "16 AWG", reach = "500 mm" },
]
[[boat_wires]]
name = "water sender"
sender = "resistance"
wires = [
  { lands_on = "water.signal", wire_size = "18 AWG", colour = "white" },
  { lands_on = "water.ground", wire_size = "18 AWG", colour = "black" },
]
"""  # noqa: E501


def brief(*edits: tuple[str, str]) -> Brief:
    """The console after replacements, each of what is there."""
    text = TEXT
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return read_inputs(parse_toml(text.encode(), "lead.toml"))


def test_it_is_crimped_to_the_lead_aboard() -> None:
    """Lead and wire alone in one fitting; 0.25 A flows through it, and every check passes."""
    inputs = brief()
    plan = make_plan(inputs).plan
    assert plan is not None
    assert [str(one) for one in check_plan(inputs, plan).findings] == []
    (crimp,) = [one for one in plan.crimps if one.joint == "water.signal"]
    held = {end.wire for half in crimp.barrels for end in half}
    assert held == {"lead water.signal", "water sender: white"}
    assert (crimp.stage, crimp.current_ma) == ("aboard", 250)
    flows = {row.wire: row.current_ma for row in plan.given}
    assert flows["water sender: white"] == 250


def test_what_flows_in_the_lead_is_judged() -> None:
    """18 AWG of 105 C takes no 30 A: planner and checker both say so of the lead."""
    inputs = brief()
    plan = make_plan(inputs).plan
    assert plan is not None
    blocks = tuple(replace(one, current_ma=30_000) for one in inputs.console.boat_blocks)
    loaded = replace(inputs, console=replace(inputs.console, boat_blocks=blocks))
    assert ("ampacity", "lead water.signal") in {
        (one.rule, one.place) for one in pose(loaded)[0].faults
    }
    told = check_plan(loaded, plan).findings
    assert ("ampacity", "lead water.signal") in {(one.rule, one.place) for one in told}


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (
            ('white" },\n  {', 'white", ring = { thread = "#10-32" } },\n  {'),
            "a ring does not go on a lead",
        ),
        (
            (
                '[[boat_wires]]\nname = "water sender"',
                '[[boat_wires]]\nname = "other sender"\nsender = "resistance"\n'
                'wires = [{ lands_on = "water.signal", wire_size = "18 AWG", colour = "tan" }]\n'
                '[[boat_wires]]\nname = "water sender"',
            ),
            "this lead is used twice",
        ),
    ],
)
def test_a_lead_has_one_fitting(edit: tuple[str, str], words: str) -> None:
    """No ring on it, and no second wire."""
    with pytest.raises(BadInput) as caught:
        brief(edit)
    assert words in str(caught.value)
