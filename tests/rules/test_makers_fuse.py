"""A fuse as the maker of a load asks for it, and breakers loaded too far. Rule R16.

That a motor hangs on the fuse its maker names: common practice, no source. A breaker counts as
protection only where it is trip-free: 33 CFR 183.455(a).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, pose, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

MADE = Path(__file__).parents[1] / "scenario" / "consoles"
BOAT, STRIP = MADE / "day-boat.toml", MADE / "breaker-strip.toml"
PUMP = "bilge pump: brown"


@cache
def planned(file: Path) -> tuple[Brief, Plan]:
    """A console and its plan."""
    brief = read_inputs(file)
    plan = make_plan(brief).plan
    assert plan is not None
    return brief, plan


def with_maker(brief: Brief, name: str, fuse_ma: int) -> Brief:
    """The brief with another maker's fuse of a load."""
    blocks = tuple(
        replace(one, maker_fuse_ma=fuse_ma) if one.name == name else one
        for one in brief.console.boat_blocks
    )
    return replace(brief, console=replace(brief.console, boat_blocks=blocks))


def told(brief: Brief) -> list[tuple[str, str, str, str]]:
    """What is wrong whatever is chosen: rule, place, measured, limit."""
    faults = pose(brief)[0].faults
    return [(one.rule, one.place, one.measured, one.limit) for one in faults]


@pytest.mark.parametrize(("asked_ma", "fault"), [(7500, False), (10_000, False), (5000, True)])
def test_a_load_hangs_on_its_makers_fuse_or_a_smaller(asked_ma: int, fault: bool) -> None:
    """The block's fuse is 7.5 A: planner and checker say the same of the same maker."""
    brief, plan = planned(BOAT)
    asked = with_maker(brief, "bilge pump", asked_ma)
    wanted = [("fuse", PUMP, "7.5 A", "5 A")] if fault else []
    assert told(asked) == wanted
    found = [one for one in check_plan(asked, plan).findings if one.rule == "fuse"]
    assert [(one.place, one.measured, one.limit) for one in found] == [row[1:] for row in wanted]


def test_a_breaker_that_is_not_trip_free_protects_nothing_and_may_trip() -> None:
    """The pump hangs on the pigtail's 25 A then, and 9 A is more than 80 % of the breaker."""
    brief, _ = planned(STRIP)
    ways = tuple(
        replace(way, trip_free=False) if way.far == "strip.b3" else way
        for way in brief.console.ways
    )
    blocks = tuple(
        replace(one, current_ma=9000) if one.name == "shower pump" else one
        for one in brief.console.boat_blocks
    )
    loaded = replace(brief, console=replace(brief.console, ways=ways, boat_blocks=blocks))
    found = told(loaded)
    assert ("fuse", "strip.b3", "9 A", "8 A") in found
    assert ("fuse", "shower pump: brown", "25 A", "10 A") in found
