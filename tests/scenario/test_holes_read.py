"""Rectangular cut-outs, screws, grommets and parts from the back, read, told and drawn."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin

import pytest
from support.plans import SCENARIOS, plan_of
from support.scenario_text import console_of

from lugwright.base.errors import BadInput
from lugwright.checker.run import check_plan
from lugwright.outputs.drawing.rear_view import sheet_files
from lugwright.outputs.job.needs import needs_of
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import plan_text
from lugwright.outputs.shown import ShownPlan
from lugwright.pipeline import read_inputs
from lugwright.scenario.console import Hole, Mount
from lugwright.scenario.library import find_pattern
from lugwright.scenario.pattern_text import body_lines, hole_text

ROW = SCENARIOS / "rocker-row.toml"
TEXT = ROW.read_text(encoding="utf-8")


def test_the_console_has_every_hole_as_seen_from_the_back() -> None:
    """By hand from the file: 420 mm less x; a turn is told clockwise from the front."""
    console = console_of(TEXT)
    assert console.instrument("horn").mount == Mount(220, 370, 15, 260, 500, 90_000)
    socket = console.instrument("socket").mount
    assert socket.from_back and socket.screws == (Hole(2065, 320, 32), Hole(2435, 320, 32))
    assert Hole(1200, 280, 250, "grommet") in console.holes
    assert sum(hole.what == "mounting screw" for hole in console.holes) == 4
    assert console.instrument("volts").mount == Mount()


def test_screws_turn_with_their_instrument() -> None:
    """A bar turned 30 degrees: counter-clockwise seen from the back, by plane trigonometry."""
    place = 'centre = ["345 mm", "95 mm"]'
    turned = TEXT.replace(place, f'{place}\nturn = "30 deg"')
    first, second = console_of(turned).instrument("bar").mount.screws
    dx, dy = 380 * cos(radians(30)), 380 * sin(radians(30))
    assert (first.x_dmm, first.y_dmm) == (round(750 - dx), round(950 - dy))
    assert (second.x_dmm, second.y_dmm) == (round(750 + dx), round(950 + dy))


@pytest.mark.parametrize(("gap_mm", "fits"), [("26", True), ("25.9", False)])
def test_rockers_side_by_side_may_touch(gap_mm: str, fits: bool) -> None:
    """Bezels 26 mm wide: at a pitch of 26 mm they touch, and may."""
    x = Fraction(125) + Fraction(gap_mm)
    text = TEXT.replace('["160 mm", "95 mm"]', f'["{float(x):g} mm", "95 mm"]')
    if fits:
        assert console_of(text).instrument("wash pump")
    else:
        with pytest.raises(BadInput, match="bezel overlaps"):
            console_of(text)


def test_the_pattern_is_told_with_its_hole() -> None:
    """Its sides in the list; corners and rim in the whole."""
    pattern = find_pattern("rocker-22-37")
    assert pattern is not None
    assert hole_text(pattern) == "22 x 37 mm"
    assert "hole 22 x 37 mm, corners r 1.5 mm, bezel 26 x 50 mm" in list(body_lines(pattern))
    dimmer = find_pattern("dimmer")
    assert dimmer is not None
    assert any(line.startswith("mounted from the back") for line in body_lines(dimmer))


def test_the_demo_is_proved_checked_and_drawn() -> None:
    """Tools for every hole; screws and the grommet in the rear view; the checker finds nothing."""
    plan = plan_of("rocker-row")
    assert check_plan(read_inputs(ROW), plan).findings == ()
    told = {need.what: need.why for need in needs_of(plan)}
    assert told["drill or cutter 4.3 mm"] == "screws of bar: 2"
    assert told["drill or cutter 25 mm"] == "grommet: 1"
    assert "deck light" in told["jigsaw and flat file, drill for the corners"]
    (drawn,) = sheet_files(ShownPlan(plan), Paper()).values()
    assert drawn.count(b'data-hole="mounting screw"') >= 4
    assert b'data-hole="grommet"' in drawn


def test_what_is_not_there_is_not_written() -> None:
    """A plan of round holes says nothing of mounts and holes; one with them keeps them."""
    assert '"mount"' not in plan_text(plan_of("sandbar-skiff"))
    plan = plan_of("rocker-row")
    again = type(plan).model_validate_json(plan.model_dump_json())
    assert again.panel == plan.panel and plan.panel.holes
