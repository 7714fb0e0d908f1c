"""The proving procedure of a panel with key, kill lanyard, fuse block, light switch and dimmer."""

from __future__ import annotations

from functools import cache

import pytest
from support.plans import plan_of

from lugwright.readings.lines import sheet_of
from lugwright.readings.procedure import sections
from lugwright.readings.schema import Line, Sheet
from lugwright.readings.words import band_text

POSTS = {
    "battery": "key.bat",
    "start": "key.crank",
    "switched": "fuses.in",
    "ignition": "volts.ignition",
    "light feed": "light.in",
    "dimmed": "dimmer.in",
    "pump": "fuses.f3",
}
"""Where each feed's volts are read."""


@cache
def sheet() -> Sheet:
    """The test sheet of the console with devices."""
    return sheet_of(plan_of("key-fuses-dimmer"))


def of(*parts: str) -> list[Line]:
    """The lines of some parts, in their order."""
    return [line for line in sheet().lines if line.part in parts]


def test_every_way_is_measured_closed_and_open() -> None:
    """Key and light in each position, each fuse in and out; a dimmer's electronics not."""
    told = [(line.at_words, line.what, line.part) for line in of("way closed", "way open")]
    assert ("key.ign (tab)", "key off", "way open") in told
    assert ("key.ign (tab)", "key on", "way closed") in told
    assert ("key.ign (tab)", "key start", "way closed") in told
    assert ("key.crank (tab)", "key on", "way open") in told
    assert ("key.crank (tab)", "key start", "way closed") in told
    assert ("light.out (tab)", "light on", "way closed") in told
    for far in ("f1", "f2", "f3"):
        assert (f"fuses.{far} (tab)", f"fuses.{far} fuse in", "way closed") in told
        assert (f"fuses.{far} (tab)", f"fuses.{far} fuse out", "way open") in told
    assert not [line for line in of("way closed", "way open") if line.start == "post dimmer.in"]


def test_the_stop_circuit_is_at_ground_at_rest_and_with_the_lanyard_out() -> None:
    """And open with the key on and the lanyard in, apart from every feed."""
    mine = [line for line in of("way closed", "way open") if line.start == "post key.stop"]
    assert [(line.what, line.part) for line in mine] == [
        ("key off, lanyard in", "way closed"),
        ("key on, lanyard in", "way open"),
        ("key start, lanyard in", "way open"),
        ("key on, lanyard out", "way closed"),
    ]
    (apart,) = of("stop apart")
    assert apart.what == "key on, lanyard in; the lowest of these"
    assert apart.at_words == ", ".join(POSTS.values())


def test_every_feed_is_powered_alone_while_all_others_are_dead() -> None:
    """At its pigtail, or at the far post of its way; what a dimmer feeds belongs to its feed."""
    feeds = [line.circuit for line in of("powered feed")]
    assert feeds == ["battery", "start", "switched", "ignition", "light feed", "dimmed", "pump"]
    for line in of("feeds apart"):
        assert band_text(line) == "under 0.10 V"
        others = [post for name, post in POSTS.items() if name != line.circuit]
        assert line.at_words == ", ".join(others)


def test_the_live_table_has_its_lines() -> None:
    """All off, then each position: the lowest of what is live, the highest of what is not."""
    states = [row.state for row in sheet().plan.live]
    told = [line.what.partition(", pigtail")[0] for line in of("live")]
    assert told == states == ["all off", "key on", "key start", "key on, light on"]
    by_state = dict(zip(told, of("not live"), strict=True))
    assert by_state["key on"].at_words == "key.crank (tab) of start, dimmer.in (tab) of dimmed"
    assert by_state["key on, light on"].at_words == "key.crank (tab) of start"


def test_a_position_that_starts_is_not_held_for_the_other_volts() -> None:
    """Only the start circuit is read with the key at start, with its cautions."""
    named = {line.circuit: line.what for line in of("volts") if line.what}
    assert named == {"start": "key start"}
    (key_on,) = (one for one in sections(sheet()) if one.heading.startswith("4."))
    assert key_on.first[0].startswith("Battery on, then key on, light on: ")
    assert any("out of gear, hands and clothes clear" in text for text in key_on.first)


def test_fuses_switches_and_key_one_by_one() -> None:
    """Each fuse kills its own loads, each switch lights only its own, the key turns all off."""
    told = {(line.part, line.at_words): line.what for line in of("pulled", "alone", "key off")}
    assert told["pulled", "fuses.f3"].endswith("dead then: bilge pump, nothing else")
    assert told["pulled", "fuses.f2"].endswith(
        "dead then: dimmer, fuel.lamp, tachometer.lamp and volts.lamp, nothing else"
    )
    assert "lamp" not in told["alone", "key on"]
    assert told["key off", "light off"] == (
        "dead then: dimmer, fuel.lamp, tachometer.lamp and volts.lamp, nothing else"
    )
    assert "bilge pump" in told["key off", "key off"]


def test_the_engine_is_stopped_by_lanyard_and_by_key() -> None:
    """By a qualified person; only the battery stays live."""
    lanyard, key = of("engine")
    assert lanyard.what == "started, then key lanyard out: it stops"
    assert key.what == (
        "started, then key off: it stops; nothing stays live after key off but battery, which no "
        "key or switch turns off"
    )


def test_breakers_are_read_aloud_and_opened_by_themselves() -> None:
    """Like fuses: each rating, then what dies with it."""
    lines = sheet_of(plan_of("breaker-panel")).lines
    read = {line.at_words: line.what for line in lines if line.part == "fuse"}
    assert read["breakers.b2"].startswith("its breaker says ")
    opened = {line.at_words: line.what for line in lines if line.part == "pulled"}
    assert opened["breakers.b2"] == (
        "its breaker opened, all others in; dead then: bilge pump, nothing else"
    )


@pytest.mark.parametrize("part", ["way closed", "live", "volts"])
def test_what_is_closed_while_a_line_is_read(part: str) -> None:
    """A band is that of the devices as they stand: no way that its words leave open conducts."""
    for line in of(part):
        if line.what.startswith("all off"):
            assert "key.ign" not in line.closed
        if line.what.startswith(("key on", "key start")):
            assert "key.ign" in line.closed
