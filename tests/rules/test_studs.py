"""Room on a stud: number, thread, room round it, what is reserved or comes ready-made."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ONE,
    TWO,
    ask,
    change_pigtail,
    change_post,
    choice_of,
    cost_of,
    fitting,
    impossible,
    items,
    only_ground,
    roomy_limits,
    stock_of,
)
from support.consoles import THREAD, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console, ReadyRing
from lugwright.stock.schema import Stock

# Two grounds 100 mm apart, supply on dial 1, one wire to a barrel unless said otherwise:
# two lugs on dial 1 (one stacked), one on dial 2.
APART = 1000 + 3 * 250 + 400
SHARED = 1000 + 2 * 250


def pair(**post: Any) -> Console:
    """Two dials' ground circuit, dial 1's stud changed."""
    console = only_ground(tiny_console([(60, 60), (160, 60)], lamps=False))
    return change_post(console, "dial1.ground", **post) if post else console


def landed(console: Console, stock: Stock | None = None, **changes: Any) -> Outcome:
    """The plan with dial 1 as the hub, one wire to a barrel."""
    limits = roomy_limits(**{"wires_per_barrel": 1, **changes})
    return ask(console, limits, stock, hubs=["dial1"])


@pytest.mark.parametrize("most", [2, 1])
def test_lugs_per_stud(most: int) -> None:
    """Two lugs want a limit of two."""
    outcome = landed(pair(), lugs_per_stud=most)
    assert impossible(outcome) if most == 1 else cost_of(outcome) == APART


def test_counting_conductors() -> None:
    """Pigtail and jumper in one ring: one lug, two conductors.

    A limit of one passes where lugs are counted and fails where conductors are.
    """
    both = {"wires_per_barrel": 2, "lugs_per_stud": 1}
    assert cost_of(landed(pair(), stud_count="lugs", **both)) == SHARED
    assert impossible(landed(pair(), stud_count="conductors", **both))
    both["lugs_per_stud"] = 2
    assert cost_of(landed(pair(), stud_count="conductors", **both)) == SHARED


def test_counting_conductors_takes_in_the_ready_made_ring() -> None:
    """A ready-made ring's wire and a reserved lug are one conductor each: 1 + 1 + 1 = 3."""
    console = change_pigtail(pair(reserved=1), "ground", ring=ReadyRing(THREAD, 8, 45))
    most = {"wires_per_barrel": 2, "stud_count": "conductors"}
    assert cost_of(landed(console, lugs_per_stud=3, **most)) == 1000 + 2 * 250 + 400
    assert impossible(landed(console, lugs_per_stud=2, **most))


def test_a_ready_made_ring_counts_for_every_wire_in_it() -> None:
    """Three wires in the pigtail's ring and the jumper's end are four conductors, and two lugs."""
    ring = ReadyRing(THREAD, 8, 45, wires=3)
    console = change_pigtail(pair(), "ground", ring=ring)
    cost = 1000 + 2 * 250 + 400
    assert cost_of(landed(console, lugs_per_stud=4, stud_count="conductors")) == cost
    assert impossible(landed(console, lugs_per_stud=3, stud_count="conductors"))
    assert cost_of(landed(console, lugs_per_stud=2, stud_count="lugs")) == cost


def test_a_ring_with_other_wires_in_it_is_not_cut_off() -> None:
    """An extension would cut it off, and leave a wire that is none of the plan's in mid-air."""
    stock = stock_of(fitting("butt", "butt", ONE, ONE))
    near = change_pigtail(pair(), "ground", ring=ReadyRing(THREAD, 8, 45), reach_dmm=1)
    assert not impossible(landed(near, stock, extensions=True))
    held = change_pigtail(pair(), "ground", ring=ReadyRing(THREAD, 8, 45, wires=2), reach_dmm=1)
    assert impossible(landed(held, stock, extensions=True))


@pytest.mark.parametrize(
    ("changes", "needed"),
    [
        ({}, 32 + 2 * 8),  # nut 3.2 mm, two tongues of 0.8 mm
        ({"lock_washer": True}, 32 + 2 * 8 + 10),  # washer 1 mm
        ({"showing_thread_permille": 1500}, 32 + 2 * 8 + 12),  # 1.5 × pitch 0.8 mm = 1.2 mm
        ({"showing_thread_permille": 1600}, 32 + 2 * 8 + 13),  # 1.28 mm, up to 1.3 mm
    ],
)
def test_free_thread(changes: dict[str, Any], needed: int) -> None:
    """Tongues, washer, nut and showing thread fill the free thread exactly; 0.1 mm less is too
    few.
    """
    assert cost_of(landed(pair(free_thread_dmm=needed), **changes)) == APART
    assert impossible(landed(pair(free_thread_dmm=needed - 1), **changes))


def test_a_thinner_tongue_fits_where_the_usual_does_not() -> None:
    """Thread for 1.5 mm of tongues: 0.8 + 0.8 is too much, 0.8 + 0.7 is not."""
    console = pair(free_thread_dmm=32 + 15)
    thin = fitting("thin ring", "ring", ONE, tongue_dmm=7, price_micro=900_000)
    assert impossible(landed(console))
    outcome = landed(console, stock_of(thin))
    assert cost_of(outcome) == APART
    assert ("thin ring", (1,)) in items(outcome, "dial1.ground")


@pytest.mark.parametrize(("angle", "fits"), [(180, True), (181, False)])
def test_room_round_the_stud(angle: int, fits: bool) -> None:
    """Two lugs of 180° fill the turn; of 181° they do not fit."""
    wide = fitting("wide", "ring", ONE, barrel_angle_deg=angle)
    outcome = landed(pair(), stock_of(wide, without=["ring 1", "ring 2"]))
    assert cost_of(outcome) == APART if fits else impossible(outcome)


def test_the_widest_barrel_counts_for_every_lug() -> None:
    """A ready-made ring of 200° beside a lug of 45°: 2 × 200 is more than a turn."""
    ring = ReadyRing(THREAD, 8, 200)
    assert impossible(landed(change_pigtail(pair(), "ground", ring=ring)))
    ring = ReadyRing(THREAD, 8, 180)
    assert cost_of(landed(change_pigtail(pair(), "ground", ring=ring))) == APART - 250


def test_one_wide_lug_alone_has_room() -> None:
    """A lug of 200° alone on its stud is fine, so pigtail and jumper share it."""
    wide = (fitting("w1", "ring", ONE, barrel_angle_deg=200),)
    stock = stock_of(
        *wide, fitting("w2", "ring", TWO, barrel_angle_deg=200), without=["ring 1", "ring 2"]
    )
    assert cost_of(landed(pair(), stock, wires_per_barrel=2)) == SHARED


def test_reserved_lugs_take_places() -> None:
    """Two lugs and one reserved: a limit of three holds them, one of two does not.

    The reserved one is no stacked lug: the cost is as without it.
    """
    assert cost_of(landed(pair(reserved=1), lugs_per_stud=3)) == APART
    assert impossible(landed(pair(reserved=1), lugs_per_stud=2))


def test_reserved_lugs_take_thread() -> None:
    """A reserved tongue of 1 mm: 3.2 + 2 × 0.8 + 1.0 = 5.8 mm of thread."""
    room = {"reserved": 1, "reserved_tongue_dmm": 10}
    assert cost_of(landed(pair(free_thread_dmm=58, **room))) == APART
    assert impossible(landed(pair(free_thread_dmm=57, **room)))


@pytest.mark.parametrize(("angle", "fits"), [(120, True), (121, False)])
def test_reserved_lugs_take_room(angle: int, fits: bool) -> None:
    """Three lugs in all, the reserved one the widest: 3 × 120 = 360."""
    outcome = landed(pair(reserved=1, reserved_angle_deg=angle))
    assert cost_of(outcome) == APART if fits else impossible(outcome)


def test_reserved_lugs_widen_the_rest() -> None:
    """The lugs on the stud are the widest, 121° each: with the reserved one, 3 × 121 is too
    much.
    """
    wide = stock_of(
        fitting("wide", "ring", ONE, barrel_angle_deg=121), without=["ring 1", "ring 2"]
    )
    assert cost_of(landed(pair(), wide)) == APART
    assert impossible(landed(pair(reserved=1, reserved_angle_deg=45), wide))


def test_a_stud_nobody_uses_is_not_judged() -> None:
    """An optional post without load and with no free thread at all is simply left out."""
    console = only_ground(tiny_console(lamps=False))
    loads = tuple(load for load in console.loads if load.name != "dial3")
    console = replace(console, loads=loads)
    bare = change_post(console, "dial3.ground", free_thread_dmm=0)
    assert impossible(landed(bare))
    optional = change_post(console, "dial3.ground", free_thread_dmm=0, optional=True)
    assert cost_of(landed(optional)) == APART


def test_a_ready_made_ring_is_a_lug_of_its_own() -> None:
    """Two wires might share a barrel; a pigtail with a ring does not, but needs no fitting.

    1000 + ring 1 + ring 1 + one stacked lug.
    """
    console = change_pigtail(pair(), "ground", ring=ReadyRing(THREAD, 8, 45))
    outcome = landed(console, wires_per_barrel=2)
    assert cost_of(outcome) == 1000 + 2 * 250 + 400
    assert items(outcome, "dial1.ground") == [("ring 1", (1,))]


def test_a_ready_made_ring_brings_its_own_tongue() -> None:
    """Ring of 1.2 mm and a tongue of 0.8 mm: 3.2 + 2.0 = 5.2 mm of thread."""
    ring = ReadyRing(THREAD, 12, 45)
    assert (
        cost_of(landed(change_pigtail(pair(free_thread_dmm=52), "ground", ring=ring)))
        == APART - 250
    )
    assert impossible(landed(change_pigtail(pair(free_thread_dmm=51), "ground", ring=ring)))


def test_a_ready_made_ring_of_another_thread_does_not_land() -> None:
    """A ring for #10 lands on no #8 stud; within reach it is not cut off."""
    ring = ReadyRing("#10-32 UNF", 8, 45)
    assert impossible(landed(change_pigtail(pair(), "ground", ring=ring)))


def test_a_pigtail_that_comes_aboard_shares_no_barrel() -> None:
    """Landed aboard, the pigtail is a lug of its own; on the bench it shares ring 2."""
    aboard = landed(change_pigtail(pair(), "ground", stage="aboard"), wires_per_barrel=2)
    assert items(aboard, "dial1.ground") == [("ring 1", (1,)), ("ring 1", (1,))]
    assert cost_of(aboard) == APART
    assert cost_of(landed(pair(), wires_per_barrel=2)) == SHARED


def test_stacked_lugs_are_those_that_sit_on_another() -> None:
    """Landing on dial 1 of three with one wire to a barrel: 2 + 2 + 1 lugs, 2 of them stacked."""
    console = only_ground(tiny_console(lamps=False))
    outcome = ask(
        console, roomy_limits(wires_per_barrel=1, objective="lowest-stacks"), hubs=["dial1"]
    )
    # levels: stacked lugs, tallest stack, wire, fittings
    assert outcome.cost == (2, 2, 2000, 5)


def test_linked_studs_are_judged_each_by_itself() -> None:
    """Dial 1 with a second, linked stud 20 mm above: each stud of one lug, two in all.

    The landing takes one, the jumper leaves from the other: nothing is stacked. From the upper
    stud to dial 2: ceil(hypot(1000, 200)) = 1020; the landing goes to the upper one instead.
    """
    console = pair(free_thread_dmm=40, link="bar")
    upper = replace(
        console.post("dial1.ground"),
        id="dial1.upper",
        name="upper",
        at=replace(console.post("dial1.ground").at, y_dmm=750),
    )
    circuit = console.circuit("ground")
    console = replace(
        console,
        posts=(*console.posts, upper),
        circuits=(replace(circuit, posts=(*circuit.posts, "dial1.upper")),),
    )
    outcome = landed(console)
    assert cost_of(outcome) == 1000 + 3 * 250
    assert choice_of(outcome).landings == (("ground", "dial1.upper"),)
