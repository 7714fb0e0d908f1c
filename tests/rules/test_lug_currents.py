"""What lugs, push-ons, tabs and studs carry: in and out are never added together.

A lug or push-on carries its largest wire end, or what goes through its tongue: what flows into its
barrel less what flows out there. A tab carries its own instrument's current. A stud carries what
flows into its instrument and on to other lugs; what passes inside one barrel does not pass it.
Dial 1 is held as the hub, except where said.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from brute.enumerate import best_by_enumeration
from brute.straight_routes import straight_routes
from support.asking import (
    ANY,
    ONE,
    TWO,
    ask,
    change_pigtail,
    change_post,
    cost_of,
    fitting,
    impossible,
    only_ground,
    roomy_limits,
    stock_of,
    wide_stock,
    with_load,
)
from support.consoles import THREAD, tiny_console

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.plans.outcome import Outcome
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, ReadyRing
from lugwright.stock.schema import Stock

FREE = {"lug_worth_dmm": 0, "fitting_worth_dmm": 0}
RING = fitting("ring", "ring", ANY)


def planned(console: Console, stock: Stock | None = None, **changes: Any) -> Outcome:
    """The plan with dial 1 as the hub."""
    return ask(console, roomy_limits(**changes), stock or wide_stock(), hubs=["dial1"])


def row_of_grounds(current_ma: int, **changes: Any) -> Console:
    """Three grounds in a row, 100 mm apart; dials 2 and 3 draw this much each."""
    console = only_ground(tiny_console(lamps=False, pigtail_size="12 AWG"))
    console = with_load(with_load(console, "dial2", current_ma), "dial3", current_ma)
    return change_post(console, "dial2.ground", **changes)


def tab_console(current_ma: int, limit_ma: int) -> Console:
    """The same with a tab in the middle: dial 2 the horn, dial 3 the live well beyond it."""
    tab = {"kind": "tab", "thread": "", "free_thread_dmm": 0, "tab_size": "6.3 x 0.8"}
    return row_of_grounds(current_ma, **tab, carries_ma=limit_ma)


def test_horn_and_live_well_do_not_add_up_on_a_tab() -> None:
    """Horn 5 A on the tab, live well 5 A beyond it: 10 A in, 5 A on, 5 A through the tab.

    The push-on takes 10 A by its largest wire, the tab the horn's own 5 A, not 15 A.
    """
    push_on = fitting("push-on", "push-on", ANY, carries_ma=10_000)
    stock = replace(wide_stock(), fittings=(RING, push_on))
    console = tab_console(5000, 5000)
    outcome = planned(console, stock, **FREE)
    assert cost_of(outcome) == 2000
    plan = worked_up(console, stock, outcome)
    assert [c.current_ma for c in plan.crimps if c.joint == "dial2.ground"] == [10_000]


def worked_up(console: Console, stock: Stock, outcome: Outcome) -> Plan:
    """The whole plan, with nothing for the checker to find."""
    limits, routes = roomy_limits(**FREE), straight_routes(console, {})
    digests = {"scenario": console.digest, "stock": stock.digest}
    plan = assemble_plan(Brief(console, limits, stock, digests=digests), routes, outcome, "test")
    assert [str(f) for f in check_plan(Brief(console, limits, stock), plan).findings] == []
    return plan


def test_a_tab_carries_its_own_instrument() -> None:
    """4 A of its own however much is passed on; with less there is no plan at all."""
    assert cost_of(planned(tab_console(4000, 4000), **FREE)) == 2000
    outcome = planned(tab_console(4000, 3999), **FREE)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("current limit", "dial2.ground")]


def test_a_push_on_carries_its_largest_wire() -> None:
    """8 A in and 4 A on: 8 A. At 7999 mA the tab is the end of the line, at 4 A.

    Then the way is 2000 out to dial 3 and 1000 back, 1000 more.
    """
    for limit_ma, cost in ((8000, 2000), (7999, 3000), (4000, 3000)):
        push_on = fitting("push-on", "push-on", ANY, carries_ma=limit_ma)
        stock = replace(wide_stock(), fittings=(RING, push_on))
        assert cost_of(planned(tab_console(4000, 0), stock, **FREE)) == cost
    weak = replace(stock, fittings=(RING, replace(push_on, carries_ma=3999)))
    assert impossible(planned(tab_console(4000, 0), weak, **FREE))


def test_a_lug_carries_its_largest_end() -> None:
    """The landing's ring holds pigtail (10 100 mA) and jumper (10 000): 10 100, not 20 100."""
    console = tiny_console([(60, 60), (160, 60)], lamps=False, pigtail_size="12 AWG")
    console = with_load(only_ground(console), "dial2", 10_000)
    for limit_ma, fits in ((10_100, True), (10_099, False)):
        ring = fitting("ring", "ring", ANY, carries_ma=limit_ma)
        stock = replace(wide_stock(), fittings=(ring,))
        outcome = planned(console, stock)
        assert impossible(outcome) is not fits
        if fits:
            assert cost_of(outcome) == 1000 + 2 * 250


def star(*currents_ma: int) -> Console:
    """A hub that draws nothing, and dials 100 mm off on each side; the pigtail has its ring."""
    around = [(60, 160), (260, 160), (160, 60), (160, 260)][: len(currents_ma)]
    console = only_ground(tiny_console([(160, 160), *around], lamps=False, dial_ma=0))
    for number, current in enumerate(currents_ma, start=2):
        console = with_load(console, f"dial{number}", current)
    return console


def test_ends_that_only_leave_go_through_the_tongue_together() -> None:
    """Jumpers of 10, 1, 1 and 1 A beside the pigtail's own ring; barrels for two.

    10 + 1 and 1 + 1 fit in two rings for 11 A. With less the 10 A lies by itself, in a ring for
    one without a limit: three rings.
    """
    ring = ReadyRing(THREAD, 8, 45)
    console = change_pigtail(star(10_000, 1000, 1000, 1000), "ground", ring=ring)
    for limit_ma, rings in ((11_000, 2), (10_999, 3)):
        two = fitting("ring 2", "ring", TWO, carries_ma=limit_ma)
        stock = stock_of(fitting("ring 1", "ring", ONE), two, without=["ring 1", "ring 2"])
        outcome = planned(console, stock, lug_worth_dmm=1, fitting_worth_dmm=1)
        # four jumpers of 100 mm; a ring at each far end; the ready ring makes one more lug
        assert cost_of(outcome) == 4000 + (rings + 4) + rings


@pytest.mark.parametrize("limit_ma", [2000, 1999])
def test_what_passes_inside_a_barrel_does_not_pass_the_stud(limit_ma: int) -> None:
    """Pigtail 12 A, jumpers of 10, 1 and 1 A, barrels for two: the pigtail shares with the 10 A.

    Then 12 - 10 = 2 A pass the stud, to the lug of the others. With less the third dial hangs
    on the first: sqrt(100² + 100²) = 141.5 mm in place of 100; 12 - 11 = 1 A passes.
    """
    console = change_post(star(10_000, 1000, 1000), "dial1.ground", carries_ma=limit_ma)
    worth: dict[str, Any] = {"lug_worth_dmm": 1, "fitting_worth_dmm": 1}
    outcome = planned(console, **worth)
    wire = 3000 if limit_ma == 2000 else 2000 + 1415
    assert cost_of(outcome) == wire + 5 + 1
    held = replace(
        console,
        instruments=tuple(replace(i, hub_candidate=i.name == "dial1") for i in console.instruments),
    )
    limits = roomy_limits(**worth)
    brute = best_by_enumeration(held, limits, wide_stock(), straight_routes(held, {}))
    assert brute.cost == (wire + 5 + 1,)


def test_a_stud_in_the_row_carries_its_own_current() -> None:
    """8 A in and 4 A on in one barrel: 4 A through the stud; in two barrels all 8 A."""
    assert cost_of(planned(row_of_grounds(4000, carries_ma=4000), **FREE)) == 2000
    outcome = planned(row_of_grounds(4000, carries_ma=3999), **FREE)
    assert [(r.rule, r.place) for r in outcome.reasons] == [("current limit", "dial2.ground")]
    apart: dict[str, Any] = {"wires_per_barrel": 1, **FREE}
    assert cost_of(planned(row_of_grounds(4000, carries_ma=8000), **apart)) == 2000
    assert cost_of(planned(row_of_grounds(4000, carries_ma=7999), **apart)) == 3000
