"""From scenario to console: circuits, loads, blocks of boat wires, bus bars, and order."""

from __future__ import annotations

import copy
import random
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.scenario_text import SCENARIOS, SKETCH, console_of, own_dial, toml_of, with_values

from lugwright.base.errors import BadInput
from lugwright.scenario.console import Console
from lugwright.scenario.load import load_scenario, load_toml


@pytest.fixture(name="six", scope="module")
def fixture_six() -> Console:
    """The console of six dials, two switches and a set of bus bars."""
    return load_scenario(SCENARIOS / "six-dial-console.toml").console


def test_sketch_of_four_dials_loads() -> None:
    """The short way of writing a scenario: pigtails, lamps and sender all have their defaults."""
    loaded = load_toml(toml_of(SKETCH))
    console = loaded.console
    assert loaded.rule_set == "usual"
    assert loaded.limits_table == {}
    assert tuple(c.name for c in console.circuits) == ("ground", "ignition", "lamps")
    assert console.nominal_mv == 12_000
    assert tuple(p.label for p in console.unused_pigtails) == ("tachometer",)


def test_circuits_of_the_sketch() -> None:
    """Posts by sorted id, colours of the published standard, lamps taken from ignition."""
    console = console_of(SKETCH)
    ignition = console.circuit("ignition")
    assert ignition.posts == ("fuel.ignition", "speed.ignition", "speed.second")
    assert ignition.colour == "purple"
    lamps = console.circuit("lamps")
    assert (lamps.colour, lamps.taken_from, lamps.pigtail) == ("dark blue", "ignition", None)
    assert console.circuit("ground").side == "ground"


def test_pigtail_of_the_sketch() -> None:
    """Reach, fuse and supply run as written, the wire with its nominal area (ASTM B258)."""
    pigtail = console_of(SKETCH).circuit("ignition").pigtail
    assert pigtail is not None
    assert (pigtail.reach_dmm, pigtail.fuse_ma) == (4500, 10_000)
    assert pigtail.to_source is not None
    assert (pigtail.to_source.one_way_dmm, pigtail.to_source.wire.wire_size) == (60_000, "14 AWG")
    assert pigtail.wire.area_um2 == 1_308_673  # 2582.7 circular mils


def test_sender_draws_from_its_dial() -> None:
    """A sender's current comes in at its dial's ignition and goes back by its ground wire."""
    (sender,) = console_of(SKETCH).boat_blocks
    assert sender.is_sender
    assert (sender.drawn_from, sender.returns_to) == ("fuel.ignition", "fuel.ground")
    assert tuple(w.id for w in sender.wires) == ("fuel sender: black", "fuel sender: pink")


def test_switched_consumer_draws_from_the_switch(six: Console) -> None:
    """What lands on a load post takes its current from the switch's feed, whatever its circuit."""
    (pump,) = (boat_block for boat_block in six.boat_blocks if boat_block.name == "bilge pump")
    assert not pump.is_sender
    assert (pump.drawn_from, pump.returns_to) == ("pump switch.feed", "bars.ground1")
    assert six.post("pump switch.feed").circuit == "accessory"


def test_sender_that_returns_elsewhere(six: Console) -> None:
    """A one-wire sender returns by the engine block."""
    (engine,) = (boat_block for boat_block in six.boat_blocks if boat_block.name == "engine sender")
    assert (engine.drawn_from, engine.returns_to) == ("tachometer.ignition", "")


def test_second_post_stays_without_wire_until_fed() -> None:
    """Not declared a feed, it belongs to no circuit and its load draws nothing."""
    console = console_of(SKETCH.replace('feeds = { second = "ignition" }', ""))
    assert console.post("speed.second").circuit == ""
    assert "speed.keep-alive" not in {load.name for load in console.loads}
    assert any("speed.keep-alive" in note for note in console.notes)


def test_signal_post_declared_a_feed() -> None:
    """A post that wants power is declared so, whatever its name: it is no signal from then on."""
    dial = own_dial('feeds = { signal = "ignition" }', "signal")
    text = f"{SKETCH}\n{dial}"
    post = console_of(text).post("trim.signal")
    assert (post.circuit, post.function) == ("ignition", "ignition")


def test_signal_post_declared_a_feed_takes_something_there() -> None:
    """A post without a load of its own is not joined to its dial's feed on somebody's word."""
    text = SKETCH.replace('feeds = { second = "ignition" }', 'feeds = { signal = "ignition" }')
    with pytest.raises(BadInput, match=r'post "signal" takes nothing .* with a load of its own'):
        console_of(text)


def test_lamp_left_without_wire() -> None:
    """ "spare" takes a post out of its circuit."""
    text = SKETCH.replace('pattern = "dial-52"', 'pattern = "dial-52"\nfeeds = { lamp = "spare" }')
    console = console_of(text)
    assert console.circuit("lamps").posts == ("speed.lamp",)


def test_bus_bars_are_optional_until_something_lands(six: Console) -> None:
    """The pump returns to the ground bar, so that whole bar is wanted; the others are free."""
    bars = [post for post in six.posts if post.instrument == "bars"]
    assert {"ignition", "accessory"} == {post.circuit for post in bars if post.optional}
    assert {"bars.ground"} == {post.link for post in bars if not post.optional}


def test_reserved_lug_makes_a_bar_wanted() -> None:
    """A lug reserved for later must have something behind it."""
    text = (SCENARIOS / "six-dial-console.toml").read_text()
    text = text.replace('name = "bars"', 'name = "bars"\nreserve = { accessory2 = 1 }')
    console = console_of(text)
    assert not console.post("bars.accessory3").optional
    assert console.post("bars.accessory2").reserved == 1


def test_free_studs_of_a_feed_that_is_not_there() -> None:
    """A free bar of a circuit the boat does not have stays without wire, without complaint."""
    bar = '[[instrument]]\nname = "bars"\npattern = "bus-bar-4-4-4"\ncentre = ["340 mm", "90 mm"]\n'
    console = console_of(f"{SKETCH}\n{bar}")
    assert console.post("bars.accessory1").circuit == ""
    assert console.post("bars.ignition1").circuit == "ignition"


def test_further_feed_that_is_taken() -> None:
    """A feed without pigtail is taken from one that has one."""
    extra = """
[[instrument]]
name = "socket"
pattern = "receptacle-28"
centre = ["340 mm", "90 mm"]
loads = { plug = "2 A" }

[[circuit]]
name = "accessory"
taken_from = "ignition"
minimum_size = "14 AWG"
"""
    console = console_of(SKETCH + extra)
    accessory = console.circuit("accessory")
    assert (
        accessory.taken_from,
        accessory.colour,
        accessory.side,
    ) == ("ignition", "orange", "feed")
    assert accessory.minimum_area_um2 == 2_080_896  # 4106.7 circular mils
    assert next(load.current_ma for load in console.loads if load.name == "socket.plug") == 2000


def test_tie_points_lead_both_ways(six: Console) -> None:
    """One side naming the other is enough."""
    assert {tie.name: tie.to for tie in six.tie_points} == {
        "large dials": ("middle",),
        "middle": ("large dials", "small dials"),
        "small dials": ("middle",),
    }


def test_keep_out_is_mirrored_and_in_order(six: Console) -> None:
    """Its corners come out lower left and upper right at the back (plate 600 mm wide)."""
    (bracket,) = six.keep_outs
    corners = (bracket.x0_dmm, bracket.y0_dmm, bracket.x1_dmm, bracket.y1_dmm)
    assert corners == (5400, 200, 5800, 600)


def test_lengths_that_must_suffice_are_rounded_down() -> None:
    """Reach and free thread down, the service travel up: the safe side."""
    text = SKETCH.replace('reach = "450 mm", fuse', 'reach = "450.19 mm", fuse')
    console = console_of(text + '\n[service]\ntravel = "10.01 mm"\n')
    pigtail = console.circuit("ignition").pigtail
    assert pigtail is not None
    assert (pigtail.reach_dmm, console.service_travel_dmm) == (4501, 101)


def _shuffled(node: Any, chance: random.Random) -> Any:
    if isinstance(node, dict):
        keys = list(node)
        chance.shuffle(keys)
        return {key: _shuffled(node[key], chance) for key in keys}
    if isinstance(node, list) and node and isinstance(node[0], dict):
        records = [_shuffled(record, chance) for record in node]
        chance.shuffle(records)
        return records
    return node


@settings(max_examples=20, deadline=None)
@given(st.integers(min_value=0, max_value=10_000))
def test_order_in_the_file_does_not_matter(seed: int) -> None:
    """The same records in any order give the same console."""
    values = tomllib.loads((SCENARIOS / "six-dial-console.toml").read_text())
    expected = load_toml(with_values(values)).console
    shuffled = _shuffled(values, random.Random(seed))
    assert expected == load_toml(with_values(shuffled)).console


def test_digest_and_file_are_kept() -> None:
    """The console says which bytes it was read from."""
    toml = toml_of(SKETCH)
    console = load_toml(toml).console
    assert (toml.digest, "test.toml") == (console.digest, console.file)


JUNK: tuple[Any, ...] = ("", "x", "1 mm", "-3 mm", 7, 1.5, True, [], {}, [[]], {"name": 3}, [{}])


def _paths(node: Any, base: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    items: list[tuple[Any, Any]] = []
    if isinstance(node, dict):
        items = list(node.items())
    elif isinstance(node, list):
        items = list(enumerate(node))
    found = [base] if base else []
    for key, value in items:
        found += _paths(value, (*base, key))
    return found


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_spoiled_scenarios_are_read_or_refused(data: st.DataObject) -> None:
    """Whatever stands in place of a value or two, the answer is a console or complaints."""
    values = tomllib.loads((SCENARIOS / "six-dial-console.toml").read_text())
    for _ in range(data.draw(st.integers(1, 2))):
        path = data.draw(st.sampled_from(_paths(values)))
        node: Any = values
        for key in path[:-1]:
            node = node[key]
        if data.draw(st.booleans()):
            # a copy: the second spoiling may reach into what the first one put there
            node[path[-1]] = copy.deepcopy(data.draw(st.sampled_from(JUNK)))
        else:
            del node[path[-1]]
    try:
        console = load_toml(with_values(values)).console
    except BadInput as refusal:
        assert all(complaint.message for complaint in refusal.complaints)
    else:
        assert console.posts
