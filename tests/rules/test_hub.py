"""Where the supply lands: one instrument for all circuits, or one per circuit."""

from __future__ import annotations

from support.asking import (
    add_stud,
    ask,
    change_pigtail,
    change_post,
    choice_of,
    cost_of,
    ends,
    impossible,
    items,
    roomy_limits,
    without_post,
)
from support.consoles import given_wire, place, tiny_console

from lugwright.scenario.console import Console, ReadyRing

TWO_DIALS = ((60, 60), (160, 60))


def short_studs(console: Console, *posts: str) -> Console:
    """Studs with thread for one lug: nut 3.2 mm and one tongue of 0.8 mm."""
    for post in posts:
        console = change_post(console, post, free_thread_dmm=40)
    return console


def crossed_console() -> Console:
    """Dial 1 cannot take the ground's landing, dial 2 not the ignition's: each holds one lug."""
    return short_studs(tiny_console(TWO_DIALS, lamps=False), "dial1.ground", "dial2.ignition")


def test_one_hub_for_all_circuits_may_be_impossible() -> None:
    """With one wire per barrel a landing of two ends needs two lugs: no dial has room for both."""
    assert impossible(ask(crossed_console(), roomy_limits(wires_per_barrel=1)))


def test_one_hub_per_circuit_lands_each_where_it_fits() -> None:
    """Ignition lands on dial 1, ground on dial 2.

    Each circuit: 1000 of wire + 1 stacked × 400 + 3 lugs × 250 = 2150; two of them 4300.
    """
    outcome = ask(crossed_console(), roomy_limits(wires_per_barrel=1, one_hub=False))
    assert choice_of(outcome).landings == (
        ("ground", "dial2.ground"),
        ("ignition", "dial1.ignition"),
    )
    assert cost_of(outcome) == 4300


def test_one_hub_lands_both_on_the_same_instrument() -> None:
    """Only dial 2 has room for both landings, so both land there though neither must by itself."""
    console = short_studs(tiny_console(TWO_DIALS, lamps=False), "dial1.ground")
    outcome = ask(console, roomy_limits(wires_per_barrel=1))
    assert choice_of(outcome).landings == (
        ("ground", "dial2.ground"),
        ("ignition", "dial2.ignition"),
    )
    assert cost_of(outcome) == 4300


def test_only_candidates_are_hubs() -> None:
    """Dial 3 alone may be the hub; with no candidate at all no plan exists, and the reason says
    so.
    """
    console = tiny_console(lamps=False, hub_candidates=[3])
    outcome = ask(console)
    assert {post for _, post in choice_of(outcome).landings} == {"dial3.ground", "dial3.ignition"}
    none = ask(tiny_console(lamps=False, hub_candidates=[]))
    assert impossible(none)
    assert {(reason.rule, reason.place) for reason in none.reasons} == {
        ("hub", "circuit ground"),
        ("hub", "circuit ignition"),
    }


def test_a_hub_has_a_post_of_every_circuit_with_a_pigtail() -> None:
    """Dial 1 has no ground post: held as the hub no plan exists; free, another dial is the hub."""
    console = without_post(tiny_console(lamps=False, hub_candidates=[1, 2]), "dial1.ground")
    assert impossible(ask(console, hubs=["dial1"]))
    assert choice_of(ask(console)).landings == (
        ("ground", "dial2.ground"),
        ("ignition", "dial2.ignition"),
    )


def test_a_hub_needs_no_post_of_a_circuit_that_is_taken() -> None:
    """Dial 1 has no lamp, and may be the hub all the same."""
    console = without_post(tiny_console(TWO_DIALS), "dial1.lamp")
    outcome = ask(console, hubs=["dial1"])
    assert ends(outcome, "lamps") == [("dial1.ignition", "dial2.lamp")]


def test_no_pigtail_lands_on_a_lead() -> None:
    """Dial 1's ignition is a lead, so dial 1 is no hub; the lead is reached by a jumper."""
    console = change_post(
        tiny_console(TWO_DIALS, lamps=False),
        "dial1.ignition",
        kind="lead",
        lead=given_wire("16 AWG", "purple"),
        thread="",
    )
    assert impossible(ask(console, hubs=["dial1"]))


def test_any_fitting_post_of_the_hub_may_be_the_landing() -> None:
    """The pigtail's ready-made ring fits only the second ground stud of dial 1, which is linked.

    Ground: landing on dial1.second, then 1000 from dial1.ground to dial2.ground; ring 1 at each
    end, 2 × 250. Ignition: 1000 + ring 2 at the landing and ring 1, 2 × 250. In all 3000.
    """
    console = add_stud(
        tiny_console(TWO_DIALS, lamps=False),
        "dial1.second",
        "ground",
        place(60, 80, 50),
        thread="#10-32 UNF",
        link="bar",
    )
    console = change_post(console, "dial1.ground", link="bar")
    console = change_pigtail(console, "ground", ring=ReadyRing("#10-32 UNF", 8, 45))
    outcome = ask(console)
    assert dict(choice_of(outcome).landings)["ground"] == "dial1.second"
    assert cost_of(outcome) == 3000


def test_the_free_hub_is_the_best_of_the_held_ones() -> None:
    """Three dials in a row, each held as the hub in turn: the least cost is the free one's.

    At dial 1: ignition and ground 2000 of wire and 3 fittings each (ring 2 at the landing and at
    the middle dial, ring 1 at the last); lamps 198 + 2000 of wire, one ring and 3 push-ons; the
    take-off's ring is stacked, for two circuits never share a barrel.
    """
    costs = {hub: cost_of(ask(tiny_console(), hubs=[hub])) for hub in ("dial1", "dial2", "dial3")}
    assert min(costs.values()) == cost_of(ask(tiny_console()))
    assert costs["dial1"] == costs["dial3"]
    assert costs["dial1"] == 2 * (2000 + 3 * 250) + 2198 + 4 * 250 + 400


def test_a_circuit_of_one_post_needs_no_jumper() -> None:
    """Dial 2 alone has a ground: its pigtail lands there in ring 1, and nothing is cut for it.

    Ignition: 1000 + ring 2 + ring 1 = 1500; ground: ring 1 = 250.
    """
    console = without_post(tiny_console(TWO_DIALS, lamps=False), "dial1.ground")
    outcome = ask(console)
    assert items(outcome, "dial2.ground") == [("ring 1", (1,))]
    assert cost_of(outcome) == 1750
