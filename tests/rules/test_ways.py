"""Circuits behind a key, a fuse, a switch: where they land, what flows, drops and is protected.

Two dials 100 mm apart, the key's far post 100 mm above the ignition stud of the first; all wire is
16 AWG, 13172 nΩ/mm (17241 nΩ·mm²/mm, IEC 60028, over 1.309 mm², rounded up). By hand, from
``RULES.md`` R7, R10, R12, R14, R16.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import pytest
from support.asking import (
    TWO,
    ask,
    change_circuit,
    change_pigtail,
    change_post,
    choice_of,
    cost_of,
    ends,
    fitting,
    impossible,
    items,
    pose,
    roomy_limits,
    stock_of,
    without_post,
)
from support.consoles import given_wire, tiny_console
from support.keyed import behind_fuse, device, keyed, load_aboard, stud

from lugwright.model.choose import best_per_hub
from lugwright.scenario.console import Console, Stage
from lugwright.trade.demand import circuit_totals
from lugwright.trade.states import load_states, number_of_states

TWO_DIALS = ((60, 60), (160, 60))
THREE_DIALS = ((60, 60), (160, 60), (260, 60))


def two_dials() -> Console:
    """Two dials of 100 mA each behind a key."""
    return keyed(tiny_console(TWO_DIALS, lamps=False))


def reasons(console: Console, **limits: object) -> list[str]:
    """What is wrong whatever is chosen."""
    return [str(fault) for fault in pose(console, roomy_limits(**limits)).faults]


# -- landing -----------------------------------------------------------------------------------


def test_one_jumper_leaves_the_key_and_lands_on_the_hub() -> None:
    """Key to dial 1, dial 1 to dial 2, and the ground jumper: 3 × 1000 of wire; six lugs × 250."""
    outcome = ask(two_dials())
    assert choice_of(outcome).landings == (
        ("battery", "key.bat"),
        ("ground", "dial1.ground"),
        ("ignition", "dial1.ignition"),
    )
    assert ends(outcome, "ignition") == [
        ("dial1.ignition", "dial2.ignition"),
        ("key.ign", "dial1.ignition"),
    ]
    assert cost_of(outcome) == 4500


def test_with_the_other_dial_held_the_jumper_is_longer() -> None:
    """From the key to dial 2 it is sqrt(2) × 100 mm = 141.5 mm, up to 0.1 mm."""
    outcome = ask(two_dials(), hubs=["dial2"])
    assert dict(choice_of(outcome).landings)["ignition"] == "dial2.ignition"
    assert cost_of(outcome) == 4500 + 415


def test_any_number_of_jumpers_may_leave_the_far_post() -> None:
    """With the key between the dials, 50 mm off the line: two of 70.8 mm in place of 71 + 100."""
    console = keyed(tiny_console(TWO_DIALS, lamps=False), (100.0, 105.0))
    outcome = ask(console, roomy_limits(way_take_off="any"))
    assert dict(choice_of(outcome).landings)["ignition"] == "key.ign"
    assert ends(outcome, "ignition") == [
        ("key.ign", "dial1.ignition"),
        ("key.ign", "dial2.ignition"),
    ]
    assert cost_of(outcome) == 2 * 708 + 1000 + 6 * 250


def test_a_lead_is_no_landing_post() -> None:
    """Where all that is behind the key are leads, the one jumper has nowhere to land."""
    lead = {"kind": "lead", "thread": "", "free_thread_dmm": 0, "lead": given_wire()}
    console = two_dials()
    for post in ("dial1.ignition", "dial2.ignition"):
        console = change_post(console, post, **lead)
    assert any("the one jumper from key.ign" in each for each in reasons(console))


def test_a_circuit_with_one_post_lands_there_whatever_the_hub() -> None:
    """Ignition has one post besides the key's, on dial 2; ground lands on dial 1 all the same."""
    console = without_post(two_dials(), "dial1.ignition")
    console = change_circuit(console, "ground", posts=("dial1.ground", "dial2.ground"))
    outcome = ask(console, hubs=["dial1"])
    assert dict(choice_of(outcome).landings) == {
        "battery": "key.bat",
        "ground": "dial1.ground",
        "ignition": "dial2.ignition",
    }


def test_the_hub_is_the_one_that_most_circuits_can_land_on() -> None:
    """Ignition on dials 1 and 2, ground on dials 2 and 3: dial 2 has both, whatever the wire."""
    console = keyed(tiny_console(THREE_DIALS, lamps=False))
    for post in ("dial1.ground", "dial3.ignition"):
        console = without_post(console, post)
    landings = dict(choice_of(ask(console)).landings)
    assert (landings["ignition"], landings["ground"]) == ("dial2.ignition", "dial2.ground")


def test_a_circuit_that_is_a_far_post_and_no_more_has_no_landing() -> None:
    """A pump's wire lands on the fuse's far post: no jumper, no hub, no row."""
    console = behind_fuse(two_dials(), "key.bat", "pump", 5000)
    pump = load_aboard("pump", "fuses.pump", 2000, given_wire("14 AWG"))
    outcome = ask(replace(console, boat_blocks=(pump,)))
    assert "pump" not in dict(choice_of(outcome).landings)
    assert ends(outcome, "pump") == []


# -- taken from ----------------------------------------------------------------------------------


def test_lamps_leave_where_the_one_jumper_lands() -> None:
    """Not the key's far post."""
    outcome = ask(keyed(tiny_console(TWO_DIALS)))
    landed = dict(choice_of(outcome).landings)["ignition"]
    assert [a for a, _ in ends(outcome, "lamps") if not a.endswith(".lamp")] == [landed]


def test_lamps_leave_the_far_post_where_it_is_the_only_one() -> None:
    """A stud, or a tab that holds nothing else."""
    tab = {"kind": "tab", "thread": "", "free_thread_dmm": 0, "tab_size": "6.3 x 0.8"}
    console = behind_fuse(keyed(tiny_console(TWO_DIALS)), "key.bat", "light feed", 5000)
    console = change_circuit(console, "lamps", taken_from="light feed")
    for each in (console, change_post(console, "fuses.light feed", **tab)):
        starts = [a for a, _ in ends(ask(each), "lamps")]
        assert starts.count("fuses.light feed") == 1


# -- currents, drop ------------------------------------------------------------------------------


def test_what_is_beyond_a_way_is_drawn_from_its_near_post() -> None:
    """Two dials of 100 mA and their lamps of 150 mA, taken from ignition behind the key."""
    problem = pose(keyed(tiny_console(TWO_DIALS)))
    assert problem.circuit("battery").demand_ma == {"key.bat": 500}
    assert problem.circuit("ignition").own_ma == 200


def test_an_empty_holder_feeds_nothing() -> None:
    """What lies beyond it draws nothing anywhere."""
    console = behind_fuse(two_dials(), "key.bat", "pump", 0)
    pump = load_aboard("pump", "fuses.pump", 2000, given_wire("14 AWG"))
    problem = pose(replace(console, boat_blocks=(pump,)))
    assert problem.circuit("battery").demand_ma == {"key.bat": 200}
    assert problem.circuit("pump").demand_ma == {"fuses.pump": 0}


@pytest.mark.parametrize(("contact_uohm", "stands"), [(4676, True), (4677, False)])
def test_a_contact_drops_with_all_that_flows_through_it(contact_uohm: int, stands: bool) -> None:
    """12 mV allowed. Both pigtails, 2 m: 2 × 26344 µΩ × 200 mA = 10.5376 mV. To dial 2: 1318 µΩ ×
    200 mA, then 1318 µΩ × 100 mA on either side: 0.5272 mV. Left: 0.9352 mV / 200 mA = 4676 µΩ.
    """
    console = keyed(tiny_console(TWO_DIALS, lamps=False), contact_uohm=contact_uohm)
    assert impossible(ask(console, roomy_limits(drop_critical_permille=1))) is not stands


# -- fuses, ratings ------------------------------------------------------------------------------


def test_a_fuse_on_the_way_begins_a_section() -> None:
    """A 40 A fuse is too large for 16 AWG (25 A in 33 CFR 183.425 Table 5, 105 C) behind a switch;
    behind a fuse of 5 A it does not count."""
    console = tiny_console(TWO_DIALS, lamps=False, pigtail_size="12 AWG", fuse_ma=40_000)
    assert any("behind a 40 A fuse" in r for r in reasons(keyed(console), fuse_permille=1000))
    fused = keyed(console, kind="fuse", closed=(), amperes_ma=5000)
    assert reasons(fused, fuse_permille=1000) == []


@pytest.mark.parametrize(("trip_free", "protected"), [(True, True), (False, False)])
def test_a_breaker_protects_if_it_is_trip_free(trip_free: bool, protected: bool) -> None:
    """33 CFR 183.455(a)."""
    console = tiny_console(TWO_DIALS, lamps=False, pigtail_size="12 AWG", fuse_ma=40_000)
    way = {"kind": "breaker", "closed": (), "amperes_ma": 5000, "trip_free": trip_free}
    assert (reasons(keyed(console, **way), fuse_permille=1000) == []) is protected


def test_a_ways_fuse_is_loaded_up_to_its_share() -> None:
    """200 mA on a fuse of 250 mA is 80 %."""
    for amperes_ma, stands in ((250, True), (249, False)):
        console = keyed(
            tiny_console(TWO_DIALS, lamps=False), kind="fuse", closed=(), amperes_ma=amperes_ma
        )
        found = reasons(console, load_permille=800)
        assert any("key.ign: loads its fuse too far" in each for each in found) is not stands


FACTORS = {
    "switch_12v_permille": MappingProxyType(
        {"bulb": 5000, "relay": 2000, "motor": 2000, "resistive": 1000}
    ),
    "switch_24v_permille": MappingProxyType(
        {"bulb": 8000, "relay": 4000, "motor": 3000, "resistive": 2000}
    ),
}
"""AC 43.13-1B Table 11-4."""


@pytest.mark.parametrize(
    ("nominal_mv", "rated_for", "carries_ma"),
    [(12_000, (), 1700), (24_000, (), 2800), (12_000, ("bulb",), 500), (24_000, ("bulb",), 700)],
)
def test_a_switch_carries_each_load_times_its_kind(
    nominal_mv: int, rated_for: tuple[str, ...], carries_ma: int
) -> None:
    """Dials 200 mA × 1 (2 at 24 V), bulbs 300 mA × 5 (8); × 1 for a kind it is rated for."""
    for limit_ma, stands in ((carries_ma, True), (carries_ma - 1, False)):
        console = keyed(tiny_console(TWO_DIALS), carries_ma=limit_ma, rated_for=rated_for)
        loads = tuple(
            replace(load, kind="bulb") if load.name.endswith("lamp") else load
            for load in console.loads
        )
        console = replace(console, loads=loads, nominal_mv=nominal_mv)
        found = reasons(console, **FACTORS)
        assert any("the switch carries more than it may" in r for r in found) is not stands


def test_a_fuse_carries_the_plain_current() -> None:
    """No factor counts there."""
    way = {"kind": "fuse", "closed": (), "amperes_ma": 5000, "carries_ma": 500}
    console = keyed(tiny_console(TWO_DIALS), **way)
    loads = tuple(replace(load, kind="bulb") for load in console.loads)
    assert reasons(replace(console, loads=loads), **FACTORS) == []


def test_all_ways_of_a_near_post_together() -> None:
    """The key passes 200 mA and the pump's fuse 2000 mA from one stud."""
    console = behind_fuse(two_dials(), "key.bat", "pump", 5000)
    pump = load_aboard("pump", "fuses.pump", 2000, given_wire("14 AWG"))
    console = replace(console, boat_blocks=(pump,))
    for limit_ma, stands in ((10_000, True), (2199, False)):
        instruments = tuple(replace(i, carries_in_ma=limit_ma) for i in console.instruments)
        found = reasons(replace(console, instruments=instruments))
        assert any("its ways together carry more" in each for each in found) is not stands


def test_a_block_of_fuses_has_no_larger_fuse_ahead_than_it_lets_in() -> None:
    """10 A ahead of what lets 9 A in."""
    console = behind_fuse(two_dials(), "key.bat", "pump", 5000)
    for limit_ma, stands in ((10_000, True), (9000, False)):
        instruments = tuple(replace(i, carries_in_ma=limit_ma) for i in console.instruments)
        found = reasons(replace(console, instruments=instruments))
        assert any("the fuse ahead of it is larger" in each for each in found) is not stands


def test_momentary_loads_count_against_the_fuse_itself_alone() -> None:
    """A horn of 4 A on a fuse of 4 A loaded up to 80 %; 4.1 A are too much."""
    console = behind_fuse(two_dials(), "key.bat", "horn", 4000)
    for current_ma, stands in ((4000, True), (4100, False)):
        horn = load_aboard("horn", "fuses.horn", current_ma, given_wire(), duty="momentary")
        found = reasons(replace(console, boat_blocks=(horn,)), load_permille=800)
        assert any("momentary loads counted" in each for each in found) is not stands


def test_a_far_stud_carries_all_that_leaves_it() -> None:
    """200 mA leave the key by one lug."""
    for limit_ma, stands in ((200, True), (199, False)):
        console = change_post(two_dials(), "key.ign", carries_ma=limit_ma)
        assert impossible(ask(console)) is not stands


def test_a_near_stud_carries_all_that_comes_in() -> None:
    """200 mA go through the key's near post."""
    for limit_ma, stands in ((200, True), (199, False)):
        console = change_post(two_dials(), "key.bat", carries_ma=limit_ma)
        assert impossible(ask(console)) is not stands


def test_the_pigtail_still_reaches_the_key() -> None:
    """Its reach counts to the near post: 200 mm, from the corner, 182 mm away and 50 mm high."""
    assert impossible(ask(change_pigtail(two_dials(), "battery", reach_dmm=2000)))


def test_a_stud_behind_two_ways_in_a_row() -> None:
    """The fuse's near post is behind the key: its load is the key's, too."""
    console = two_dials()
    console = replace(console, posts=(*console.posts, stud("fuses.in", "ignition", 90, 175)))
    posts = (*console.circuit("ignition").posts, "fuses.in")
    console = change_circuit(console, "ignition", posts=posts)
    console = behind_fuse(console, "fuses.in", "pump", 5000)
    pump = load_aboard("pump", "fuses.pump", 2000, given_wire("14 AWG"))
    problem = pose(replace(console, boat_blocks=(pump,)))
    assert problem.circuit("battery").demand_ma == {"key.bat": 2200}
    assert problem.circuit("ignition").demand_ma["fuses.in"] == 2000
    assert [circuit.name for circuit in problem.outward] == [
        "battery",
        "ground",
        "ignition",
        "pump",
    ]


# -- load states ---------------------------------------------------------------------------------


def exclusive() -> Console:
    """A key that feeds dials in one position and a pump of 3 A in the other, from one stud."""
    console = keyed(tiny_console(TWO_DIALS, lamps=False), closed=("run",))
    console = behind_fuse(console, "key.bat", "pump", 5000)
    fuse = console.way_to("fuses.pump")
    pump_way = replace(fuse, instrument="key", kind="switch", closed=("pump",), amperes_ma=0)
    instruments = tuple(
        replace(each, positions=("off", "run", "pump")) if each.name == "key" else each
        for each in console.instruments
    )
    pump = load_aboard("pump", "fuses.pump", 3000, given_wire("14 AWG"))
    ways = (console.ways[0], pump_way)
    return replace(console, instruments=instruments, ways=ways, boat_blocks=(pump,))


def test_positions_of_one_device_never_add() -> None:
    """3000 mA in one state, 200 mA in the other; nowhere 3200 mA."""
    states = load_states(exclusive())
    assert [state.positions for state in states] == [(("key", "run"),), (("key", "pump"),)]
    assert circuit_totals(exclusive()) == {
        "battery": 3000,
        "ignition": 200,
        "ground": 200,
        "pump": 3000,
    }
    assert [demand.posts["key.bat"] for demand in pose(exclusive()).demands] == [200, 3000]


def test_a_position_that_closes_less_than_another_is_no_state() -> None:
    """Off, on, and start that closes all that on does and more: one state, everything on."""
    console = keyed(tiny_console(TWO_DIALS, lamps=False), closed=("on", "start"))
    console = behind_fuse(console, "key.bat", "start", 5000, instrument="key", closed=("start",))
    instruments = tuple(
        replace(each, positions=("off", "on", "start")) if each.name == "key" else each
        for each in console.instruments
    )
    (state,) = load_states(replace(console, instruments=instruments))
    assert state.closed == {"key.ign", "fuses.start"}


def test_a_lanyard_is_in_beside_any_position() -> None:
    """A feed that closes with the lanyard in and one that closes with it out: two states."""
    console = keyed(tiny_console(TWO_DIALS, lamps=False), closed=("lanyard in",))
    console = behind_fuse(
        console, "key.bat", "alarm", 5000, instrument="key", closed=("lanyard out",)
    )
    instruments = tuple(
        replace(each, lanyard=each.name == "key", positions=()) for each in console.instruments
    )
    states = load_states(replace(console, instruments=instruments))
    assert [state.positions for state in states] == [
        (("key", "lanyard in"),),
        (("key", "lanyard out"),),
    ]


def test_a_fuse_stands_the_larger_of_two_states() -> None:
    """The pigtail's fuse is loaded by 3000 mA, not by 3200."""
    for fuse_ma, stands in ((3000, True), (2999, False)):
        console = change_pigtail(exclusive(), "battery", fuse_ma=fuse_ma)
        found = reasons(console)
        assert any("loads its fuse too far" in each for each in found) is not stands


def test_a_stud_carries_the_larger_of_two_states() -> None:
    """3000 mA go through the key's near post at most."""
    for limit_ma, stands in ((3000, True), (2999, False)):
        console = change_post(exclusive(), "key.bat", carries_ma=limit_ma)
        assert impossible(ask(console)) is not stands


@pytest.mark.parametrize(("contact_uohm", "stands"), [(4676, True), (4677, False)])
def test_a_load_drops_in_the_states_it_is_on(contact_uohm: int, stands: bool) -> None:
    """As behind a plain key: the pump's 3 A flow when the dials are off. The pump has 10 %."""
    console = exclusive()
    ways = (replace(console.ways[0], contact_uohm=contact_uohm), console.ways[1])
    outcome = ask(replace(console, ways=ways), roomy_limits(drop_critical_permille=1))
    assert impossible(outcome) is not stands


def test_too_many_states_are_told() -> None:
    """Seven devices with two exclusive positions each are 128 states."""
    console = exclusive()
    keys = tuple(device(f"key {n}", (0.0, 0.0), positions=("run", "pump")) for n in range(7))
    ways = tuple(
        replace(way, instrument=key.name, near=f"{key.name}.near", far=f"{key.name}.{way.far}")
        for key in keys
        for way in console.ways
    )
    console = replace(console, instruments=(*console.instruments, *keys), ways=ways)
    assert number_of_states(console) == 128
    with pytest.raises(ValueError, match="more than 64"):
        load_states(console)


# -- hubs side by side ---------------------------------------------------------------------------


def test_hubs_that_fewer_circuits_can_land_on_are_not_compared() -> None:
    """Of three dials one has both circuits; held, another is the hub of the one it has."""
    console = keyed(tiny_console(THREE_DIALS, lamps=False))
    for post in ("dial1.ground", "dial3.ignition"):
        console = without_post(console, post)
    names = ["dial1", "dial2", "dial3"]
    assert list(best_per_hub(pose(console), names)) == ["dial2"]
    landings = dict(choice_of(ask(console, hubs=["dial3"])).landings)
    assert landings["ground"] == "dial3.ground"


def test_a_device_that_may_be_no_hub_is_none() -> None:
    """The key has a landing post of the battery alone and is no hub."""
    assert list(best_per_hub(pose(two_dials()), ["key", "dial1", "dial2"])) == ["dial1", "dial2"]


# -- loads at the end of a pigtail ---------------------------------------------------------------


def with_load(stage: Stage, post: str = "dial2.ignition", current_ma: int = 1000) -> Console:
    """A load's wire of 16 AWG at the end of the ignition chain, there on the bench or aboard."""
    load = load_aboard("horn", post, current_ma, given_wire())
    wires = tuple(replace(wire, stage=stage) for wire in load.wires)
    return replace(two_dials(), boat_blocks=(replace(load, wires=wires),))


def test_a_loads_pigtail_shares_a_barrel_with_bench_wires() -> None:
    """It goes into the ring that the last jumper has; aboard it is a stacked lug of its own."""
    assert cost_of(ask(with_load("bench"))) == 4500
    assert items(ask(with_load("bench")), "dial2.ignition") == [("ring 2", (2,))]
    assert cost_of(ask(with_load("aboard"))) == 4500 + 250 + 400


def test_what_a_loads_pigtail_draws_may_pass_inside_its_barrel() -> None:
    """A stud that may carry 100 mA has 1.1 A come in, and 1 A leave within the same ring."""
    for limit_ma, stands in ((100, True), (99, False)):
        console = change_post(with_load("bench"), "dial2.ignition", carries_ma=limit_ma)
        assert impossible(ask(console)) is not stands
    console = change_post(with_load("aboard"), "dial2.ignition", carries_ma=1000)
    assert impossible(ask(console))


def test_a_ring_carries_the_larger_of_what_comes_in_and_goes_on() -> None:
    """1.1 A by the jumper; a ring for two wires that carries less leaves each its own."""
    for limit_ma, stacked in ((1100, 0), (1099, 1)):
        rings = stock_of(fitting("ring w", "ring", TWO, carries_ma=limit_ma), without=["ring 2"])
        outcome = ask(with_load("bench"), stock=rings)
        assert len(items(outcome, "dial2.ignition")) == 1 + stacked


def test_a_loads_pigtail_is_alone_on_a_far_post() -> None:
    """Landed on the bench."""
    console = behind_fuse(two_dials(), "key.bat", "pump", 5000)
    load = load_aboard("pump", "fuses.pump", 2000, given_wire())
    wires = tuple(replace(wire, stage="bench") for wire in load.wires)
    outcome = ask(replace(console, boat_blocks=(replace(load, wires=wires),)))
    assert items(outcome, "fuses.pump") == [("ring 1", (1,))]
    assert cost_of(outcome) == 4500 + 250
