"""Circuits that are taken from another: where they are taken off, and how often."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    THREE,
    add_stud,
    ask,
    change_circuit,
    change_post,
    choice_of,
    cost_of,
    ends,
    fitting,
    impossible,
    items,
    roomy_limits,
    stock_of,
    without_post,
)
from support.consoles import TAB_SIZE, place, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.routes.schema import SplicePoint
from lugwright.scenario.console import Circuit, Console

FREE = {"lug_worth_dmm": 0, "fitting_worth_dmm": 0}
# from a dial's ignition to its own lamp: ceil(hypot(100, 170)) = 198; dials stand 1000 apart
OWN_LAMP = 198


def take_offs(outcome: Outcome, console: Console, circuit: str = "lamps") -> list[tuple[str, str]]:
    """Jumpers of a taker that start on a post of the circuit it is taken from."""
    own = console.circuit(circuit).posts
    return [(a, b) for a, b in ends(outcome, circuit) if a not in own and "~" not in a]


@pytest.mark.parametrize("hub", ["dial1", "dial2", "dial3"])
def test_exactly_one_take_off_at_the_landing(hub: str) -> None:
    """Whichever dial is the hub, one lamp jumper leaves its ignition post and no other's."""
    console = tiny_console()
    outcome = ask(console, hubs=[hub])
    landing = dict(choice_of(outcome).landings)["ignition"]
    assert [a for a, _ in take_offs(outcome, console)] == [landing] == [f"{hub}.ignition"]


def test_one_take_off_even_where_two_are_shorter() -> None:
    """From the middle of three: two tabs of two wires each want a run from one end to the other.

    The lamps' tree has one end on the hub's ignition. 198 to lamp 2, one jumper on to lamp 1 or 3
    (1000), and from there to the other (2000); or ceil(hypot(900, 170)) = 916 from the hub's
    ignition to lamp 1, 1000 to lamp 2, 1000 to lamp 3. (Ignition lies 10 mm left of the centre.)
    """
    outcome = ask(tiny_console(), roomy_limits(**FREE), hubs=["dial2"])
    wire = 2000 + 2000 + 916 + 1000 + 1000
    assert cost_of(outcome) == wire


def test_any_lets_lamps_leave_every_ignition_stud() -> None:
    """Three take-offs of 198, against 198 + 1000 + 1000 by one."""
    console = tiny_console()
    outcome = ask(console, roomy_limits(lamp_take_off="any", **FREE))
    assert len(take_offs(outcome, console)) == 3
    assert cost_of(outcome) == 2000 + 2000 + 3 * OWN_LAMP
    assert cost_of(ask(console, roomy_limits(**FREE))) == 2000 + 2000 + OWN_LAMP + 2000


def test_any_still_counts_what_it_costs() -> None:
    """Two dials: one take-off, two on two studs, or two that leave one stud in one ring.

    Ignition 1000 + 2 fittings, ground the same. At the landing alone: lamps 198 + 1000, ring,
    push-on 2, push-on 1, one stacked. Two studs: 2 × 198, two rings, two push-ons, two stacked.
    One stud: 198 and ceil(hypot(900, 170)) = 916, ring 2, two push-ons, one stacked. The last two
    are equal at 1114 + 750 + L = 396 + 1000 + 2 L, so at a lug's worth of 468.
    """
    console, both = tiny_console([(60, 60), (160, 60)]), 2 * (1000 + 2 * 250)
    assert cost_of(ask(console)) == both + 1198 + 3 * 250 + 400
    assert cost_of(ask(console, roomy_limits(lamp_take_off="any"))) == both + 396 + 4 * 250 + 800
    for worth, studs in ((467, 2), (469, 1)):
        outcome = ask(console, roomy_limits(lamp_take_off="any", lug_worth_dmm=worth))
        assert len({a for a, _ in take_offs(outcome, console)}) == studs


def test_any_joins_every_part_to_one_take_off() -> None:
    """Lamps near each other hang together and on one stud only: parts are trees with one root."""
    console = tiny_console([(60, 60), (70, 130), (260, 60)])
    outcome = ask(console, roomy_limits(lamp_take_off="any", **FREE))
    joined: dict[str, set[str]] = {p: {p} for p in console.circuit("lamps").posts}
    roots = take_offs(outcome, console)
    for a, b in ends(outcome, "lamps"):
        if (a, b) not in roots:
            merged = joined[a] | joined[b]
            for post in merged:
                joined[post] = merged
    parts = {frozenset(part) for part in joined.values()}
    assert sorted(len([1 for _, b in roots if b in part]) for part in parts) == [1] * len(parts)


def tab_hub(console: Console, dial: str = "dial1") -> Console:
    """The console with one dial's ignition a tab."""
    return change_post(
        console, f"{dial}.ignition", kind="tab", tab_size=TAB_SIZE, thread="", free_thread_dmm=0
    )


def test_nothing_is_taken_off_a_tab() -> None:
    """Dial 1's ignition is a tab: with lamps it cannot be the hub, without lamps it can."""
    console = tab_hub(tiny_console([(60, 60), (160, 60)]))
    assert impossible(ask(console, hubs=["dial1"]))
    assert take_offs(ask(console), console) == [("dial2.ignition", "dial1.lamp")] or take_offs(
        ask(console), console
    ) == [("dial2.ignition", "dial2.lamp")]
    unlit = tab_hub(tiny_console([(60, 60), (160, 60)], lamps=False))
    assert not impossible(ask(unlit, hubs=["dial1"]))


def test_with_any_a_tab_may_be_the_landing() -> None:
    """Dial 1's tab as the landing; both lamps leave dial 2's stud, in one ring."""
    console = tab_hub(tiny_console([(60, 60), (160, 60)]))
    outcome = ask(console, roomy_limits(lamp_take_off="any"), hubs=["dial1"])
    assert {a for a, _ in take_offs(outcome, console)} == {"dial2.ignition"}


def test_a_taker_without_posts_has_no_jumpers() -> None:
    """Lamps with no post at all: as if there were none."""
    console = tiny_console([(60, 60), (160, 60)])
    for number in (1, 2):
        console = without_post(console, f"dial{number}.lamp")
    outcome = ask(console)
    assert ends(outcome, "lamps") == []
    assert cost_of(outcome) == 2 * (1000 + 2 * 250)


def test_a_taker_of_one_post_is_one_jumper() -> None:
    """A single lamp: its take-off and nothing else."""
    console = without_post(tiny_console([(60, 60), (160, 60)]), "dial2.lamp")
    outcome = ask(console)
    assert ends(outcome, "lamps") == [("dial1.ignition", "dial1.lamp")]
    assert cost_of(outcome) == 2 * (1000 + 2 * 250) + OWN_LAMP + 2 * 250 + 400


def second_taker(console: Console) -> Console:
    """The console with a second taken circuit: dials' upper tabs of their own, 5 mm above the
    lamps.
    """
    posts = []
    for post in console.posts:
        if post.circuit == "lamps":
            upper = replace(post.at, y_dmm=post.at.y_dmm + 50)
            name = post.id.replace("lamp", "second")
            posts.append(replace(post, id=name, name="second", circuit="second", at=upper))
    circuit = Circuit(
        "second", "feed", "dark blue", "", "ignition", tuple(p.id for p in posts), None, 0
    )
    return replace(console, posts=(*console.posts, *posts), circuits=(*console.circuits, circuit))


def test_two_takers_each_have_their_own_take_off() -> None:
    """Pigtail and jumper share ring 2 at the hub; each taker has a ring of its own: two stacked.

    Lamps 198 + 1000 as before; second ceil(hypot(100, 220)) = 242 + 1000.
    """
    console = second_taker(tiny_console([(60, 60), (160, 60)]))
    outcome = ask(console, hubs=["dial1"])
    landing = "dial1.ignition"
    assert [a for a, _ in take_offs(outcome, console)] == [landing]
    assert [a for a, _ in take_offs(outcome, console, "second")] == [landing]
    assert items(outcome, landing) == [("ring 1", (1,)), ("ring 1", (1,)), ("ring 2", (2,))]
    takers = (198 + 1000 + 3 * 250 + 400) + (242 + 1000 + 3 * 250 + 400)
    assert cost_of(outcome) == 2 * (1000 + 2 * 250) + takers
    assert impossible(ask(console, roomy_limits(lugs_per_stud=2), hubs=["dial1"]))


def test_a_takers_lug_takes_a_place() -> None:
    """Two lugs on the landing stud: ring 2 and the take-off's ring; one place is too few."""
    console = tiny_console([(60, 60), (160, 60)])
    assert not impossible(ask(console, roomy_limits(lugs_per_stud=2)))
    assert impossible(ask(console, roomy_limits(lugs_per_stud=1)))


def test_a_take_off_may_run_to_a_splice() -> None:
    """Lamps of three dials about a point, no tab takes two: a splice near the hub serves all three.

    Four ends meet there: the take-off and three lamps.
    """
    console = tiny_console([(60, 60), (160, 60), (110, 150)])
    point = SplicePoint("lamps~1", "lamps", place(110, 100, 50))
    four = fitting("end 4", "closed end", replace(THREE, area_max_um2=5_300_000, sleeve_um=6000))
    stock = stock_of(four, without=["push-on 2"])
    limits = roomy_limits(splices=True, **FREE)
    outcome = ask(console, limits, stock, {"lamps": (point,)}, hubs=["dial1"])
    assert ends(outcome, "lamps") == [
        ("dial1.ignition", "lamps~1"),
        ("lamps~1", "dial1.lamp"),
        ("lamps~1", "dial2.lamp"),
        ("lamps~1", "dial3.lamp"),
    ]
    assert impossible(ask(console, replace(limits, wires_per_splice=3), stock, {"lamps": (point,)}))


def test_the_landing_is_chosen_with_the_take_off_in_mind() -> None:
    """Dial 1 has a second, linked ignition stud nearer its lamp: landing there saves take-off wire.

    Second stud at (50, 65): to the lamp at (60, 72) ceil(hypot(100, 70)) = 123. The chain may
    start from either stud of the link: 1000 to dial 2 as before.
    """
    console = change_post(tiny_console([(60, 60), (160, 60)]), "dial1.ignition", link="bar")
    console = add_stud(console, "dial1.upper", "ignition", place(50, 65, 50), link="bar")
    outcome = ask(console, roomy_limits(**FREE), hubs=["dial1"])
    assert dict(choice_of(outcome).landings)["ignition"] == "dial1.upper"
    assert cost_of(outcome) == 1000 + 1000 + 123 + 1000


def test_a_circuit_with_a_pigtail_of_its_own_taken_from_none() -> None:
    """Lamps on their own pigtail land on the hub's lamp post; nothing is taken off ignition."""
    console = tiny_console([(60, 60), (160, 60)])
    pigtail = console.circuit("ignition").pigtail
    assert pigtail is not None
    own: dict[str, Any] = {"taken_from": "", "pigtail": replace(pigtail, circuit="lamps")}
    console = change_circuit(console, "lamps", **own)
    outcome = ask(console, hubs=["dial1"])
    assert take_offs(outcome, console) == []
    assert dict(choice_of(outcome).landings)["lamps"] == "dial1.lamp"
    # lamps: 1000 of wire, push-on 2 with the pigtail, push-on 1
    assert cost_of(outcome) == 3 * (1000 + 2 * 250)
