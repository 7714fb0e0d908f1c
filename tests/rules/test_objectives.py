"""What is minimised, by the shop's choice, and how equal plans are told apart."""

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
    ends,
    fitting,
    impossible,
    items,
    only_ground,
    roomy_limits,
    stock_of,
    wide_stock,
)
from support.consoles import tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console


def row(*x_mm: float) -> Console:
    """The ground circuit of dials in a row."""
    return only_ground(tiny_console([(x, 60) for x in x_mm], lamps=False))


def planned(console: Console, objective: str, **changes: Any) -> Outcome:
    """The plan with dial 1 as the hub, one wire to a barrel."""
    fields: dict[str, Any] = {"wires_per_barrel": 1, **changes}
    return ask(console, roomy_limits(objective=objective, **fields), hubs=["dial1"])


@pytest.mark.parametrize(
    ("lug", "fitting_worth", "cost"),
    [(400, 250, 2000 + 2 * 400 + 5 * 250), (0, 0, 2000), (7, 0, 2014), (0, 3, 2015)],
)
def test_default_adds_up_wire_lugs_and_fittings(lug: int, fitting_worth: int, cost: int) -> None:
    """Three dials in a row: 2000 of wire, 5 ends in 5 rings, 2 of them stacked."""
    outcome = planned(
        row(60, 160, 260), "default", lug_worth_dmm=lug, fitting_worth_dmm=fitting_worth
    )
    assert cost_of(outcome) == cost


def test_shortest_has_levels() -> None:
    """Wire first, then stacked lugs, then fittings."""
    outcome = planned(row(60, 160, 260), "shortest")
    assert outcome.levels == ("wire length, 0.1 mm", "stacked lugs", "fittings")
    assert outcome.cost == outcome.bound == (2000, 2, 5)


def test_lowest_stacks_has_levels() -> None:
    """Stacked lugs, then the tallest stack, then wire, then fittings."""
    outcome = planned(row(60, 160, 260), "lowest-stacks")
    assert outcome.levels == (
        "stacked lugs",
        "tallest stack",
        "wire length, 0.1 mm",
        "fittings",
    )
    assert outcome.cost == outcome.bound == (2, 2, 2000, 5)


def forked() -> Console:
    """Dials at 60, 160 and 130 mm with the last one high up: a fork or a longer chain.

    Grounds at (70, 55), (170, 55), (270, 55) and, above the second, (170, 155) mm. From dial 2
    as the hub a star is three jumpers of 1000; a chain ends with the diagonal ceil(hypot(1000,
    1000)) = 1415.
    """
    centres = [(160, 60), (60, 60), (260, 60), (160, 160)]
    return only_ground(tiny_console(centres, lamps=False))


def test_shortest_takes_the_tall_stack_and_lowest_stacks_the_wire() -> None:
    """Hub in the middle, one wire to a barrel: 7 ends on 4 studs, 3 stacked however it is done.

    Star: 3000 of wire, 4 lugs on the hub. Chains hang 2 lugs each: from the hub to one side, on
    over the upper dial to the other side: 1000 + 1415 + 1415 and a tallest stack of 2.
    """
    assert planned(forked(), "shortest").cost == (3000, 3, 7)
    assert planned(forked(), "lowest-stacks").cost == (3, 2, 1000 + 1415 + 1415, 7)


def test_fittings_come_last() -> None:
    """Equal wire, equal stacks: the ring for two saves a fitting where two wires may share.

    Landing: ring 2 holds pigtail and jumper, one lug: no stack and 2 fittings in place of 3.
    """
    assert planned(row(60, 160), "shortest", wires_per_barrel=2).cost == (1000, 0, 2)
    assert planned(row(60, 160), "lowest-stacks", wires_per_barrel=2).cost == (0, 1, 1000, 2)


def test_cheapest_adds_up_money() -> None:
    """Two dials: 0.1 m × 1.00, a cut 0.50, three rings of 0.20 + 1.00 to crimp + 1.00 to land.

    In millionths: 100 000 + 500 000 + 3 × 2 200 000.
    """
    outcome = planned(row(60, 160), "cheapest")
    assert outcome.levels == ("money, millionths",)
    assert cost_of(outcome) == 7_200_000


def test_money_is_rounded_up_item_by_item() -> None:
    """A rate of 7 millionths an hour: half a minute, and one minute, are a millionth each.

    Wire 100 000; cut 1; rings 3 × (200 000 + 1 + 1).
    """
    assert cost_of(planned(row(60, 160), "cheapest", rate_micro_per_hour=7)) == 700_007


def test_wire_money_is_rounded_up_for_each_piece() -> None:
    """Wire at 11 millionths a metre, 0.1 m: 1.1, so 2 for each of two jumpers; nothing else
    costs.
    """
    stock = wide_stock()
    stock = replace(
        stock,
        spools=tuple(replace(s, price_micro_per_m=11) for s in stock.spools),
        fittings=(fitting("ring", "ring", ANY, price_micro=0),),
    )
    limits = roomy_limits(objective="cheapest", rate_micro_per_hour=0)
    assert cost_of(ask(row(60, 160, 260), limits, stock)) == 4


@pytest.mark.parametrize(
    ("weights", "cost"),
    [
        ({"length": 1, "stacked": 0, "fittings": 0, "money": 0}, 1000),
        ({"length": 0, "stacked": 5, "fittings": 0, "money": 0}, 5),
        ({"length": 0, "stacked": 0, "fittings": 7, "money": 0}, 21),
        ({"length": 0, "stacked": 0, "fittings": 0, "money": 1}, 7_200_000),
        ({"length": 2, "stacked": 3, "fittings": 4, "money": 1}, 2000 + 3 + 12 + 7_200_000),
        ({}, 0),
    ],
)
def test_weights(weights: dict[str, int], cost: int) -> None:
    """1000 of wire, one stacked lug, three fittings, 7 200 000 millionths, as the shop weighs
    them.
    """
    assert cost_of(planned(row(60, 160), "weights", weights=weights)) == cost


def test_worth_changes_the_plan() -> None:
    """From the middle of four, two wires to a barrel: the star stacks one lug, the chain none.

    The star has 4 ends on the hub in two rings, on 3000 of wire. The chain of 1000 + 1415 + 1415
    has two ends on each stud but the last: 830 more, worth it for a lug of more than 830.
    """
    for worth, hub_jumpers in ((829, 3), (831, 1)):
        limits = {"wires_per_barrel": 2, "lug_worth_dmm": worth, "fitting_worth_dmm": 0}
        outcome = planned(forked(), "default", **limits)
        starting = [a for a, _ in ends(outcome, "ground") if a == "dial1.ground"]
        assert len(starting) == hub_jumpers


def test_equal_plans_go_by_money() -> None:
    """Two rings alike in every level: the cheaper is taken though its name comes later."""
    dear = fitting("a dear ring", "ring", ANY, price_micro=300_000)
    stock = replace(stock_of(), fittings=(dear, fitting("b cheap ring", "ring", ANY)))
    outcome = ask(row(60, 160), stock=stock)
    assert {item for n in (1, 2) for item, _ in items(outcome, f"dial{n}.ground")} == {
        "b cheap ring"
    }


def test_equal_plans_fall_the_same_way_however_the_file_is_ordered() -> None:
    """A square of dials has many equal trees and hubs; shuffled, the very same plan comes out."""
    console = tiny_console([(60, 60), (160, 60), (60, 160), (160, 160)])
    stock = stock_of()
    turned = replace(
        console,
        instruments=console.instruments[::-1],
        posts=console.posts[2:] + console.posts[:2],
        loads=console.loads[::-1],
        circuits=tuple(replace(c, posts=c.posts[1:] + c.posts[:1]) for c in console.circuits[::-1]),
    )
    shuffled = replace(
        stock,
        spools=stock.spools[::-1],
        fittings=stock.fittings[::-1],
        hardware=stock.hardware[::-1],
    )
    first = ask(console, stock=stock)
    assert ask(turned, stock=shuffled) == first
    assert ask(console, stock=stock) == first


def test_a_held_hub_never_beats_the_free_one() -> None:
    """Dial 1's stud is short, so its hub is impossible; the others' best is the free best."""
    console = change_post(row(60, 160, 260), "dial1.ground", free_thread_dmm=40)
    limits = roomy_limits(wires_per_barrel=1)
    held = [ask(console, limits, hubs=[f"dial{n}"]) for n in (1, 2, 3)]
    assert impossible(held[0])
    free = ask(console, limits)
    assert cost_of(free) == min(cost_of(outcome) for outcome in held[1:])
    assert choice_of(free).landings[0][1] in ("dial2.ground", "dial3.ground")
