"""Ratings, fuses and states of devices as the second opinion sees them, worked out by hand.

The plans are made once; then the console they are judged by says something else of one device.
Factors of kinds of load (rule R33): AC 43.13-1B, Table 11-4; 12 V: lamp 5, motor 2, resistive 1;
28 V: 8, 3, 2.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from lugwright.checker.finding import Report
from lugwright.checker.holds import holds_broken
from lugwright.checker.live import live_table
from lugwright.checker.run import check_plan
from lugwright.pipeline import holding, make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

MADE = Path(__file__).parents[1] / "scenario" / "consoles"


@cache
def planned(name: str) -> tuple[Brief, Plan]:
    """A console made for tests, and its plan."""
    brief = read_inputs(MADE / f"{name}.toml")
    plan = make_plan(brief).plan
    assert plan is not None
    return brief, plan


def judged(name: str, far: str = "", nominal_mv: int = 12_000, **changes: Any) -> Report:
    """The plan judged with a way (or every way of a device) changed."""
    brief, plan = planned(name)
    ways = tuple(
        replace(way, **changes) if far in (way.far, way.instrument) else way
        for way in brief.console.ways
    )
    console = replace(brief.console, ways=ways, nominal_mv=nominal_mv)
    return check_plan(replace(brief, console=console), plan)


def device_judged(name: str, device: str, carries_in_ma: int) -> Report:
    """The plan judged with another limit of a device's near posts."""
    brief, plan = planned(name)
    devices = tuple(
        replace(one, carries_in_ma=carries_in_ma) if one.name == device else one
        for one in brief.console.instruments
    )
    console = replace(brief.console, instruments=devices)
    return check_plan(replace(brief, console=console), plan)


def told(report: Report, rule: str, place: str) -> list[tuple[str, str, str]]:
    """What was found broken by a rule at a place, where a limit is named."""
    return [
        (one.message, one.measured, one.limit)
        for one in report.findings
        if one.rule == rule and one.place == place and one.limit
    ]


KEY = "way key.bat > key.ign"


@pytest.mark.parametrize(
    ("changes", "worst_ma"),
    [
        ({}, 11_000),  # 0.6 A of dials, 0.48 A of bulbs times 5, 4 A of a motor times 2
        ({"rated_for": ("bulb",)}, 9080),
        ({"rated_for": ("bulb", "motor")}, 5080),
        ({"nominal_mv": 24_000}, 17_040),  # 0.6 x 2 + 0.48 x 8 + 4 x 3
    ],
)
def test_a_switch_is_judged_by_kind_of_load(changes: dict[str, Any], worst_ma: int) -> None:
    """It stands what it must, and not a milliampere less."""
    assert told(judged("day-boat", "key.ign", carries_ma=worst_ma, **changes), "way", KEY) == []
    report = judged("day-boat", "key.ign", carries_ma=worst_ma - 1, **changes)
    ((message, _, _),) = told(report, "way", KEY)
    assert message == "its contact carries too much"


def test_a_fuse_is_judged_by_plain_current() -> None:
    """The pump's 4 A, whatever the kind of load."""
    place = "way fuses.in > fuses.f3"
    assert told(judged("day-boat", "fuses.f3", carries_ma=4000), "way", place) == []
    assert told(judged("day-boat", "fuses.f3", carries_ma=3999), "way", place) != []


def test_ways_of_one_near_post_add_up() -> None:
    """The key's two ways: 5.08 A of ignition and 4 A of the starter's relay."""
    assert told(device_judged("day-boat", "key", 9080), "way", "key.bat") == []
    ((message, _, limit),) = told(device_judged("day-boat", "key", 9079), "way", "key.bat")
    assert (message, limit) == ("its ways together carry too much", "9.079 A")


def test_positions_of_one_device_do_not_add_up() -> None:
    """Navigation 2 A or anchor 1 A, never both."""
    assert told(device_judged("anchor-light", "nav", 2000), "way", "nav.in") == []
    assert told(device_judged("anchor-light", "nav", 1999), "way", "nav.in") != []


def test_a_block_stands_the_fuse_ahead() -> None:
    """The battery's fuse is 20 A: the bus of the block must carry that (E-11, from memory)."""
    assert told(device_judged("day-boat", "fuses", 20_000), "way", "fuses.in") == []
    ((message, measured, _),) = told(device_judged("day-boat", "fuses", 19_999), "way", "fuses.in")
    assert (message, measured) == ("the fuse of battery is more than it takes", "20 A")


def test_a_breaker_protects_only_if_trip_free() -> None:
    """33 CFR 183.455(a). Else the fuse ahead has to protect its thin wires: 40 A is too much."""
    brief, plan = planned("breaker-strip")
    battery = brief.console.circuit("battery")
    assert battery.pigtail is not None
    larger = replace(battery, pigtail=replace(battery.pigtail, fuse_ma=40_000))
    circuits = tuple(larger if one is battery else one for one in brief.console.circuits)
    unprotected = {"fuse of battery", "shower pump: brown"}  # whose maker asks for 10 A
    for trip_free, found in ((True, set()), (False, unprotected)):
        ways = tuple(
            replace(way, trip_free=trip_free) if way.kind == "breaker" else way
            for way in brief.console.ways
        )
        console = replace(brief.console, circuits=circuits, ways=ways)
        report = check_plan(replace(brief, console=console), plan)
        assert {one.place for one in report.findings if one.rule == "fuse"} == found


def test_a_breaker_is_judged_by_its_load_all_the_same() -> None:
    """1.5 A of lights: a share of 80 % of 1.8 A is 1.44 A."""
    for trip_free in (True, False):
        changes = {"amperes_ma": 1800, "trip_free": trip_free}
        report = judged("breaker-strip", "strip.b2", **changes)
        assert [x.measured for x in report.findings if x.rule == "fuse load"] == ["1.5 A"]


def test_a_momentary_load_counts_against_the_whole_fuse() -> None:
    """The same 1.5 A for moments: 1.8 A holds it, 1.4 A does not."""
    brief, plan = planned("breaker-strip")
    blocks = tuple(
        replace(one, duty="momentary") if one.name == "cabin lights" else one
        for one in brief.console.boat_blocks
    )
    for amperes_ma, found in ((1800, 0), (1400, 1)):
        ways = tuple(
            replace(way, amperes_ma=amperes_ma) if way.far == "strip.b2" else way
            for way in brief.console.ways
        )
        console = replace(brief.console, boat_blocks=blocks, ways=ways)
        report = check_plan(replace(brief, console=console), plan)
        assert sum(one.rule == "fuse load" for one in report.findings) == found


def test_a_fuse_larger_than_the_one_ahead_is_told() -> None:
    """A note, no fault: 25 A at the battery, 30 A behind it."""
    assert judged("breaker-strip").notes == ()
    assert judged("breaker-strip", "strip.b3", amperes_ma=30_000).notes == (
        "the breaker of strip.b3 is 30 A, and that of battery ahead of it 25 A: "
        "the one ahead may open first",
    )
    assert judged("breaker-strip", "strip.b3", amperes_ma=30_000, trip_free=False).notes == ()


def test_what_is_live_in_each_position() -> None:
    """Fuses in and the switch at rest: all but the two lights; then one light each."""
    brief, _ = planned("anchor-light")
    rest = {"battery", "blower", "ignition", "lamps", "light feed"}
    assert [(words, set(live)) for words, _, live in live_table(brief.console)] == [
        ("all off", rest),
        ("nav navigation", rest | {"running"}),
        ("nav anchor", rest | {"anchor"}),
    ]


def test_a_lanyard_that_is_in_feeds_at_rest() -> None:
    """A way that conducts with the lanyard in: what it feeds is live with all switches off."""
    brief, _ = planned("day-boat")
    ways = tuple(
        replace(way, closed=("lanyard in",)) if way.far == "key.ign" else way
        for way in brief.console.ways
    )
    (_, _, live), *_ = live_table(replace(brief.console, ways=ways))
    assert set(live) == {"battery", "switched", "ignition", "light feed", "pump"}


@pytest.mark.parametrize("hub", ["hours", "volts"])
def test_a_held_hub_need_not_have_every_circuit(hub: str) -> None:
    """Battery lands on the fuse block and light feed on its switch, whichever dial is held."""
    brief = holding(planned("anchor-light")[0], {"hub": hub})
    run = make_plan(brief)
    assert run.plan is not None
    assert run.report is not None
    assert [str(one) for one in run.report.findings] == []
    landed = {row.circuit: row.post.partition(".")[0] for row in run.plan.landings}
    assert landed == {"battery": "fuses", "light feed": "nav", "ignition": hub, "ground": hub}


def test_a_plan_that_leaves_the_held_hub_is_told() -> None:
    """Ground could land on the held dial, and does not."""
    brief = holding(planned("anchor-light")[0], {"hub": "hours"})
    plan = make_plan(brief).plan
    assert plan is not None
    landings = tuple(
        row.model_copy(update={"post": "volts.ground"}) if row.circuit == "ground" else row
        for row in plan.landings
    )
    moved = plan.model_copy(update={"landings": landings})
    assert [one.rule for one in holds_broken(moved, brief.holds)] == ["hold"]
    assert holds_broken(plan, brief.holds) == ()
