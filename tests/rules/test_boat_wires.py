"""What is connected when the panel is in the boat takes its place from the start.

Dial 2 has a sender of two 18 AWG wires (823 000 µm², 2.2 mm) on its signal and its ground stud.
``ring 0`` takes one of them, ``ring 00`` two.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
    ask,
    change_post,
    choice_of,
    cost_of,
    fitting,
    impossible,
    items,
    only_ground,
    roomy_limits,
    spool,
    stock_of,
    wide_stock,
)
from support.consoles import THREAD, given_wire, place, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import BoatBlock, Console, ReadyRing
from lugwright.stock.schema import Barrel, Stock

RING_0 = fitting("ring 0", "ring", Barrel(700_000, 900_000, 2500, 60))
RING_00 = fitting("ring 00", "ring", Barrel(1_600_000, 1_700_000, 3200, 60))
PLAIN = 1000 + 2 * 250
# two more rings, and one of them sits on the bench lug of dial 2's ground
SENT = PLAIN + 2 * 250 + 400


def sent_console(*dials: int, **changes: Any) -> Console:
    """Two dials' ground circuit with senders for these dials, their wires changed."""
    console = only_ground(tiny_console([(60, 60), (160, 60)], lamps=False, senders=dials or (2,)))
    if not changes:
        return console
    return replace(console, boat_blocks=tuple(rewired(a, **changes) for a in console.boat_blocks))


def rewired(boat_block: BoatBlock, **changes: Any) -> BoatBlock:
    """The block of boat wires with every wire changed."""
    return replace(boat_block, wires=tuple(replace(wire, **changes) for wire in boat_block.wires))


def planned(console: Console, stock: Stock | None = None, **changes: Any) -> Outcome:
    """The plan with dial 1 as the hub."""
    return ask(console, roomy_limits(**changes), stock or stock_of(RING_0), hubs=["dial1"])


def test_what_comes_aboard_has_its_own_lug() -> None:
    """A ring that takes anything is in stock; bench and aboard wires never share it."""
    outcome = planned(sent_console(), wide_stock())
    assert items(outcome, "dial2.ground") == [("ring", (1,)), ("ring", (1,))]
    assert items(outcome, "dial2.signal") == [("ring", (1,))]
    assert cost_of(outcome) == SENT


def test_its_lug_takes_a_place_on_the_stud() -> None:
    """One lug to a stud leaves no room for the sender beside the bench lug."""
    assert cost_of(planned(sent_console(), lugs_per_stud=2)) == SENT
    assert impossible(planned(sent_console(), lugs_per_stud=1))


def test_its_lug_takes_thread() -> None:
    """Nut 3.2 mm and two tongues of 0.8 mm: 4.8 mm."""
    for thread, fits in ((48, True), (47, False)):
        console = change_post(sent_console(), "dial2.ground", free_thread_dmm=thread)
        assert impossible(planned(console)) is not fits


def signal_thread(free_thread_dmm: int) -> Outcome:
    """The plan where dial 2's signal stud, which belongs to no circuit, has this much thread."""
    return planned(change_post(sent_console(), "dial2.signal", free_thread_dmm=free_thread_dmm))


def test_a_post_of_no_circuit_holds_what_comes_aboard() -> None:
    """Nut and one tongue, 4.0 mm of thread, are enough."""
    assert cost_of(signal_thread(40)) == SENT


def test_a_post_of_no_circuit_is_judged_too() -> None:
    """0.1 mm less, and what comes aboard cannot be landed: no plan exists."""
    assert impossible(signal_thread(39))


def test_wires_of_one_block_share_a_barrel() -> None:
    """Both wires on the ground stud: one ring 00 in place of two ring 0 and one stacked lug
    less.
    """
    console = sent_console(lands_on="dial2.ground")
    shared = planned(console, stock_of(RING_0, RING_00))
    assert items(shared, "dial2.ground") == [("ring 00", (2,)), ("ring 1", (1,))]
    assert cost_of(shared) == PLAIN + 250 + 400
    assert cost_of(planned(console, stock_of(RING_0))) == PLAIN + 2 * 250 + 2 * 400


def test_wires_of_two_blocks_do_not_share() -> None:
    """Two senders' ground wires on dial 2's ground: a ring each though ring 00 would take both.

    Signals on two studs: 4 rings in all, two of them stacked on dial 2's ground.
    """
    console = sent_console(1, 2)
    boat_blocks = []
    for boat_block in console.boat_blocks:
        wires = tuple(
            replace(w, lands_on="dial2.ground") if w.lands_on.endswith("ground") else w
            for w in boat_block.wires
        )
        boat_blocks.append(replace(boat_block, wires=wires, returns_to="dial2.ground"))
    console = replace(console, boat_blocks=tuple(boat_blocks))
    outcome = planned(console, stock_of(RING_0, RING_00))
    assert items(outcome, "dial2.ground") == [("ring 0", (1,)), ("ring 0", (1,)), ("ring 1", (1,))]
    assert cost_of(outcome) == PLAIN + 4 * 250 + 2 * 400


def test_a_ready_made_ring_is_no_fitting_of_ours() -> None:
    """Both wires come with rings: nothing to crimp, the stacked lug remains."""
    outcome = planned(sent_console(ring=ReadyRing(THREAD, 8, 45)))
    assert items(outcome, "dial2.signal") == []
    assert cost_of(outcome) == PLAIN + 400


def test_a_ready_made_ring_must_fit() -> None:
    """Rings for another thread: no plan, and the reasons name the posts."""
    outcome = planned(sent_console(ring=ReadyRing("#10-32 UNF", 8, 45)))
    assert impossible(outcome)
    assert [(r.rule, r.place) for r in outcome.reasons] == [
        ("thread", "dial2.ground (sender2)"),
        ("thread", "dial2.signal (sender2)"),
    ]


def test_a_ready_made_ring_lands_on_no_tab() -> None:
    """The signal post is a tab."""
    console = sent_console(ring=ReadyRing(THREAD, 8, 45))
    console = change_post(console, "dial2.signal", kind="tab", tab_size="6.3 x 0.8", thread="")
    outcome = planned(console)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("thread", "dial2.signal (sender2)")]


def test_no_fitting_takes_the_wire() -> None:
    """Without ring 0 the thin wires cannot be landed: 1 646 000 folded back is too little for ring
    2.
    """
    outcome = planned(sent_console(), stock_of())
    assert impossible(outcome)
    assert [(r.rule, r.place) for r in outcome.reasons] == [
        ("barrel", "dial2.ground (sender2)"),
        ("barrel", "dial2.signal (sender2)"),
    ]


def test_a_tab_taken_by_boat_wires_is_taken() -> None:
    """Boat wires have a tab to themselves: on dial 2's ground, a tab, no jumper fits beside."""
    console = change_post(
        sent_console(), "dial2.ground", kind="tab", tab_size="6.3 x 0.8", thread=""
    )
    assert impossible(planned(console, wide_stock()))
    signal = change_post(
        sent_console(), "dial2.signal", kind="tab", tab_size="6.3 x 0.8", thread=""
    )
    assert items(planned(signal, wide_stock()), "dial2.signal") == [("push-on", (1,))]


def test_a_boat_wire_on_a_lead_is_joined() -> None:
    """The signal is a lead: butt with the lead in one half and the sender's wire in the other."""
    lead = given_wire("18 AWG", "pink")
    console = change_post(sent_console(), "dial2.signal", kind="lead", lead=lead, thread="")
    outcome = planned(console, wide_stock(fitting("butt", "butt", ANY, ANY)))
    assert items(outcome, "dial2.signal") == [("butt", (1, 1))]
    assert cost_of(outcome) == SENT


def test_cheapest_lands_aboard_by_captive_spade() -> None:
    """A ring takes 2 minutes to land aboard, a captive spade 1; on the bench both take one.

    The spade is 0.10 dearer: aboard it saves 0.90, on the bench it saves nothing.
    """
    spade = fitting("spade", "captive spade", ANY, price_micro=300_000)
    minutes = {
        "ring": {"bench": 100, "aboard": 200},
        "captive spade": {"bench": 100, "aboard": 100},
    }
    limits = {"objective": "cheapest", "minutes_landing_cmin": minutes}
    outcome = planned(sent_console(), wide_stock(spade), **limits)
    assert items(outcome, "dial2.ground") == [("ring", (1,)), ("spade", (1,))]
    assert items(outcome, "dial2.signal") == [("spade", (1,))]


# -- reach --------------------------------------------------------------------------------------

# from (0, 0) to dial 2's signal at (160, 46) mm, 50 mm high: ceil(hypot(1600, 460)) + 500 = 2165;
# to its ground at (170, 55): ceil(hypot(1700, 550)) + 500 = 2287
SIGNAL_NEEDED, GROUND_NEEDED = 2165, 2287


def far_console(reach_dmm: int) -> Console:
    """The sender's wires enter at the corner with this reach."""
    return sent_console(entry=place(0, 0), reach_dmm=reach_dmm)


def long_stock(*colours: str) -> Stock:
    """A stock that can lengthen 18 AWG wires, in these colours."""
    base = wide_stock(fitting("butt", "butt", ANY, ANY))
    spools = (*base.spools, *(spool("18 AWG", c) for c in colours))
    return replace(base, spools=spools)


@pytest.mark.parametrize(("reach", "short"), [(GROUND_NEEDED, 0), (GROUND_NEEDED - 1, 1)])
def test_reach_of_what_comes_aboard(reach: int, short: int) -> None:
    """One step short an extension is needed: none allowed, no plan; allowed, 1 of wire and a
    butt.
    """
    outcome = planned(far_console(reach), long_stock("black"))
    if not short:
        assert cost_of(outcome) == SENT
        return
    assert impossible(outcome)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("reach", "sender2: black")]
    longer = planned(far_console(reach), long_stock("black"), extensions=True)
    assert cost_of(longer) == SENT + short + 250


def test_a_boat_wire_without_entry_is_not_judged_for_reach() -> None:
    """Its reach of 0 does not matter."""
    assert cost_of(planned(sent_console())) == SENT


@pytest.mark.parametrize(
    ("colours", "taken"),
    [
        (("pink", "black", "blue"), "pink"),
        (("black", "blue"), "black"),
        (("yellow", "blue"), "blue"),
    ],
)
def test_the_colour_of_an_extension(colours: tuple[str, ...], taken: str) -> None:
    """The wire's own colour, else black, else the first by name; always its own size."""
    console = far_console(SIGNAL_NEEDED - 1)
    outcome = planned(console, long_stock(*colours), extensions=True)
    extension = {e.wire: (e.wire_size, e.colour) for e in choice_of(outcome).extensions}
    assert extension["sender2: pink"] == ("18 AWG", taken)


def test_no_wire_of_its_size_to_lengthen_it() -> None:
    """Only 16 AWG in stock: the reasons name the wires."""
    outcome = planned(far_console(100), long_stock(), extensions=True)
    assert impossible(outcome)
    assert {r.place for r in outcome.reasons} == {"sender2: black", "sender2: pink"}


def test_what_comes_aboard_draws_its_current_through_the_panel() -> None:
    """The sender's 50 mA come back by dial 2's jumper: 25 A of 16 AWG are 24 950 + 50."""
    for dial_ma, fits in ((24_950, True), (24_951, False)):
        console = only_ground(
            tiny_console([(60, 60), (160, 60)], lamps=False, senders=[2], pigtail_size="12 AWG")
        )
        loads = tuple(
            replace(x, current_ma=dial_ma) if x.name == "dial2" else x for x in console.loads
        )
        console = replace(console, loads=loads)
        assert impossible(planned(console, wide_stock())) is not fits


def test_a_boat_wire_carries_its_boat_blocks_current() -> None:
    """18 AWG carries 20 A."""
    for current_ma, fits in ((20_000, True), (20_001, False)):
        console = sent_console()
        (sender,) = console.boat_blocks
        console = replace(console, boat_blocks=(replace(sender, current_ma=current_ma),))
        outcome = planned(console, wide_stock(wire_sizes=("12 AWG",)))
        found = [] if fits else ["sender2: black", "sender2: pink"]
        places = [r.place for r in outcome.reasons if r.place.startswith("sender2")]
        assert places == found
