"""Each circuit is one tree from its landing post over every post it must reach."""

from __future__ import annotations

from dataclasses import replace

from support.asking import (
    add_stud,
    ask,
    change_post,
    choice_of,
    cost_of,
    ends,
    impossible,
    only_ground,
    roomy_limits,
)
from support.consoles import place, tiny_console

from lugwright.base.scale import ceil_hypot
from lugwright.scenario.console import Console

FREE = {"lug_worth_dmm": 0, "fitting_worth_dmm": 0}


def ground_row(*x_mm: float) -> Console:
    """The ground circuit of dials in a row at these places."""
    return only_ground(tiny_console([(x, 60) for x in x_mm], lamps=False))


def with_bar(console: Console, *places_mm: tuple[float, float], optional: bool = True) -> Console:
    """Dial 1 also holds a bus bar of linked ground studs at these places."""
    for number, at in enumerate(places_mm, start=1):
        console = add_stud(
            console, f"dial1.bar{number}", "ground", place(*at, 50), link="bar", optional=optional
        )
    return console


def test_wire_is_that_of_the_shortest_tree() -> None:
    """Four dials at the corners of 3000 by 4000 (0.1 mm): two short sides, one long one.

    Sides 3000, 3000, 4000, 4000, diagonals 5000: the shortest tree is 3000 + 3000 + 4000.
    """
    centres = [(60, 60), (360, 60), (60, 460), (360, 460)]
    console = only_ground(tiny_console(centres, lamps=False, size_mm=(500, 600)))
    outcome = ask(console, roomy_limits(**FREE))
    assert cost_of(outcome) == 10_000
    assert len(ends(outcome, "ground")) == 3


def test_ends_are_on_the_supply_side_first() -> None:
    """Landing on the middle dial, both jumpers start there; landing on the first, they follow
    on.
    """
    row = ground_row(60, 160, 260)
    middle = ask(row, hubs=["dial2"])
    assert ends(middle, "ground") == [
        ("dial2.ground", "dial1.ground"),
        ("dial2.ground", "dial3.ground"),
    ]
    first = ask(row, hubs=["dial1"])
    assert ends(first, "ground") == [
        ("dial1.ground", "dial2.ground"),
        ("dial2.ground", "dial3.ground"),
    ]


def test_a_star_where_the_chain_has_no_room() -> None:
    """One wire per barrel and one lug to a stud, the hub's stud excepted: only a star is left.

    From dial 1 to dials at 100, 200 mm: 1000 + 2000 in place of the chain's 1000 + 1000.
    """
    row = ground_row(60, 160, 260)
    limits = roomy_limits(wires_per_barrel=1, **FREE)
    assert cost_of(ask(row, limits, hubs=["dial1"])) == 2000
    for dial in ("dial2.ground", "dial3.ground"):
        row = change_post(row, dial, free_thread_dmm=40)
    outcome = ask(row, limits, hubs=["dial1"])
    assert cost_of(outcome) == 3000
    assert {a for a, _ in ends(outcome, "ground")} == {"dial1.ground"}


def test_no_room_for_any_tree() -> None:
    """Every stud holds one lug of one wire: the landing alone would need two."""
    row = ground_row(60, 160)
    for dial in ("dial1.ground", "dial2.ground"):
        row = change_post(row, dial, free_thread_dmm=40)
    assert impossible(ask(row, roomy_limits(wires_per_barrel=1)))
    assert cost_of(ask(row, roomy_limits(wires_per_barrel=2))) == 1000 + 2 * 250


def test_linked_posts_are_one_piece_of_metal() -> None:
    """A bar at dial 1 with studs at 70 and 270 mm, dials' grounds at 70 and 270 mm, 30 mm apart.

    Dial 1's ground to the bar's near stud 300, bar's far stud to dial 2's ground 300: 600 of
    wire, though 2000 lie between the two studs of the bar. Without the bar: 2000.
    """
    row = ground_row(60, 260)
    limits = roomy_limits(**FREE)
    assert cost_of(ask(row, limits)) == 2000
    joined = with_bar(row, (70, 85), (270, 85))
    outcome = ask(joined, limits)
    assert cost_of(outcome) == 600
    assert len(ends(outcome, "ground")) == 2


def test_an_optional_bar_is_left_out_when_useless() -> None:
    """A bar off to the side saves nothing: the plan is the plain chain's, 1000 + ring 2 + ring
    1.
    """
    row = with_bar(ground_row(60, 160), (70, 200))
    outcome = ask(row, hubs=["dial1"])
    assert cost_of(outcome) == 1000 + 2 * 250
    assert not any("bar" in joint for pair in ends(outcome, "ground") for joint in pair)


def test_a_bar_that_must_be_reached_is_reached() -> None:
    """The same bar, not optional: one jumper of ceil(hypot(0, 1450)) = 1450 more.

    Its two ends: one shares a ring 2 with another end, one is in a ring 1 of its own: 250.
    """
    row = with_bar(ground_row(60, 160), (70, 200), optional=False)
    assert cost_of(ask(row, hubs=["dial1"])) == 1000 + 1450 + 3 * 250


def test_one_post_that_must_be_reached_makes_its_whole_bar_needed() -> None:
    """Of a bar's two studs one is not optional: the bar is reached, by its nearer stud.

    Nearer stud 1450 above dial 1's ground, the other 100 mm further.
    """
    row = with_bar(ground_row(60, 160), (70, 200), (70, 300))
    row = change_post(row, "dial1.bar2", optional=False)
    outcome = ask(row, roomy_limits(**FREE))
    assert cost_of(outcome) == 1000 + 1450
    assert ("dial1.ground", "dial1.bar1") in [tuple(pair) for pair in ends(outcome, "ground")] or (
        "dial1.bar1",
        "dial1.ground",
    ) in ends(outcome, "ground")


def test_landing_on_an_optional_bar_uses_it() -> None:
    """Only the bar's stud holds more than one lug, so the supply lands there and the star starts.

    Stud at (165, 175) mm: to dial 1's ground (70, 55) hypot(950, 1200), to dial 2's (270, 55)
    hypot(1050, 1200).
    """
    row = with_bar(ground_row(60, 260), (165, 175))
    for dial in ("dial1.ground", "dial2.ground"):
        row = change_post(row, dial, free_thread_dmm=40)
    outcome = ask(row, roomy_limits(wires_per_barrel=1, **FREE))
    assert dict(choice_of(outcome).landings) == {"ground": "dial1.bar1"}
    assert cost_of(outcome) == ceil_hypot(950, 1200) + ceil_hypot(1050, 1200)


def test_a_way_over_an_optional_bar_may_be_cheaper() -> None:
    """Three dials in a star about a bar: over the bar 3 legs are shorter than 2 sides.

    Grounds at (70, 55), (270, 55), (170, 229) mm, near a triangle of side 2000; the bar in the
    middle at (170, 113) mm: hypot(1000, 580) = 1157, twice, and 1160, against 2 sides of 2000
    or ceil(hypot(1000, 1740)) = 2007.
    """
    row = only_ground(tiny_console([(60, 60), (260, 60), (160, 234)], lamps=False))
    limits = roomy_limits(**FREE)
    assert cost_of(ask(row, limits)) == 2000 + 2007
    assert cost_of(ask(with_bar(row, (170, 113)), limits)) == 2 * 1157 + 1160


def test_the_order_of_the_file_changes_nothing() -> None:
    """Posts, instruments, circuits and loads the other way round: the very same outcome."""
    console = tiny_console(((60, 60), (160, 60), (110, 160)))
    turned = replace(
        console,
        instruments=console.instruments[::-1],
        posts=console.posts[::-1],
        loads=console.loads[::-1],
        circuits=tuple(replace(c, posts=c.posts[::-1]) for c in console.circuits[::-1]),
    )
    assert ask(turned) == ask(console)
