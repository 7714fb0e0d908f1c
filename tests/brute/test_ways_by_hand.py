"""Tiny consoles with ways, every number reckoned by hand (lengths in 0.1 mm).

The rules stand in the specification of consoles with devices; the factors of a switch's loads in
AC 43.13-1B Table 11-4 (12 V: lamp 5, relay and motor 2, resistive 1; 28 V: 8, 4, 3, 2).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from support.limits import plain_limits

from brute.by_hand import BLACK, BLUE, PURPLE, RING, STOCK, WIRE, best, pigtail, post
from brute.enumerate import best_by_enumeration
from brute.random_ways import FACTORS
from brute.sections import section
from brute.setting import Setting
from brute.states import position_vectors, states
from brute.straight_routes import straight_routes
from lugwright.limits.schema import Limits
from lugwright.scenario.console import (
    BoatBlock,
    BoatWire,
    Circuit,
    Console,
    Instrument,
    Load,
    Point,
    Post,
    ReadyRing,
    Way,
)

SHORTEST = plain_limits(objective="shortest")
RED = replace(PURPLE, colour="red", name="r")
PUSH_ON = replace(RING, name="push-on", kind="push-on", stud_threads=(), tab_size="6.3 x 0.8")
SHELF = replace(STOCK, spools=(RED, PURPLE, BLACK, BLUE), fittings=(*STOCK.fittings, PUSH_ON))
TAB = {"kind": "tab", "tab_size": "6.3 x 0.8", "thread": ""}
LEAD = {"kind": "lead", "lead": WIRE, "thread": ""}
COLOURS = {"battery": "red", "ignition": "purple", "lamps": "blue", "ground": "black"}


def panel(
    posts: Sequence[Post],
    loads: Sequence[Load],
    ways: Sequence[Way],
    taken: Sequence[str] = (),
    blocks: Sequence[BoatBlock] = (),
    **pigtails: Any,
) -> Console:
    """A console; circuits behind a way are supplied by it, the others by pigtails.

    ``taken`` circuits are taken from ignition.
    """
    circuits = []
    for name in dict.fromkeys(each.circuit for each in posts):
        ids = tuple(each.id for each in posts if each.circuit == name)
        far = next((way.far for way in ways if way.far in ids and way.kind != "stop"), "")
        own = None
        if not far and name not in taken:
            own = pigtails.get(name) or pigtail(name)
        side: Any = "ground" if name == "ground" else "feed"
        colour = COLOURS.get(name, "purple")
        source = "ignition" if name in taken else ""
        circuits.append(Circuit(name, side, colour, "", source, ids, own, 0, far))
    names = dict.fromkeys(each.instrument for each in posts)
    devices = tuple(
        Instrument(name, "dial", Point(0, 0, 0), 520, 580, 510, 300, positions=_held(ways, name))
        for name in names
    )
    return Console(
        title="t",
        width_dmm=5000,
        height_dmm=2000,
        thickness_dmm=60,
        nominal_mv=12_000,
        engine_space=False,
        service_travel_dmm=0,
        instruments=devices,
        posts=tuple(posts),
        loads=tuple(loads),
        circuits=tuple(circuits),
        unused_pigtails=(),
        boat_blocks=tuple(blocks),
        keep_outs=(),
        tie_points=(),
        ways=tuple(ways),
    )


def _held(ways: Sequence[Way], device: str) -> tuple[str, ...]:
    held = [each for way in ways if way.instrument == device for each in way.closed]
    return ("off", *dict.fromkeys(held)) if held else ()


def keyed(**changes: Any) -> Console:
    """A key at 0 (bat, ign 100 on), dials a at 300, b at 1300 and c at 1500, all behind it."""
    far: dict[str, Any] = changes.pop("far", {})
    way: dict[str, Any] = changes.pop("way", {})
    posts = [
        post("key", "battery", 0, 0),
        post("key", "ignition", 100, 0, **far),
        post("a", "ignition", 300, 0),
        post("b", "ignition", 1300, 0),
        post("c", "ignition", 1500, 0),
    ]
    loads = [Load(name, f"{name}.ignition", "", 1000, "other") for name in "abc"]
    ways = [Way("key", "key.battery", "key.ignition", "switch", ("on",), **way)]
    return panel(posts, loads, ways, **changes)


def hubs_only(console: Console, *names: str) -> Console:
    """The console with these instruments as its hub candidates."""
    made = tuple(replace(each, hub_candidate=each.name in names) for each in console.instruments)
    return replace(console, instruments=made)


def with_limits(console: Console, device: str, **changes: Any) -> Console:
    """The console with fields of one instrument changed."""
    made = tuple(
        replace(each, **changes) if each.name == device else each for each in console.instruments
    )
    return replace(console, instruments=made)


def cost(console: Console, limits: Limits = SHORTEST) -> tuple[int, ...] | None:
    """The least cost with the shelf of this page."""
    return best(console, limits, SHELF)


def test_one_jumper_leaves_the_far_post() -> None:
    """Key to hub, then the dials: 200 + 1000 + 200 over a; to b 1200 and from it 1000 + 200.

    Lugs: battery, key's ignition, a, b, c: 5; b as hub takes three ends, two in a barrel.
    """
    assert cost(keyed()) == (1400, 0, 5)
    assert cost(hubs_only(keyed(), "b")) == (2400, 1, 6)
    assert cost(hubs_only(keyed(), "key")) is None
    assert cost(keyed(far=TAB)) == (1400, 0, 5)
    assert cost(keyed(far=LEAD)) == (1400, 0, 5)


def test_the_far_post_is_left_once_where_two_jumpers_would_be_shorter() -> None:
    """A far post in the middle, a and c 500 either side of it: 500 and 1000, not twice 500."""
    given = keyed()
    places = {"key.ignition": 1000, "a.ignition": 500, "b.ignition": 1500, "c.ignition": 1500}
    posts = tuple(
        replace(each, at=Point(places[each.id], 0, 0)) if each.id in places else each
        for each in given.posts
    )
    assert cost(replace(given, posts=posts)) == (1500, 0, 5)


def test_the_only_other_post_is_landed_on_whatever_the_hub() -> None:
    """Battery lands on the key, which may be no hub; and so does ignition on its only dial."""
    given = keyed()
    fewer = tuple(each for each in given.posts if each.instrument not in ("b", "c"))
    loads = given.loads[:1]
    made = panel(fewer, loads, given.ways)
    assert cost(hubs_only(made)) == (200, 0, 3)
    only_far = panel(fewer[:2], [Load("pilot", "key.ignition", "", 100, "other")], given.ways)
    assert cost(hubs_only(only_far)) == (0, 0, 1)


def test_a_far_post_alone_feeds_a_boat_wire() -> None:
    """No jumper and no hub: the pigtail's lug and the boat wire's."""
    posts = [post("key", "battery", 0, 0), post("key", "ignition", 100, 0, **TAB)]
    wire = BoatWire("pump: feed", "pump", "key.ignition", WIRE, None, None, 0, 0, 0)
    block = BoatBlock("pump", (wire,), 4000, "key.ignition", "", "other", False)
    ways = [Way("key", "key.battery", "key.ignition", "switch", ("on",))]
    assert cost(panel(posts, [], ways, blocks=[block])) == (0, 0, 2)


def test_drop_through_a_contact_decides_at_the_last_nanovolt() -> None:
    """Landing at a, as in the two dials: 13263 nOhm/mm.

    Pigtail 900 mm: 11937 uOhm x 3000; contact 10000 uOhm x 3000; key to a 20 mm: 266 x 3000;
    a to b 100 mm: 1327 x 2000; b to c 20 mm: 266 x 1000:
    35 811 000 + 30 000 000 + 798 000 + 2 654 000 + 266 000 = 69 529 000 nV. One less: a longer
    way to wire it, with b and c from a by themselves.
    """
    given = hubs_only(keyed(way={"contact_uohm": 10_000}), "a")
    limits = plain_limits(objective="shortest", drop_other_permille=1)
    assert cost(replace(given, nominal_mv=69_529), limits) == (1400, 0, 5)
    assert cost(replace(given, nominal_mv=69_528), limits) == (2400, 1, 6)


def test_a_leads_crimp_counts_on_either_side_of_a_way() -> None:
    """1000 uOhm a crimp: pigtail, then the near post, two a jumper, and the far lead: 3 A each.

    On studs: pigtail's 1, key-a 2 (3 A), a-b 2 (2 A), b-c 2 (1 A): 3 + 6 + 4 + 2 = 15 mV more
    than without; the far lead adds 3 mV.
    """
    limits = plain_limits(objective="shortest", drop_other_permille=1, crimp_uohm=1000)
    least = 39_529 + 15_000
    for far, more in (({}, 0), (LEAD, 3_000)):
        given = hubs_only(keyed(far=far), "a")
        assert cost(replace(given, nominal_mv=least + more), limits) == (1400, 0, 5)
        assert cost(replace(given, nominal_mv=least + more - 1), limits) == (2400, 1, 6)


@pytest.mark.parametrize(
    ("kind", "volts", "least"),
    [
        *(("bulb", 12, 5), ("relay", 12, 2), ("motor", 12, 2), ("resistive", 12, 1)),
        *(("led", 12, 1), ("bulb", 24, 8), ("relay", 24, 4), ("motor", 24, 3)),
        *(("resistive", 24, 2), ("led", 24, 2)),
    ],
)
def test_a_switch_is_rated_by_the_kind_of_its_loads(kind: Any, volts: int, least: int) -> None:
    """a draws 1 A of that kind, b and c 1 A each that is resistive."""
    rest = 2 if volts == 12 else 4
    needed = 1000 * (least + rest)

    def with_carries(carries_ma: int, **way: Any) -> Console:
        given = keyed(way={"carries_ma": carries_ma, **way})
        loads = (replace(given.loads[0], kind=kind), *given.loads[1:])
        return replace(given, loads=loads, nominal_mv=volts * 1000)

    limits = replace(SHORTEST, **FACTORS)
    assert cost(with_carries(needed), limits) is not None
    assert cost(with_carries(needed - 1), limits) is None
    assert cost(with_carries(3000, rated_for=(kind, "resistive")), limits) is not None
    assert cost(with_carries(2999, rated_for=(kind, "resistive")), limits) is None


def blocked(amperes: Sequence[int], kind: Any = "fuse", **way: Any) -> Console:
    """A block at 0 with a battery stud; a way for dial a (1 A, at 300), one for b (2 A, 1300)."""
    posts = [
        post("block", "battery", 0, 0),
        post("block", "first", 100, 0),
        post("block", "other", 100, 100),
        post("a", "first", 300, 0),
        post("b", "other", 1300, 100),
    ]
    loads = [Load("a", "a.first", "", 1000, "other"), Load("b", "b.other", "", 2000, "other")]
    ways = [
        Way("block", "block.battery", f"block.{name}", kind, amperes_ma=rating, **way)
        for name, rating in zip(("first", "other"), amperes, strict=True)
    ]
    return panel(posts, loads, ways, battery=pigtail("battery", fuse_ma=20_000))


def test_load_within_the_share_of_each_fuse() -> None:
    """80 %: 2 A need 2.5 A and 3 A need 3.75 A; every fuse carries all beyond it."""
    limits = plain_limits(objective="shortest", load_permille=800)
    assert cost(blocked((1250, 2500)), limits) == (200 + 1200, 0, 5)
    assert cost(blocked((1249, 2500)), limits) is None
    assert cost(blocked((1250, 2499)), limits) is None
    small = blocked((1250, 2500))
    for fuse, found in ((3750, (1400, 0, 5)), (3749, None)):
        circuits = tuple(
            replace(each, pigtail=replace(each.pigtail, fuse_ma=fuse)) if each.pigtail else each
            for each in small.circuits
        )
        assert cost(replace(small, circuits=circuits), limits) == found


def test_only_continuous_loads_count_in_the_share_and_all_in_the_whole() -> None:
    """A momentary 4 A behind a 4 A fuse at 80 %: it may; 4.001 A may not."""
    posts = [post("key", "battery", 0, 0), post("key", "ignition", 100, 0, **TAB)]
    wire = BoatWire("horn: feed", "horn", "key.ignition", WIRE, None, None, 0, 0, 0)
    ways = [Way("key", "key.battery", "key.ignition", "fuse", amperes_ma=4000)]
    limits = plain_limits(objective="shortest", load_permille=800)
    for current, duty, holds in (
        (4000, "momentary", True),
        (4001, "momentary", False),
        (3200, "continuous", True),
        (3201, "continuous", False),
    ):
        kind: Any = duty
        block = BoatBlock(
            "horn", (wire,), current, "key.ignition", "", "other", False, "relay", kind
        )
        assert (cost(panel(posts, [], ways, blocks=[block]), limits) is not None) == holds


def test_a_section_runs_to_the_next_fuse() -> None:
    """The fuse over each circuit: 20 A up to the block, then each way's own; a switch passes on."""
    given = blocked((5000, 7500))
    posts = (*given.posts, post("b", "lamps", 1300, 200), post("b", "tail", 1300, 300))
    ways = (
        *given.ways,
        Way("b", "b.other", "b.lamps", "switch", ("on",)),
        Way("b", "b.lamps", "b.tail", "breaker", amperes_ma=2000),
    )
    made = panel(posts, given.loads, ways, battery=pigtail("battery", fuse_ma=20_000))
    setting = Setting(made, SHORTEST, SHELF, straight_routes(made, {}))
    found = {circuit.name: section(setting, circuit) for circuit in made.circuits}
    assert found == {
        "battery": (20_000, "battery"),
        "first": (5000, "first"),
        "other": (7500, "other"),
        "lamps": (7500, "other"),
        "tail": (7500, "other"),  # a breaker that does not trip free protects nothing
    }
    free = (*ways[:-1], replace(ways[-1], trip_free=True))
    made = replace(made, ways=free)
    setting = Setting(made, SHORTEST, SHELF, straight_routes(made, {}))
    assert section(setting, made.circuit("tail")) == (2000, "tail")


def test_a_fuse_spares_the_wires_of_its_section() -> None:
    """16 AWG at 105 C stands 25 A (33 CFR 183.425 Table 5): 25 A at most in a section of it."""
    limits = plain_limits(objective="shortest", fuse_permille=1000)
    assert cost(blocked((25_000, 25_000)), limits) == (1400, 0, 5)
    assert cost(blocked((25_001, 25_000)), limits) is None


def test_a_breaker_that_does_not_trip_free_still_trips() -> None:
    """It protects nothing, and what it feeds stays within its share all the same."""
    assert cost(blocked((1000, 2000), "breaker")) == (1400, 0, 5)
    assert cost(blocked((1000, 1999), "breaker")) is None


def test_an_empty_holder_is_an_open_way() -> None:
    """Without a fuse b draws nothing: the battery's fuse feeds a alone; its wire stays."""
    limits = plain_limits(objective="shortest", load_permille=1000)
    given = blocked((1000, 0))
    circuits = tuple(
        replace(each, pigtail=replace(each.pigtail, fuse_ma=1000)) if each.pigtail else each
        for each in given.circuits
    )
    assert cost(replace(given, circuits=circuits), limits) == (1400, 0, 5)


def test_the_near_post_stands_its_ways_together_and_the_fuse_ahead() -> None:
    """1 A and 2 A together need 3 A of a switch; a block also stands the 20 A ahead of it."""
    switch = blocked((0, 0), "switch", closed=("on",))
    for limit, possible in ((3000, True), (2999, False)):
        assert (cost(with_limits(switch, "block", carries_in_ma=limit)) is not None) == possible
    block = blocked((5000, 5000))
    for limit, possible in ((20_000, True), (19_999, False)):
        assert (cost(with_limits(block, "block", carries_in_ma=limit)) is not None) == possible


def test_positions_of_one_device_never_add() -> None:
    """Off, one, other: the near post stands the larger alone; with a position for both, the sum."""
    apart = blocked((0, 0), "switch")
    ways = tuple(
        replace(way, closed=(held,)) for way, held in zip(apart.ways, ("one", "other"), strict=True)
    )
    apart = panel(apart.posts, apart.loads, ways, battery=pigtail("battery", fuse_ma=2000))
    assert len(set(position_vectors(apart))) == 3
    assert states(apart) == (frozenset({0}), frozenset({1}))
    assert cost(with_limits(apart, "block", carries_in_ma=2000)) == (1400, 0, 5)
    assert cost(with_limits(apart, "block", carries_in_ma=1999)) is None
    both = tuple(replace(way, closed=(*way.closed, "both")) for way in ways)
    added = panel(apart.posts, apart.loads, both, battery=pigtail("battery", fuse_ma=3000))
    assert states(added) == (frozenset({0, 1}),)
    assert cost(with_limits(added, "block", carries_in_ma=2999)) is None


def test_each_loads_drop_is_taken_in_the_state_it_is_on_in() -> None:
    """One or other: b (2 A) alone decides: 11937 uOhm and 120 mm of 13263 nOhm/mm (1592) x 2 A."""
    apart = blocked((0, 0), "switch")
    ways = tuple(
        replace(way, closed=(held,)) for way, held in zip(apart.ways, ("one", "other"), strict=True)
    )
    given = panel(apart.posts, apart.loads, ways)
    limits = plain_limits(objective="shortest", drop_other_permille=1)
    assert cost(replace(given, nominal_mv=(11_937 + 1_592) * 2), limits) == (1400, 0, 5)
    assert cost(replace(given, nominal_mv=(11_937 + 1_592) * 2 - 1), limits) is None


def grounded() -> Console:
    """The keyed dials with a ground on a and on the key: nothing has a post of every circuit."""
    given = keyed()
    more = (post("a", "ground", 300, 400), post("key", "ground", 0, 400))
    return panel((*given.posts, *more), given.loads, given.ways)


def test_the_hub_has_most_circuits_of_two_posts_or_more() -> None:
    """a has ignition and ground and is the hub; b, c and the key have one each.

    Battery lands on its only post. Without a as a hub: ignition at b with ground at the key, or
    the other way about; three ends at b.
    """
    found = best_by_enumeration(
        grounded(), SHORTEST, SHELF, straight_routes(grounded(), {})
    )
    assert found.cost == (1400 + 300, 0, 7)
    assert found.hub is not None
    assert "ignition=a.ignition" in found.hub
    assert "ground=a.ground" in found.hub
    without_a = hubs_only(grounded(), "b", "c", "key")
    assert cost(without_a) == (1200 + 1000 + 200 + 300, 1, 8)
    assert cost(hubs_only(grounded(), "b", "c")) is None  # nowhere to land the ground


def with_lamps(far: dict[str, Any], only_far: bool) -> Console:
    """Lamps of a and b (500 above the dials), taken from ignition behind the key."""
    given = keyed(far=far)
    posts = [each for each in given.posts if each.instrument != "c"]
    if only_far:
        posts = [each for each in posts if each.circuit != "ignition" or each.instrument == "key"]
    posts += [post("a", "lamps", 300, 500), post("b", "lamps", 1300, 500)]
    loads = [Load(f"{name} lamp", f"{name}.lamps", "", 100, "other") for name in "ab"]
    if not only_far:
        loads += given.loads[:2]
    return panel(posts, loads, given.ways, taken=("lamps",))


def test_lamps_leave_the_landing_post_or_a_far_post_that_is_alone() -> None:
    """From a 500 and on 1000; from the key alone to a's lamp ceil(hypot(200, 500)) = 539.

    A tab that holds nothing else may be left, a lead may not.
    """
    assert cost(with_lamps({}, False)) == (200 + 1000 + 500 + 1000, 1, 7)
    assert cost(with_lamps({}, True)) == (539 + 1000, 0, 4)
    assert cost(with_lamps(TAB, True)) == (539 + 1000, 0, 4)
    assert cost(with_lamps(LEAD, True)) is None


def test_one_lamp_jumper_leaves_a_lone_tab_and_any_number_a_lone_stud() -> None:
    """Lamps either side of the key: ceil(hypot(400, 500)) = 641 and ceil(hypot(600, 500)) = 782.

    A tab that is left holds nothing else, so there the second lamp hangs on the first, 1000 on.
    """
    given = with_lamps({}, True)
    posts = tuple(
        replace(each, at=Point(700, 0, 0)) if each.id == "key.ignition" else each
        for each in given.posts
    )
    anywhere = replace(SHORTEST, lamp_take_off="any")
    assert cost(replace(given, posts=posts), anywhere) == (641 + 782, 0, 4)
    tab = tuple(replace(each, **TAB) if each.id == "key.ignition" else each for each in posts)
    assert cost(replace(given, posts=tab), anywhere) == (641 + 1000, 0, 4)


def test_lamps_leave_no_tab_that_holds_a_boat_wire() -> None:
    """The far tab is its circuit's only post, but a horn's wire lands on it."""
    given = with_lamps(TAB, True)
    wire = BoatWire("horn: feed", "horn", "key.ignition", WIRE, None, None, 0, 0, 0)
    block = BoatBlock("horn", (wire,), 500, "key.ignition", "", "other", False)
    assert cost(replace(given, boat_blocks=(block,))) is None


def test_a_load_pigtail_shares_a_barrel_with_its_circuits_jumper() -> None:
    """A harness's pigtail with a load at its end, at the bench: one lug with a's jumper ends."""
    wire = BoatWire("pigtail horn", "horn", "a.ignition", WIRE, None, None, 0, 0, 0, "bench")
    block = BoatBlock("horn", (wire,), 500, "a.ignition", "", "other", False)
    limits = plain_limits(objective="shortest", wires_per_barrel=3)
    wide = replace(RING, barrels=(replace(RING.barrels[0], area_max_um2=4_000_000),))
    shelf = replace(SHELF, fittings=(wide,))
    given = hubs_only(replace(keyed(), boat_blocks=(block,)), "a")
    assert best(given, limits, shelf) == (1400, 0, 5)
    aboard = replace(block, wires=(replace(wire, stage="aboard"),))
    assert best(replace(given, boat_blocks=(aboard,)), limits, shelf) == (1400, 1, 6)


def test_a_far_studs_own_limit_counts_what_leaves_it() -> None:
    """3 A leave the key's ignition stud by its jumper's tongue, and enter from inside."""
    for limit, possible in ((3000, True), (2999, False)):
        assert (cost(keyed(far={"carries_ma": limit})) is not None) == possible
        far = {**LEAD, "carries_ma": limit}
        assert (cost(keyed(far=far)) is not None) == possible


def test_a_near_leads_limit_counts_all_beyond_its_ways() -> None:
    """Lamps behind a switch whose lead stands on ignition: 1 A beyond it flows in the lead."""
    given = keyed()
    for limit, possible in ((1000, True), (999, False)):
        near = post("light", "ignition", 1500, 200, **LEAD, carries_ma=limit)
        far = post("light", "lamps", 1500, 300, **TAB)
        lamp = post("c", "lamps", 1500, 600)
        ways = (*given.ways, Way("light", near.id, far.id, "switch", ("on",)))
        loads = (*given.loads, Load("lamp", "c.lamps", "", 1000, "other"))
        made = panel((*given.posts, near, far, lamp), loads, ways)
        assert (cost(made) is not None) == possible


def stopped(**kill: Any) -> Console:
    """A stop post on the key and one on a kill switch 400 on, each with a way to its ground."""
    posts = [
        post("key", "stop", 0, 0),
        post("key", "ground", 0, 300),
        post("kill", "stop", 400, 0, **kill),
        post("kill", "ground", 400, 300),
    ]
    ways = [
        Way("key", "key.stop", "key.ground", "stop", ("off",)),
        Way("kill", "kill.stop", "kill.ground", "stop", ("lanyard out",)),
    ]
    made = panel(posts, [], ways, ground=pigtail("ground"), stop=pigtail("stop"))
    circuits = tuple(
        replace(each, side="stop", colour="black") if each.name == "stop" else each
        for each in made.circuits
    )
    return replace(made, circuits=circuits)


def test_a_stop_circuit_is_a_tree_of_its_own_that_lands_where_it_likes() -> None:
    """400 of stop and 400 of ground; its pigtail may land on a lead, and on what is no hub.

    Stop: lugs on both studs, or one lug and the lead's joint. A ground circuit needs its hub.
    """
    assert cost(stopped()) == (800, 0, 4)
    assert cost(hubs_only(stopped(), "key")) == (800, 0, 4)
    assert cost(hubs_only(stopped())) is None
    assert cost(stopped(**LEAD)) == (800, 0, 4)
    short = hubs_only(stopped(**LEAD), "key")
    circuits = tuple(
        replace(each, pigtail=replace(each.pigtail, entry=Point(500, 0, 0), reach_dmm=200))
        if each.name == "stop" and each.pigtail
        else each
        for each in short.circuits
    )
    assert cost(replace(short, circuits=circuits)) == (800, 0, 4)  # only the lead is in reach


def test_a_ready_made_ring_goes_on_no_lead() -> None:
    """The stop pigtail has a ring: it lands on the stud, and nowhere where there is none."""

    def ringed(console: Console) -> Console:
        ring = ReadyRing("M4", 8, 60)
        circuits = tuple(
            replace(each, pigtail=replace(each.pigtail, ring=ring))
            if each.name == "stop" and each.pigtail
            else each
            for each in console.circuits
        )
        return replace(console, circuits=circuits)

    given = stopped(**LEAD)
    assert cost(ringed(given)) == (800, 1, 4)
    only = tuple(each for each in given.posts if each.id != "key.stop")
    made = panel(only, [], given.ways[1:])
    circuits = tuple(
        replace(each, side="stop", colour="black") if each.name == "stop" else each
        for each in made.circuits
    )
    assert cost(replace(made, circuits=circuits)) == (400, 0, 3)
    assert cost(ringed(replace(made, circuits=circuits))) is None


def test_a_way_to_ground_feeds_nothing() -> None:
    """The ground post of a stop way starts no circuit, and nothing is drawn through it."""
    setting = Setting(stopped(), SHORTEST, SHELF, straight_routes(stopped(), {}))
    assert {setting.total_ma(circuit) for circuit in stopped().circuits} == {(0,)}


def two_harnesses(name: str) -> Console:
    """Dials a and b on the one harness, c and d on the other, ignition and ground of each.

    The pigtails of a feed reach 1000 from the left, those of a ground 1000 from the right.
    """
    posts, circuits = [], []
    for feed, ground, at, dials in (("ignition", "ground", 0, "ab"), ("feed", "back", 3000, "cd")):
        for x, dial in zip((at, at + 1500), dials, strict=True):
            posts.append(post(dial, feed, x, 0, name="feed"))
            posts.append(post(dial, ground, x, 300, name="ground"))
        for circuit, entry in ((feed, at), (ground, at + 1500)):
            side: Any = "ground" if circuit == ground else "feed"
            colour = "black" if side == "ground" else "purple"
            ids = tuple(each.id for each in posts if each.circuit == circuit)
            own = replace(pigtail(circuit), entry=Point(entry, 0, 0), reach_dmm=1000)
            harness = "port" if dials == "ab" else name
            circuits.append(Circuit(circuit, side, colour, "", "", ids, own, 0, harness=harness))
    made = panel(posts, [], [])
    return replace(made, circuits=tuple(circuits))


def test_every_harness_has_a_hub_by_itself() -> None:
    """No dial is in reach of its feed's pigtail and its ground's: an extension of 500 or so.

    As two harnesses each is lengthened on one hub: 1500 - 1000 = 500 of feed, or from the right
    ceil(hypot(1500, 300)) = 1530 less 1000 of ground; so 500 twice, and four jumpers of 1500. As
    one harness no dial has a post of all four, each two: the other two land apart, in reach.
    """
    limits = replace(SHORTEST, extensions=True)
    assert cost(two_harnesses("starboard"), limits) == (4 * 1500 + 2 * 500, 0, 10)
    assert cost(two_harnesses("starboard")) is None
    assert cost(two_harnesses("port"), limits) == (4 * 1500 + 500, 0, 9)
