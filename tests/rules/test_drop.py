"""Voltage drop on the whole path of a load, and ground shift.

At 20 C 16 AWG of 1.309 mm² has ceil(17241 / 1.309) = 13172 nΩ/mm (IEC 60028). A pigtail of 2 m
is 26 344 µΩ, a jumper of 100 mm ceil(1317.2) = 1318 µΩ. µΩ × mA = nV. Limits are 1 ‰ of a
nominal voltage that is set to the drop, so that the last nanovolts decide.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
    add_stud,
    ask,
    change_post,
    cost_of,
    ends,
    fitting,
    impossible,
    only_ground,
    roomy_limits,
    sizes,
    wide_stock,
)
from support.consoles import given_wire, tiny_console
from support.waivers import waived

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console

TWO_DIALS = [(60, 60), (160, 60)]
ONE_PERMILLE = {"drop_critical_permille": 1, "drop_other_permille": 1}
PIGTAIL = 26_344
JUMPER = 1_318


def judged(console: Console, nominal_mv: int, hub: str = "dial1", **changes: Any) -> Outcome:
    """The plan with this nominal voltage and a limit of 1 ‰ of it."""
    limits = roomy_limits(**{**ONE_PERMILLE, **changes})
    stock = wide_stock(fitting("butt", "butt", ANY, ANY), wire_sizes=("16 AWG",))
    return ask(replace(console, nominal_mv=nominal_mv), limits, stock, hubs=[hub])


def holds_from(console: Console, drop_nv: int, **changes: Any) -> bool:
    """Whether the drop limit lets a plan through at this drop, and not 1 mV of nominal below."""
    nominal_mv = -(-drop_nv // 1000)
    passes = not impossible(judged(console, nominal_mv, **changes))
    return passes and impossible(judged(console, nominal_mv - 1, **changes))


def test_both_sides_and_the_pigtails_count() -> None:
    """Dial 2, 100 mA of 200 mA: 2 × (26 344 × 200 + 1318 × 100) = 10 801 200 nV."""
    console = tiny_console(TWO_DIALS, lamps=False)
    drop = 2 * (PIGTAIL * 200 + JUMPER * 100)
    assert drop == 10_801_200
    assert holds_from(console, drop)


def test_the_run_to_the_source_counts_both_ways() -> None:
    """1 m out and back in 16 AWG: 13 172 µΩ × 200 mA each way, 5 268 800 nV more."""
    console = tiny_console(TWO_DIALS, lamps=False, supply_one_way_mm=1000)
    assert holds_from(console, 10_801_200 + 2 * 13_172 * 200)


def test_every_crimp_has_its_resistance() -> None:
    """1 mΩ a crimp: one on each pigtail, two on each jumper: 2 × (200 000 + 200 000) nV more."""
    console = tiny_console(TWO_DIALS, lamps=False)
    assert holds_from(console, 10_801_200 + 2 * (1000 * 200 + 2 * 1000 * 100), crimp_uohm=1000)


def test_warm_copper_drops_more() -> None:
    """At 50 C and with 2 % for the lay: ceil(13171.12 × 1.02 × 284.5 / 254.5) = 15019 nΩ/mm.

    Pigtail 30 038 µΩ, jumper ceil(1501.9) = 1502 µΩ.
    """
    console = tiny_console(TWO_DIALS, lamps=False)
    drop = 2 * (30_038 * 200 + 1_502 * 100)
    assert holds_from(console, drop, conductor_temp_c=50, stranding_permille=20)


def test_lamps_drop_on_the_ignition_path_first() -> None:
    """One take-off from dial 1: lamp of dial 2 by way of lamp 1, its ground by the ground chain.

    Feed: pigtail 2 × (100 + 150) = 500 mA; take-off 19.8 mm ceil(260.8) = 261 µΩ at 300 mA;
    lamp 1 to lamp 2 1318 µΩ at 150 mA. Ground: pigtail 500 mA, jumper 1318 µΩ at 250 mA.
    """
    feed = PIGTAIL * 500 + 261 * 300 + JUMPER * 150
    ground = PIGTAIL * 500 + JUMPER * 250
    assert holds_from(tiny_console(TWO_DIALS), feed + ground, drop_critical_permille=1000)


def test_the_class_of_a_load_sets_its_limit() -> None:
    """Dials are critical, lamps are not: each limit holds its own loads only."""
    console = tiny_console(TWO_DIALS)
    lamps = PIGTAIL * 500 + 261 * 300 + JUMPER * 150 + PIGTAIL * 500 + JUMPER * 250
    dials = PIGTAIL * 500 + JUMPER * 100 + PIGTAIL * 500 + JUMPER * 250
    assert holds_from(console, dials, drop_other_permille=1000)
    assert holds_from(console, lamps, drop_critical_permille=1000)
    assert holds_from(console, max(lamps, dials))


def test_thicker_wire_where_the_drop_asks_for_it() -> None:
    """14 AWG has ceil(17241 / 2.081) = 8285 nΩ/mm: 829 µΩ a jumper.

    Both in 16: 10 801 200 nV. One in 14: 48 900 less. Both in 14: 97 800 less. The cost in
    lengths and fittings is the same, so 14 AWG is taken only where it must be.
    """
    console = tiny_console(TWO_DIALS, lamps=False)
    stock = wide_stock(wire_sizes=("16 AWG", "14 AWG"))
    limits = roomy_limits(**ONE_PERMILLE)
    found = []
    for nominal_mv in (10_802, 10_753, 10_704):
        outcome = ask(replace(console, nominal_mv=nominal_mv), limits, stock, hubs=["dial1"])
        found.append(sorted(max(sizes(outcome, c)) for c in ("ignition", "ground")))
        assert cost_of(outcome) == 2 * (1000 + 2 * 250)
    assert found == [["16 AWG", "16 AWG"], ["14 AWG", "16 AWG"], ["14 AWG", "14 AWG"]]
    assert impossible(ask(replace(console, nominal_mv=10_703), limits, stock, hubs=["dial1"]))


def test_a_dearer_tree_where_the_drop_asks_for_it() -> None:
    """Three grounds in a row, 100 mA each, from dial 1.

    In a chain dial 3 drops 26 344 × 300 + 1318 × 200 + 1318 × 100 = 8 298 600 nV on 2000 of wire;
    by its own jumper of 200 mm (2635 µΩ) 8 166 700 nV on 3000 of wire.
    """
    console = only_ground(tiny_console(lamps=False))
    free = {"lug_worth_dmm": 0, "fitting_worth_dmm": 0}
    assert cost_of(judged(console, 8_299, **free)) == 2000
    star = judged(console, 8_298, **free)
    assert cost_of(star) == 3000
    assert {a for a, _ in ends(star, "ground")} == {"dial1.ground"}
    assert cost_of(judged(console, 8_167, **free)) == 3000
    assert impossible(judged(console, 8_166, **free))


def test_an_extension_drops_too() -> None:
    """A pigtail of 50 mm reach on a path of 139.1 mm: an extension of 89.1 mm and its two crimps.

    Pigtail ceil(13172 × 50 / 1000) = 659 µΩ, extension ceil(1173.6) = 1174 µΩ, both at 200 mA.
    Crimps of 100 µΩ: one at the pigtail and two at the extension.
    """
    console = only_ground(tiny_console(TWO_DIALS, lamps=False, reach_mm=50))
    drop = (659 + 1_174 + 300) * 200 + (JUMPER + 200) * 100
    assert holds_from(console, drop, extensions=True, crimp_uohm=100)


def test_linked_posts_have_no_drop_between_them() -> None:
    """A bus bar at dial 1 with studs 30 mm from each of two grounds, 200 mm from each other.

    The supply lands on the bar; to either dial there is one jumper of 30 mm and no more.
    """
    console = only_ground(tiny_console([(60, 60), (260, 60)], lamps=False))
    for number, x_dmm in ((1, 700), (2, 2700)):
        at = replace(console.post("dial1.ground").at, x_dmm=x_dmm, y_dmm=850)
        console = add_stud(console, f"dial1.bar{number}", "ground", at, link="bar", optional=True)
    short = 396  # ceil(13172 × 30 / 1000)
    assert holds_from(console, PIGTAIL * 200 + short * 100)


def test_a_leads_crimp_carries_its_own_current() -> None:
    """Dial 2's ignition is a lead: its crimp of 1 mΩ at 100 mA comes on top, its own wire does
    not.
    """
    console = change_post(
        tiny_console(TWO_DIALS, lamps=False),
        "dial2.ignition",
        kind="lead",
        lead=given_wire("16 AWG", "purple"),
    )
    crimps = 2 * (1000 * 200 + 2 * 1000 * 100)
    assert holds_from(console, 10_801_200 + crimps + 1000 * 100, crimp_uohm=1000)


def sender_console(returns_to: str, dial_ma: int = 1000) -> Console:
    """Two dials; dial 2's sender (50 mA) comes back at another post ("" on the engine block)."""
    console = tiny_console(TWO_DIALS, lamps=False, senders=[2], dial_ma=dial_ma)
    (sender,) = console.boat_blocks
    wires = tuple(
        replace(wire, lands_on=returns_to) if wire.lands_on.endswith("ground") else wire
        for wire in sender.wires
        if returns_to or not wire.lands_on.endswith("ground")
    )
    return replace(console, boat_blocks=(replace(sender, wires=wires, returns_to=returns_to),))


def shifted(console: Console, limit_mv: int | None, hub: str = "dial1") -> Outcome:
    """The plan under a limit on ground shift."""
    return ask(console, roomy_limits(ground_shift_mv=limit_mv), wide_stock(), hubs=[hub])


def test_no_ground_shift_on_the_same_post() -> None:
    """The sender comes back at its dial's own ground: nothing between them, a limit of 0 holds."""
    assert not impossible(shifted(sender_console("dial2.ground"), 0))


@pytest.mark.parametrize("hub", ["dial1", "dial2"])
def test_ground_shift_over_a_jumper(hub: str) -> None:
    """The sender comes back at dial 1. From dial 1: 1318 µΩ × 1000 mA = 1.318 mV.

    From dial 2 the jumper carries dial 1's 1000 mA and the sender's 50: 1.384 mV.
    """
    console = sender_console("dial1.ground")
    assert not impossible(shifted(console, 2, hub))
    assert impossible(shifted(console, 1, hub))
    assert not impossible(shifted(console, None, hub))


def test_ground_shift_waived_for_its_sender() -> None:
    """1.318 mV over the jumper, 1 mV allowed everywhere, 2 mV for this one sender."""
    console = sender_console("dial1.ground")
    (name,) = (boat_block.name for boat_block in console.boat_blocks)
    for place, possible in ((name, True), ("another sender", False)):
        limits = roomy_limits(ground_shift_mv=1, waivers=(waived("ground_shift", place, 2),))
        outcome = ask(console, limits, wide_stock(), hubs=["dial1"])
        assert impossible(outcome) is not possible


def test_ground_shift_of_a_sender_on_the_engine_block() -> None:
    """It comes back at the source's negative: the whole pigtail is between, 26 344 × 2000 nV.

    52.7 mV at the hub; dial 2 as the hub carries nothing else.
    """
    console = sender_console("")
    assert not impossible(shifted(console, 53, "dial2"))
    assert impossible(shifted(console, 52, "dial2"))


def test_a_ground_shift_limit_moves_the_hub() -> None:
    """At 53 mV dial 2 must be the hub: from dial 1 another 1.3 mV comes on top (54.0)."""
    console = sender_console("")
    assert impossible(shifted(console, 53, "dial1"))
    outcome = ask(console, roomy_limits(ground_shift_mv=53), wide_stock())
    assert outcome.choice is not None
    assert dict(outcome.choice.landings)["ground"] == "dial2.ground"
