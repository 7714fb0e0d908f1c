"""What a message advises is a path people take: each is followed to its end.

The consoles are bad inputs with a key, a fuse block, a dimmer, a switch, a relay or two feeds.
Every way out that a message offers is taken, one after the other and in every order, until the
file is accepted or no message offers anything further. What is accepted at the end must not join
the two sides of a device by the plan's own wires.
"""

from __future__ import annotations

import copy
import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.scenario_text import with_values

from lugwright.base.errors import BadInput, Complaint
from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.console import Console
from lugwright.scenario.load import load_toml

FOLDER = Path(__file__).parents[1] / "bad_inputs"
MOST_FILES = 400  # of one console; the ways out of a fault are few

# the sides of each device as post ids, and the circuits that it feeds
DEVICES = {
    "breakers_between_two_bars": ([("breaker panel.in1", "breaker panel.out1")], ("lamps",)),
    "fuse_holder_as_two_junctions": ([("holder.in", "holder.out")], ("ignition",)),
    "glow_relay_with_a_coil": ([("glow.contact", "glow.out")], ()),
    "horn_button_in_one_feed": ([("button.in", "button.out")], ()),
    "isolator_before_everything": ([("isolator.one", "isolator.two")], ("ignition",)),
    "navigation_and_anchor_switch": (
        [("toggle.in", "toggle.nav"), ("toggle.in", "toggle.anchor")],
        ("lamps",),
    ),
    "second_station_selector": (
        [("station.common", "station.port"), ("station.common", "station.starboard")],
        ("lamps",),
    ),
    "start_solenoid": ([("solenoid.bat", "solenoid.start")], ()),
    "stop_switch_on_a_feed": ([("stop switch.stop", "stop switch.ground")], ()),
    "two_bars_in_one_feed": ([("board.in1", "board.out1")], ("ignition",)),
    "breakers_in_a_row": ([("strip.in", "strip.one"), ("strip.in", "strip.two")], ("lamps",)),
    "changeover_of_two_feeds": ([("transfer.one", "transfer.two")], ("lamps",)),
    "dimmer_between_lamps": ([("dimmer.in", "dimmer.out")], ("lamps",)),
    "dimmer_with_a_wire_from_the_boat": ([("knob.in", "knob.out")], ("lamps",)),
    "far_post_of_a_switch_fed": ([("light switch.feed", "light switch.load")], ("lamps",)),
    "fuse_block_feeding_the_boat": ([("block.in", "block.f1")], ("pump",)),
    "key_and_fuse_block": ([("key.bat", "key.ign"), ("fuses.in", "fuses.f1")], ("ignition",)),
    "key_as_one_bar": ([("key.bat", "key.ign")], ("ignition",)),
    "key_in_one_circuit": ([("key.bat", "key.ign")], ("ignition",)),
    "key_of_two_junctions": ([("lock.bat", "lock.ign")], ("ignition",)),
    "key_that_switches_nothing": ([("key.bat", "key.ign")], ("ignition",)),
    "key_without_supply_behind_it": ([("key.bat", "key.ign")], ("ignition",)),
    "light_switch_with_its_own_lamps": ([("light switch.in", "light switch.out")], ("lamps",)),
    "load_between_two_feeds": ([("charge lamp.ignition", "charge lamp.second")], ()),
    "post_on_a_feed_without_a_purpose": ([], ()),
    "relay_with_its_contacts_in_one_feed": ([("relay.common", "relay.made")], ()),
    "taken_from_past_a_switch": ([], ("ignition",)),
    "rocker_that_switches_nothing": ([("light switch.feed", "light switch.load")], ("lamps",)),
    "switch_whose_near_post_is_spare": ([("pump switch.feed", "pump switch.load")], ()),
    "wire_on_a_lead": ([], ()),
    "wire_on_a_spare_post": ([], ()),
}
# those with an end where the part stands on the panel still
PLANNED = ("key_that_switches_nothing", "rocker_that_switches_nothing")
FUNCTION_CIRCUIT = {"lamp": "lamps"}


def refusals(values: dict[str, Any]) -> tuple[Complaint, ...]:
    """What is said of a file with these values; none where it is accepted."""
    try:
        load_toml(with_values(values))
    except BadInput as error:
        return error.complaints
    return ()


def instrument_of(values: dict[str, Any], field: str) -> dict[str, Any] | None:
    """The instrument that a complaint is about."""
    named = re.match(r'instrument "([^"]+)"', field)
    return next((i for i in values["instrument"] if named and i["name"] == named[1]), None)


def post_of(complaint: Complaint) -> str:
    """The post that a complaint is about."""
    found = re.search(r'post "([^"]+)"', complaint.message + complaint.field)
    return found[1] if found else ""


def ways_out(
    values: dict[str, Any], complaint: Complaint, fed: tuple[str, ...]
) -> Iterator[dict[str, Any]]:
    """The file after each thing that the complaint offers, taken by itself."""
    said = f"{complaint.message} {complaint.hint}"
    for post in re.findall(r'feeds = \{ (\S+) = "spare" \}', said):
        yield from with_feed(values, complaint, post, "spare")
    if "did you mean" in said:
        yield from spelt_as_meant(values, complaint)
    if "a load that takes its current there" in said or "a load of its own" in said:
        yield from with_load(values, complaint)
    if "link (metal of one bar" in said:
        yield from with_link(values, complaint)
    if "a wire under [[boat_wires]]" in said:
        yield from with_wire(values, complaint)
    if "says what it passes on: positions" in said:
        yield from with_ways(values, complaint)
    if 'leave it out of this plan, with "spare" at every post it feeds' in said:
        yield from without_part(values, complaint, fed)
    for circuit in re.findall(r'give the harness a pigtail for "([^"]+)"', said):
        yield from with_pigtail(values, circuit)
    if "leave it out where it goes to a part" in said:
        yield from without_pigtail(values, complaint)
    if "leave taken_from out" in said:
        yield from without_taken_from(values, complaint)
    for stud in re.findall(r'stud of circuit "[^"]+": "([^"]+)"', said):
        yield from landed_at(values, complaint, stud)


def with_feed(
    values: dict[str, Any], complaint: Complaint, post: str, circuit: str
) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    instrument = instrument_of(new, complaint.field)
    if instrument is None:  # said at the harness of a post of some instrument: take each
        return
    instrument.setdefault("feeds", {})[post] = circuit
    yield new


def spelt_as_meant(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    meant = re.search(r'did you mean "([^"]+)"', complaint.hint)
    assert meant
    for circuit in new.get("circuit", []):
        if f'circuit "{circuit["name"]}"' in complaint.field and "taken_from" in complaint.field:
            circuit["taken_from"] = meant[1]
            yield new


def with_load(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    instrument = instrument_of(new, complaint.field)
    if instrument is None or "geometry" not in instrument:
        return
    drawing = instrument["geometry"]
    ground = {"kind": "stud", "function": "ground", "at": ["0 mm", "14 mm"], "height": "25 mm"}
    ground |= {"thread": "M4", "free_thread": "12 mm"}
    drawing["posts"].setdefault("ground", ground)
    post = post_of(complaint)
    load = {"name": f"load {post}", "feed": post, "ground": "ground", "current": "0.1 A"}
    drawing["loads"] = [*drawing.get("loads", []), load]
    yield new


def with_link(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    """Its own link, or that of the posts that have one."""
    first = instrument_of(values, complaint.field)
    assert first
    posts = first["geometry"]["posts"]
    for link in {post_of(complaint), *(p["link"] for p in posts.values() if "link" in p)}:
        new = copy.deepcopy(values)
        instrument = instrument_of(new, complaint.field)
        assert instrument
        instrument["geometry"]["posts"][post_of(complaint)]["link"] = link
        yield new


def with_wire(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    instrument = instrument_of(new, complaint.field)
    assert instrument
    lands_on = f"{instrument['name']}.{post_of(complaint)}"
    wire = {"lands_on": lands_on, "wire_size": "14 AWG", "colour": "brown"}
    boat_wires = {"name": f"horn {len(new.get('boat_wires', []))}", "role": "load"}
    new.setdefault("boat_wires", []).append({**boat_wires, "current": "1 A", "wires": [wire]})
    yield new


def with_ways(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    """A way from each other feed post of the drawing to this one, and from this one to each.

    Where the far post's circuit is another than the near one's, it is supplied by the way; the
    console's own words for it are dropped.
    """
    part = instrument_of(values, complaint.field)
    if part is None or "geometry" not in part or part["geometry"].get("ways"):
        return
    here, posts = post_of(complaint), part["geometry"]["posts"]
    others = [post for post in posts if post != here and posts[post]["function"] != "ground"]
    for near, far in [(other, here) for other in others] + [(here, other) for other in others]:
        new = copy.deepcopy(values)
        instrument = instrument_of(new, complaint.field)
        assert instrument
        drawing = instrument["geometry"]
        drawing["positions"], drawing["ignition_protected"] = ["off", "on"], True
        way = {"from": near, "to": [far], "kind": "switch", "closed": ["on"]}
        drawing["ways"] = [way]
        yield copy.deepcopy(new)
        name = instrument.get("feeds", {}).get(far, posts[far]["function"])
        name = FUNCTION_CIRCUIT.get(name, name)
        stated = {"supplied_by": f"{part['name']}.{far}", "use": "accessories"}
        others_stated = [c for c in new.get("circuit", []) if c["name"] != name]
        new["circuit"] = [*others_stated, {"name": name, **stated}]
        yield new


def without_part(
    values: dict[str, Any], complaint: Complaint, fed: tuple[str, ...]
) -> Iterator[dict[str, Any]]:
    """Without the part and the wires that land on it; what it feeds has no wire."""
    new = copy.deepcopy(values)
    part = instrument_of(new, complaint.field)
    if part is not None:
        new["instrument"].remove(part)
        new["boat_wires"] = [
            boat_wires
            for boat_wires in new.get("boat_wires", [])
            if not any(w["lands_on"].startswith(f"{part['name']}.") for w in boat_wires["wires"])
        ]
    for instrument in new["instrument"]:
        for post in ("ignition", "lamp"):
            if instrument.get("pattern", "").startswith(("dial", "volt")) and (
                FUNCTION_CIRCUIT.get(post, post) in fed
            ):
                instrument.setdefault("feeds", {})[post] = "spare"
    yield new


def with_pigtail(values: dict[str, Any], circuit: str) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    wire = {"wire_size": "12 AWG", "reach": "900 mm", "colour": "red"}
    new["harness"][0]["pigtails"].append({"circuit": circuit, "fuse": "10 A", **wire})
    yield new


def without_pigtail(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    pigtails = new["harness"][0]["pigtails"]
    for pigtail in list(pigtails):
        if f'pigtail "{pigtail["circuit"]}"' in complaint.field:
            pigtails.remove(pigtail)
    yield new


def without_taken_from(values: dict[str, Any], complaint: Complaint) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    for circuit in new["circuit"]:
        if f'circuit "{circuit["name"]}"' in complaint.field:
            circuit.pop("taken_from", None)
    yield new


def landed_at(values: dict[str, Any], complaint: Complaint, stud: str) -> Iterator[dict[str, Any]]:
    new = copy.deepcopy(values)
    number = int(re.findall(r"wire (\d+)", complaint.field)[0]) - 1
    for boat_wires in new["boat_wires"]:
        if f'boat wires "{boat_wires["name"]}"' in complaint.field:
            boat_wires["wires"][number]["lands_on"] = stud
    yield new


def followed(start: dict[str, Any], fed: tuple[str, ...]) -> list[dict[str, Any]]:
    """Every file that is accepted after following what is advised, in any order."""
    waiting, seen, accepted = [start], {json.dumps(start, sort_keys=True)}, []
    while waiting and len(seen) < MOST_FILES:
        values = waiting.pop()
        complaints = refusals(values)
        if not complaints:
            accepted.append(values)
        for complaint in complaints:
            for new in ways_out(values, complaint, fed):
                key = json.dumps(new, sort_keys=True)
                if key not in seen:
                    seen.add(key)
                    waiting.append(new)
    return accepted


def wired(plan: Plan, console: Console, one: str, other: str) -> bool:
    """Whether jumpers of a plan, with links inside instruments, lead from one post to the other."""
    metal = {post.id: post.link or post.id for post in console.posts}
    reached, waiting = set(), [metal.get(one, one)]
    while waiting:
        here = waiting.pop()
        if here not in reached:
            reached.add(here)
            for jumper in plan.jumpers:
                ends = [metal.get(end, end) for end in (jumper.from_joint, jumper.to_joint)]
                waiting += ends if here in ends else []
    return metal.get(other, other) in reached


def joined(console: Console, one: str, other: str) -> bool:
    """Whether the plan's own wires join two posts: one circuit, or one taken from the other."""
    roots = []
    for name in (one, other):
        post = next((post for post in console.posts if post.id == name), None)
        if post is None or not post.circuit:
            return False
        roots.append(console.circuit(post.circuit).taken_from or post.circuit)
    return roots[0] == roots[1]


@pytest.mark.parametrize("name", sorted(DEVICES))
def test_no_advice_ends_in_wires_round_a_device(name: str) -> None:
    """Every way out of every message, to its end: refused, or both sides stay apart."""
    start = tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    assert refusals(start)
    sides, fed = DEVICES[name]
    for values in followed(start, fed):
        console = load_toml(with_values(values)).console
        assert [pair for pair in sides if joined(console, *pair)] == []


@pytest.mark.parametrize("name", sorted(PLANNED))
def test_no_plan_at_the_end_leads_round_a_device(name: str) -> None:
    """The part still stands on the panel: followed jumper by jumper, its sides stay apart."""
    sides, fed = DEVICES[name]
    start = tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    plans = 0
    for values in followed(start, fed):
        inputs = read_inputs(with_values(values))
        if any(post.id in pair for post in inputs.console.posts for pair in sides):
            plan = make_plan(inputs).plan
            plans += 1
            assert plan is not None
            assert [pair for pair in sides if wired(plan, inputs.console, *pair)] == []
            assert wired(plan, inputs.console, "fuel.ground", "volts.ground")
    assert plans > 0


def test_what_is_joined_is_seen() -> None:
    """The measure itself: two posts of one circuit are joined, and a lamp to its feed."""
    values = tomllib.loads((FOLDER / "wire_on_a_lead.toml").read_text(encoding="utf-8"))
    del values["boat_wires"]
    console = load_toml(with_values(values)).console
    assert joined(console, "fuel.ignition", "volts.ignition")
    assert joined(console, "fuel.ignition", "depth.lamp")
    assert not joined(console, "fuel.ignition", "fuel.ground")
