"""Tabs take one push-on; leads are joined in mid-air."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ONE,
    PUSH_ONS,
    RINGS,
    THREE,
    TWO,
    ask,
    change_post,
    cost_of,
    ends,
    fitting,
    impossible,
    items,
    only_ground,
    roomy_limits,
    stock_of,
)
from support.consoles import TAB_SIZE, given_wire, tiny_console

from lugwright.plans.outcome import Outcome
from lugwright.scenario.console import Console
from lugwright.stock.schema import Barrel, FittingType

BUTT = fitting("butt 1+1", "butt", ONE, ONE)
BUTT_TWO = fitting("butt 1+2", "butt", ONE, TWO)
CLOSED_TWO = fitting("closed end 2", "closed end", TWO)
CLOSED_THREE = fitting("closed end 3", "closed end", THREE)
ONLY = ["ring 1", "ring 2", "push-on 1", "push-on 2"]


def row(kind: str, *dials: int, centres: int = 3) -> Console:
    """The ground circuit of dials in a row 100 mm apart, some of whose grounds are tabs or
    leads.
    """
    places = [(60 + 100 * n, 60) for n in range(centres)]
    console = only_ground(tiny_console(places, lamps=False))
    for dial in dials:
        changes: dict[str, Any] = {"kind": kind, "thread": "", "free_thread_dmm": 0}
        if kind == "tab":
            changes["tab_size"] = TAB_SIZE
        else:
            changes["lead"] = given_wire("16 AWG", "black")
        console = change_post(console, f"dial{dial}.ground", **changes)
    return console


def test_a_tab_takes_two_wires_in_one_push_on() -> None:
    """The middle post a tab: both jumpers in push-on 2, nothing stacked.

    2000 + ring 2 at the landing + push-on 2 + ring 1.
    """
    outcome = ask(row("tab", 2), hubs=["dial1"])
    assert items(outcome, "dial2.ground") == [("push-on 2", (2,))]
    assert cost_of(outcome) == 2000 + 3 * 250


def test_a_tab_takes_no_second_push_on() -> None:
    """Without a push-on for two the tab is the end of the line: 2000 to dial 3, 1000 back to dial
    2.

    Ring 2 at the landing, ring 2 at dial 3, push-on 1. (Two jumpers from dial 1 would stack.)
    """
    outcome = ask(row("tab", 2), stock=stock_of(without=["push-on 2"]), hubs=["dial1"])
    assert items(outcome, "dial2.ground") == [("push-on 1", (1,))]
    assert cost_of(outcome) == 3000 + 3 * 250


def test_a_tab_takes_no_three_wires() -> None:
    """A push-on for three is in stock; as the hub the middle tab would need it, and may not."""
    three = fitting("push-on 3", "push-on", THREE)
    limits = roomy_limits(wires_per_barrel=3, lug_worth_dmm=0, fitting_worth_dmm=0)
    outcome = ask(row("tab", 2), limits, stock_of(three), hubs=["dial2"])
    # the star is out: pigtail and one jumper on the tab, the run goes on from dial 1 or 3
    assert cost_of(outcome) == 1000 + 2000
    assert len([1 for pair in ends(outcome, "ground") if "dial2.ground" in pair]) == 1


def test_wires_per_barrel_holds_for_a_push_on() -> None:
    """One wire to a barrel: the tab is the end of the line though push-on 2 is in stock."""
    limits = roomy_limits(wires_per_barrel=1, lug_worth_dmm=0, fitting_worth_dmm=0)
    assert cost_of(ask(row("tab", 2), limits, hubs=["dial1"])) == 3000


def test_a_push_on_fits_its_tab_size() -> None:
    """Push-ons for another tab are of no use."""
    other = tuple(replace(row_, tab_size="4.8 x 0.5") for row_ in PUSH_ONS)
    assert impossible(
        ask(row("tab", 2), stock=stock_of(*other, without=["push-on 1", "push-on 2"]))
    )


def test_a_pigtail_may_land_on_a_tab() -> None:
    """Dial 1's tab as the landing: pigtail and jumper share push-on 2. 1000 + 2 fittings."""
    outcome = ask(row("tab", 1, centres=2), hubs=["dial1"])
    assert items(outcome, "dial1.ground") == [("push-on 2", (2,))]
    assert cost_of(outcome) == 1000 + 2 * 250


def lead_plan(rows: tuple[FittingType, ...], dial: int = 3, **changes: Any) -> Outcome:
    """The plan of three grounds with one lead, dial 1 the hub, worth of lugs and fittings zero."""
    limits = roomy_limits(**{"lug_worth_dmm": 0, "fitting_worth_dmm": 0, **changes})
    return ask(row("lead", dial), limits, stock_of(*rows), hubs=["dial1"])


@pytest.mark.parametrize(
    ("rows", "changes", "possible"),
    [
        ((BUTT,), {}, True),
        ((CLOSED_TWO,), {}, True),
        ((BUTT,), {"lead_kinds": ("closed end",)}, False),
        ((CLOSED_TWO,), {"lead_kinds": ("butt",)}, False),
        ((), {}, False),
    ],
)
def test_a_lead_is_joined_by_the_kinds_allowed(
    rows: tuple[FittingType, ...], changes: dict[str, Any], possible: bool
) -> None:
    """The lead and one jumper: a butt with one in each half, or a closed end with both."""
    outcome = lead_plan(rows, **changes)
    assert cost_of(outcome) == 2000 if possible else impossible(outcome)
    if possible:
        wires = (1, 1) if rows == (BUTT,) else (2,)
        assert items(outcome, "dial3.ground") == [(rows[0].name, wires)]


@pytest.mark.parametrize(
    ("rows", "changes", "wire"),
    [
        ((BUTT, BUTT_TWO), {}, 2000),  # the lead in one half, both jumpers in the other
        ((CLOSED_TWO, CLOSED_THREE), {}, 2000),
        ((BUTT,), {}, 3000),
        ((BUTT, BUTT_TWO), {"wires_per_splice": 2}, 3000),  # the lead's own wire counts
        ((BUTT, BUTT_TWO), {"wires_per_splice": 3}, 2000),
        ((BUTT, BUTT_TWO), {"wires_per_barrel": 1}, 2000),  # which is for posts alone
    ],
)
def test_a_wire_goes_on_from_a_lead(
    rows: tuple[FittingType, ...], changes: dict[str, Any], wire: int
) -> None:
    """A lead in the middle of the row: the run goes on from it (2000), or starts again (3000)."""
    assert cost_of(lead_plan(rows, dial=2, **changes)) == wire


def test_a_lead_counts_as_a_fitting_and_not_as_a_stack() -> None:
    """1000 to the lead: ring 2 at the landing and the butt are two fittings, none stacked."""
    outcome = ask(row("lead", 2, centres=2), stock=stock_of(BUTT), hubs=["dial1"])
    assert cost_of(outcome) == 1000 + 2 * 250


def test_the_lead_may_sit_with_a_jumper_in_one_half() -> None:
    """Only a butt of one large and one small half: a thick lead alone, both jumpers together.

    A 14 AWG lead (2 081 000, 2.9 mm) alone wants a half of 1.9 to 2.2 mm². Turned about, a lead
    of 16 AWG goes with one jumper (2 618 000) into the larger half and the other jumper alone.
    """
    large = Barrel(1_900_000, 2_200_000, 3000, 60)
    thick = change_post(row("lead", 2), "dial2.ground", lead=given_wire("14 AWG", "black"))
    limits = roomy_limits(lug_worth_dmm=0, fitting_worth_dmm=0)
    stock = stock_of(fitting("step", "butt", large, TWO))
    assert cost_of(ask(thick, limits, stock, hubs=["dial1"])) == 2000
    assert cost_of(lead_plan((BUTT_TWO,), dial=2, fold_back=False)) == 2000


def test_a_jumper_to_a_lead_has_its_splice_to_post_none() -> None:
    """A lead counts as a post: between two posts there is no least path, whatever the limit."""
    assert cost_of(lead_plan((BUTT,), splice_to_post_dmm=5000)) == 2000


def test_rings_do_not_join_leads() -> None:
    """The stock's rings and push-ons are no use in mid-air."""
    assert {item.name for item in (*RINGS, *PUSH_ONS)} == set(ONLY)
    assert impossible(lead_plan(()))
