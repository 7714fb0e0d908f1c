"""How far a pigtail reaches, and what an extension costs.

From the entry at the corner to dial 1's ground at (70, 55) mm, 50 mm high:
ceil(hypot(700, 550)) + 500 = 891 + 500 = 1391 (0.1 mm).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
    ONE,
    TWO,
    ask,
    change_pigtail,
    choice_of,
    cost_of,
    fitting,
    impossible,
    items,
    only_ground,
    roomy_limits,
    sizes,
    stock_of,
    wide_stock,
)
from support.consoles import tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console, ReadyRing
from lugwright.stock.schema import Stock

NEEDED = 1391
PLAIN = 1000 + 2 * 250  # one jumper, ring 2 at the landing, ring 1 at the other end
BUTT = fitting("butt", "butt", ANY, ANY)


def reaching(reach_dmm: int, **pigtail: Any) -> Console:
    """Two dials' ground circuit on a pigtail of this reach."""
    console = only_ground(tiny_console([(60, 60), (160, 60)], lamps=False))
    return change_pigtail(console, "ground", reach_dmm=reach_dmm, **pigtail)


def planned(console: Console, stock: Stock | None = None, **changes: Any) -> Outcome:
    """The plan with dial 1 as the hub."""
    return ask(console, roomy_limits(**changes), stock or stock_of(BUTT), hubs=["dial1"])


@pytest.mark.parametrize(
    ("needed", "service", "changes"),
    [
        (NEEDED, 0, {}),
        (NEEDED + 800, 800, {}),
        (NEEDED + 200, 0, {"drip_loop_dmm": 200}),
        (NEEDED + 2 * 150, 0, {"re_termination_dmm": 150}),
        (NEEDED + 300 + 200 + 2 * 150, 300, {"drip_loop_dmm": 200, "re_termination_dmm": 150}),
        (NEEDED, 0, {"slack_permille": 500, "end_allowance_dmm": 300}),
    ],
)
def test_reach_needed(needed: int, service: int, changes: dict[str, Any]) -> None:
    """Path + service travel + drip loop + twice the re-termination; slack is not counted again."""
    for reach, fits in ((needed, True), (needed - 1, False)):
        console = replace(reaching(reach), service_travel_dmm=service)
        assert impossible(planned(console, **changes)) is not fits


def test_an_extension_makes_up_the_shortfall() -> None:
    """141 short: 141 of wire and a butt; the extension's end shares ring 2 in the pigtail's
    place.
    """
    outcome = planned(reaching(NEEDED - 141), extensions=True)
    assert cost_of(outcome) == PLAIN + 141 + 250
    assert [(e.wire, e.wire_size, e.colour) for e in choice_of(outcome).extensions] == [
        ("pigtail ground", "16 AWG", "black")
    ]
    assert items(outcome, "join pigtail ground") == [("butt", (1, 1))]
    assert items(outcome, "dial1.ground") == [("ring 2", (2,))]


@pytest.mark.parametrize(
    ("changes", "length"),
    [
        ({"slack_permille": 100}, 156),  # 141 × 1.1 = 155.1
        ({"end_allowance_dmm": 50}, 241),
        ({"slack_permille": 100, "end_allowance_dmm": 50, "cut_step_dmm": 100}, 300),  # 255.1
        ({"minimum_jumper_dmm": 500}, 500),
        ({"minimum_jumper_dmm": 301, "cut_step_dmm": 100}, 400),
    ],
)
def test_an_extension_is_cut_as_a_jumper_is(changes: dict[str, Any], length: int) -> None:
    """(Shortfall × (1 + slack) + two allowances), the minimum, the cut step; the jumper
    likewise.
    """
    console = reaching(NEEDED - 141)
    with_it = cost_of(planned(console, extensions=True, **changes))
    without = cost_of(planned(reaching(NEEDED), **changes))
    assert with_it - without == length + 250


def test_a_nearer_hub_saves_the_extension() -> None:
    """Dial 2 is 1000 further: free to choose, dial 1 is the hub, and held at dial 2 it is dearer.

    To dial 2's ground at (170, 55): ceil(hypot(1700, 550)) + 500 = 2287, 896 more.
    """
    console, limits = reaching(NEEDED), roomy_limits(extensions=True)
    assert cost_of(ask(console, limits, stock_of(BUTT))) == PLAIN
    assert cost_of(ask(console, limits, stock_of(BUTT), hubs=["dial2"])) == PLAIN + 896 + 250


def test_an_extension_needs_a_butt() -> None:
    """No butt in stock, or none that fits: no extension; a closed end does not do."""
    console = reaching(NEEDED - 1)
    closed = fitting("closed end", "closed end", TWO)
    assert impossible(planned(console, stock_of(closed), extensions=True))
    assert not impossible(
        planned(console, stock_of(fitting("b", "butt", ONE, ONE)), extensions=True)
    )


def test_a_butts_halves_may_be_folded_back_into() -> None:
    """Halves for two wires: both lone wires are folded, where that is allowed."""
    console, stock = reaching(NEEDED - 1), stock_of(fitting("b", "butt", TWO, TWO))
    assert cost_of(planned(console, stock, extensions=True)) == PLAIN + 1 + 250
    assert impossible(planned(console, stock, extensions=True, fold_back=False))
    assert impossible(planned(console, stock, extensions=True, wires_per_barrel=1))


def test_wires_per_splice_is_not_for_extensions() -> None:
    """A limit of one wire to a splice leaves the extension's butt alone."""
    outcome = planned(reaching(NEEDED - 1), extensions=True, wires_per_splice=1)
    assert cost_of(outcome) == PLAIN + 1 + 250


def test_a_ready_made_ring_is_cut_off() -> None:
    """In reach it is a lug of its own; out of reach the extension's bare end shares ring 2.

    Its thread would not even fit.
    """
    ring = ReadyRing("#10-32 UNF", 8, 45)
    assert impossible(planned(reaching(NEEDED, ring=ring), extensions=True))
    outcome = planned(reaching(NEEDED - 1, ring=ring), extensions=True)
    assert cost_of(outcome) == PLAIN + 1 + 250
    assert items(outcome, "dial1.ground") == [("ring 2", (2,))]


def test_an_aboard_pigtails_extension_stays_a_lug_of_its_own() -> None:
    """An extension has the stage of the wire it lengthens: ring 1 and ring 1, one stacked."""
    outcome = planned(reaching(NEEDED - 1, stage="aboard"), extensions=True)
    assert items(outcome, "dial1.ground") == [("ring 1", (1,)), ("ring 1", (1,))]
    assert cost_of(outcome) == PLAIN + 250 + 400 + 1 + 250


def test_an_extension_is_of_the_circuits_size() -> None:
    """Ground asks for 14 AWG: jumper and extension both, though the pigtail is 16."""
    console = reaching(NEEDED - 1)
    stock = wide_stock(BUTT, wire_sizes=("16 AWG", "14 AWG"))
    outcome = planned(console, stock, extensions=True, minimum_area_um2=2_000_000)
    assert sizes(outcome, "ground") == {"14 AWG"}
    assert [e.wire_size for e in choice_of(outcome).extensions] == ["14 AWG"]


def test_an_extension_costs_its_wire_its_cut_and_its_butt() -> None:
    """Cheapest: 0.1 m more wire 1.00 × 0.1 = 0.10, half a minute 0.50, butt 0.20 + 1 minute
    1.00.
    """
    limits = {"objective": "cheapest", "extensions": True}
    with_it = cost_of(planned(reaching(NEEDED - 1000), **limits))
    without = cost_of(planned(reaching(NEEDED), **limits))
    assert with_it - without == 100_000 + 500_000 + 200_000 + 1_000_000
