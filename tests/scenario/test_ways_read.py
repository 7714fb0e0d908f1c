"""A console of devices: key, lanyard, fuse block and light switch, as the file says them."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.scenario_text import SKETCH, console_of

from lugwright.base.positions import LANYARD
from lugwright.electrics.colours import canonical_colour, colour_code
from lugwright.scenario.console import Console, Way
from lugwright.scenario.library import find_pattern, pattern_names
from lugwright.scenario.load import load_scenario

DAY_BOAT = Path(__file__).with_name("consoles") / "day-boat.toml"


@pytest.fixture(scope="module")
def day_boat() -> Console:
    """One outboard, a key with a lanyard, four fuses and a light switch."""
    return load_scenario(DAY_BOAT).console


def test_ways_of_the_key(day_boat: Console) -> None:
    """Each far post is a way of its own, named by it, with what the file says of it."""
    assert day_boat.way_to("key.ign") == Way(
        "key", "key.bat", "key.ign", "switch", ("on", "start"), carries_ma=15_000
    )
    assert day_boat.way_to("key.crank") == Way(
        "key", "key.bat", "key.crank", "switch", ("start",), carries_ma=15_000
    )
    stop = day_boat.way_to("key.ground")
    assert stop == Way("key", "key.stop", "key.ground", "stop", ("off", LANYARD[1]))


def test_the_key_itself(day_boat: Console) -> None:
    """Positions with the one at rest first, its lanyard, its own limit, what stands behind it."""
    key = day_boat.instrument("key")
    assert key.positions == ("off", "on", "start")
    assert key.lanyard
    assert key.carries_in_ma == 20_000
    assert key.ignition_protected
    assert day_boat.petrol_behind
    assert day_boat.instrument("tachometer").setting == "pulses as the engine's plate says"


def test_fuses_in_their_holders(day_boat: Console) -> None:
    """Amperes by far post; a holder without a fuse is empty, and conducts nothing."""
    fuses = {way.far: way for way in day_boat.ways if way.instrument == "fuses"}
    assert {post: way.amperes_ma for post, way in fuses.items()} == {
        "fuses.f1": 5000,
        "fuses.f2": 5000,
        "fuses.f3": 7500,
        "fuses.f4": 0,
    }
    assert [post for post, way in fuses.items() if way.is_empty] == ["fuses.f4"]
    assert {way.near for way in fuses.values()} == {"fuses.in"}
    assert {way.closed for way in fuses.values()} == {()}


# ABYC E-11 DC colour table (reference/conductor_colours.csv); stop: engine-trade practice, no
# source. The battery circuit has a pigtail and no use: an accessory feed, as before.
COLOURS = {
    "battery": "orange",
    "ground": "black",
    "ignition": "purple",
    "lamps": "dark blue",
    "light feed": "dark blue",
    "pump": "brown",
    "start": "yellow with red stripe",
    "stop": "black with yellow stripe",
    "switched": "purple",
}


def test_circuits_and_their_supplies(day_boat: Console) -> None:
    """One supply each: a pigtail or a far post, which is one of the circuit's own."""
    assert {c.name: c.colour for c in day_boat.circuits} == COLOURS
    by_way = {c.name: c.supplied_by for c in day_boat.circuits if c.supplied_by}
    assert by_way == {
        "ignition": "fuses.f1",
        "lamps": "light.out",
        "light feed": "fuses.f2",
        "pump": "fuses.f3",
        "start": "key.crank",
        "switched": "key.ign",
    }
    for name, post in by_way.items():
        assert post in day_boat.circuit(name).posts
        assert day_boat.circuit(name).pigtail is None
        assert day_boat.circuit(name).side == "feed"
    assert day_boat.circuit("light feed").posts == ("fuses.f2", "light.in")
    assert {c.taken_from for c in day_boat.circuits} == {""}


def test_stop_circuit(day_boat: Console) -> None:
    """It has its own side and its own pigtail, and no fuse."""
    stop = day_boat.circuit("stop")
    assert (stop.side, stop.posts) == ("stop", ("key.stop",))
    assert stop.pigtail is not None
    assert (stop.pigtail.label, stop.pigtail.fuse_ma) == ("stop", 0)


def test_load_at_the_end_of_a_pigtail(day_boat: Console) -> None:
    """A block of one wire, landed on the bench on its circuit's only post."""
    start = next(block for block in day_boat.boat_blocks if block.name == "start")
    (wire,) = start.wires
    assert (wire.id, wire.lands_on, wire.stage) == ("pigtail start", "key.crank", "bench")
    assert (wire.reach_dmm, wire.wire.wire_size) == (9000, "14 AWG")
    assert (start.current_ma, start.drawn_from, start.returns_to) == (4000, "key.crank", "")
    assert (start.load_kind, start.duty) == ("relay", "momentary")
    assert "start" not in {p.label for p in day_boat.unused_pigtails}


def test_boat_wire_on_a_far_post(day_boat: Console) -> None:
    """What a fuse feeds alone leaves its tab, and draws from the fuse's own circuit."""
    pump = next(block for block in day_boat.boat_blocks if block.name == "bilge pump")
    assert (pump.drawn_from, pump.returns_to) == ("fuses.f3", "tachometer.ground")
    assert (pump.load_kind, pump.maker_fuse_ma, pump.current_ma) == ("motor", 7500, 4000)


def test_lamps_say_what_they_are(day_boat: Console) -> None:
    """A bulb takes several times its current when cold; an unstated load is plain resistance."""
    kinds = {load.name: load.kind for load in day_boat.loads}
    assert kinds["fuel.lamp"] == "bulb"
    assert kinds["fuel.movement"] == "resistive"


@pytest.mark.parametrize("name", pattern_names())
def test_devices_of_the_library(name: str) -> None:
    """Ways lead between posts, each far post has one, and what they close in is there."""
    pattern = find_pattern(name)
    assert pattern is not None
    far = [post for way in pattern.ways for post in way.to]
    assert len(set(far)) == len(far)
    for way in pattern.ways:
        assert {way.near, *way.to} <= set(pattern.posts)
        assert way.is_always or set(way.closed or ()) < set(pattern.positions)
    assert pattern.ignition_protected == bool(pattern.ways)


DEVICE = """
[[instrument]]
name = "device"
pattern = "{pattern}"
centre = ["60 mm", "{y} mm"]
feeds = {{ {near} = "ignition" }}
{more}
[[circuit]]
name = "accessory"
supplied_by = "device.{far}"
use = "accessories"
"""
WIRE = """
[[boat_wires]]
name = "horn"
role = "load"
current = "2 A"
wires = [{{ lands_on = "device.{far}", wire_size = "16 AWG", colour = "orange" }}]
"""
DEVICES = {
    "breaker-strip-4": ("in", "b1"),
    "dimmer": ("in", "out"),
    "fuse-block-4": ("in", "f1"),
    "fuse-block-6": ("in", "f1"),
    "key-switch": ("bat", "ign"),
    "kill-switch": ("in", "out"),
    "light-switch": ("in", "out"),
    "navigation-anchor-switch": ("in", "navigation"),
    "rocker-22-37": ("in", "out"),
}


def test_every_device_of_the_library_is_tried() -> None:
    """The list above is whole."""
    devices = {name for name in pattern_names() if (p := find_pattern(name)) and p.ways}
    assert set(DEVICES) == devices


@pytest.mark.parametrize("pattern", sorted(DEVICES))
def test_pattern_in_a_console(pattern: str) -> None:
    """One way is used, the others' far posts are spare; the far post's circuit needs no feeds."""
    near, far = DEVICES[pattern]
    drawn = find_pattern(pattern)
    assert drawn is not None
    spare = [post for way in drawn.ways for post in way.to if post != far]
    feeds = ", ".join([f'{near} = "ignition"', *(f'{post} = "spare"' for post in spare)])
    is_fused = drawn.ways[0].kind in ("fuse", "breaker")
    amperes = f'amperes = {{ {far} = "5 A" }}\n' if is_fused else ""
    text = DEVICE.format(pattern=pattern, near=near, far=far, more=amperes, y=60)
    text = text.replace(f'feeds = {{ {near} = "ignition" }}', f"feeds = {{ {feeds} }}")
    wire = WIRE.format(far=far)
    if pattern == "dimmer":
        wire = wire.replace('role = "load"', 'role = "load"\nload_kind = "led"')
    console = console_of(wide(SKETCH) + text + wire)
    way = console.way_to(f"device.{far}")
    assert (way.kind, way.near) == (drawn.ways[0].kind, f"device.{near}")
    assert console.circuit("accessory").posts == (f"device.{far}",)
    assert console.circuit("accessory").colour == "orange"
    assert way.is_fused == is_fused
    assert not any(console.post(f"device.{post}").circuit for post in spare)


def wide(text: str) -> str:
    """The sketch on a plate with room for one part more at its left, its dials moved over."""
    for x in ("110", "230"):
        text = text.replace(f'["{x} mm"', f'["{int(x) + 160} mm"')
    return text.replace('width = "420 mm"', 'width = "720 mm"').replace('"320 mm"', '"600 mm"')


@pytest.mark.parametrize(
    ("written", "colour", "code"),
    [
        ("purple with white stripe", "purple with white stripe", "VTWH"),
        ("purple/white", "purple with white stripe", "VTWH"),
        ("Violet / Grey", "purple with gray stripe", "VTGY"),
        ("dark blue/light blue", "dark blue with light blue stripe", "DBULBU"),
        ("black with yellow stripe", "black with yellow stripe", "BKYE"),
        ("green/yellow", "green with yellow stripe", "GNYE"),
    ],
)
def test_any_base_with_any_stripe(written: str, colour: str, code: str) -> None:
    """Both colours are of the published list; the code has the base first (IEC 60757)."""
    assert canonical_colour(written) == colour
    assert colour_code(written) == code


@pytest.mark.parametrize("written", ["purple/purple", "purple/beige", "purple with stripe", "/red"])
def test_no_stripe_of_its_own(written: str) -> None:
    """A stripe is another colour of the list."""
    with pytest.raises(ValueError, match="colour must be one of"):
        canonical_colour(written)


def day_boat_with(*edits: tuple[str, str]) -> Console:
    """The day boat after these replacements, each of text that is there."""
    text = DAY_BOAT.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return console_of(text)


CAPPED = '  { label = "tachometer", colour = "gray", cap_off = true, live = false },'
ENGINE_FEED = (
    '  { circuit = "ignition", label = "engine feed", role = "load", colour = "purple/white", '
    'wire_size = "16 AWG", reach = "700 mm", current = "1.5 A", lands_on = "tachometer.ignition", '
    'stage = "aboard", returns_to = "fuel.ground", one_way = "3 m", fuse = "3 A", '
    'drop_class = "critical" },'
)


def test_load_at_a_stated_post() -> None:
    """Where its circuit has several posts the file says which; all else is its own too."""
    console = day_boat_with((CAPPED, ENGINE_FEED))
    feed = next(block for block in console.boat_blocks if block.name == "engine feed")
    (wire,) = feed.wires
    assert (wire.id, wire.lands_on) == ("pigtail engine feed", "tachometer.ignition")
    assert (wire.stage, wire.one_way_dmm, wire.fuse_ma) == ("aboard", 30_000, 3000)
    assert wire.wire.colour == "purple with white stripe"
    assert (feed.drawn_from, feed.returns_to) == ("tachometer.ignition", "fuel.ground")
    assert (feed.drop_class, feed.load_kind, feed.duty) == ("critical", "resistive", "continuous")


@pytest.mark.parametrize(
    ("use", "colour"),
    [
        ("instruments", "purple"),
        ("lights", "dark blue"),
        ("navigation", "gray"),
        ("pumps", "brown"),
        ("blower", "brown with yellow stripe"),
        ("start", "yellow with red stripe"),
        ("accessories", "orange"),
    ],
)
def test_use_gives_the_colour(use: str, colour: str) -> None:
    """ABYC E-11 DC colour table (reference/conductor_colours.csv)."""
    console = day_boat_with(('use = "pumps"', f'use = "{use}"'))
    assert console.circuit("pump").colour == colour


def test_a_stated_colour_needs_no_use() -> None:
    """Colour and stripe as the shop has the wire."""
    console = day_boat_with(('use = "pumps"', 'colour = "brown/white"'))
    assert console.circuit("pump").colour == "brown with white stripe"


def test_breaker_as_a_switch() -> None:
    """Rated for it it has positions; not trip-free it protects nothing (33 CFR 183.455(a))."""
    key = 'kind = "switch", closed = ["on", "start"], carries = "15 A"'
    breaker = 'kind = "breaker", closed = ["on", "start"], amperes = "15 A", as_switch = true'
    way = day_boat_with((key, breaker)).way_to("key.ign")
    assert (way.kind, way.closed, way.amperes_ma) == ("breaker", ("on", "start"), 15_000)
    assert not way.is_fused
    assert not way.is_empty
    assert day_boat_with((key, f"{breaker}, trip_free = true")).way_to("key.ign").is_fused


def test_contacts_and_ratings_of_a_way() -> None:
    """Resistance in micro-ohm; kinds of load in one order, each once."""
    carries = 'closed = ["start"], carries = "15 A"'
    more = f'{carries}, contact = "5 mohm", rated_for = ["relay", "motor", "relay"]'
    way = day_boat_with((carries, more)).way_to("key.crank")
    assert (way.contact_uohm, way.rated_for) == (5000, ("motor", "relay"))


def test_parts_of_one_metal_at_a_way() -> None:
    """A second stud of the bus of a block, linked to its near post, is a post of the near side."""
    stud = '{ kind = "stud", function = "battery", at = ["%s mm", "6 mm"], height = "47 mm", '
    linked = stud + 'link = "bus", '
    size = 'thread = "#8-32", free_thread = "10 mm" }'
    second = f"posts.two = {linked % 9}{size}\n"
    old = f"posts.bat = {stud % 0}"
    console = day_boat_with((old, f"{second}posts.bat = {linked % 0}"))
    assert console.post("key.bat").link == console.post("key.two").link == "key.bus"
    assert console.circuit("battery").posts == ("key.bat", "key.two")
    assert {way.near for way in console.ways if way.instrument == "key"} == {"key.bat", "key.stop"}


def test_petrol_parted_off() -> None:
    """A device that is not protected may stand where the file says no petrol is behind."""
    unprotected = ('carries_in = "20 A"\nignition_protected = true', 'carries_in = "20 A"')
    parted = ("petrol_behind = true", "petrol_behind = false")
    console = day_boat_with(unprotected, parted)
    assert not console.petrol_behind
    assert not console.instrument("key").ignition_protected
