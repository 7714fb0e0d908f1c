"""Limits waived at a place: where it is needed there is a plan, elsewhere there is none.

``dial1`` is the hub throughout, so that it is known where the lugs are.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from support.asking import (
    ANY,
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
)
from support.consoles import TAB_SIZE, tiny_console
from support.waivers import waived

from lugwright.plans.outcome import Outcome
from lugwright.problem.groups import Grouper
from lugwright.problem.schema import EndType
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock

PLACES = [(60, 60), (160, 60)]
AREA_18 = 823_000  # ASTM B258: 0.823 mm2

Case = tuple[str, str, int, str, dict[str, Any], Callable[[], Console], Callable[[], Stock]]


def grounds() -> Console:
    """Two dials' ground circuit: two lugs on dial 1, one on dial 2."""
    return only_ground(tiny_console(PLACES, lamps=False))


def short() -> Console:
    """The same, dial 1's stud too short for two tongues, nut and a pitch and a half of thread:
    2 x 0.8 + 3.2 + 1.2 = 6.0 mm; it has 5.0, and 4.8 are wanted with no thread showing."""
    return change_post(grounds(), "dial1.ground", free_thread_dmm=50)


def far() -> Console:
    """The fuse of ignition sits 500 mm from its source."""
    return change_pigtail(tiny_console(PLACES, lamps=False), "ignition", fuse_distance_dmm=5000)


def dials() -> Console:
    """Two dials with ignition and ground."""
    return tiny_console(PLACES, lamps=False)


def one_wire() -> Stock:
    """Rings for one wire and for two."""
    return stock_of()


def thin_wire() -> Stock:
    """18 AWG wire, and fittings that take it."""
    return wide_stock(wire_sizes=("18 AWG",))


def any_wire() -> Stock:
    """16 AWG wire and fittings that take any."""
    return wide_stock(fitting("butt", "butt", ANY, ANY))


ONE_EACH = {"wires_per_barrel": 1}
CASES: list[Case] = [
    # limit, place, value, another place, limits, console, stock
    ("lugs_per_stud", "dial1.ground", 2, "dial2.ground", {"lugs_per_stud": 1, **ONE_EACH}, grounds,
     one_wire),
    ("wires_per_barrel", "dial1.ground", 2, "dial2.ground", {"lugs_per_stud": 1, **ONE_EACH},
     grounds, one_wire),
    ("showing_thread", "dial1.ground", 0, "dial2.ground",
     {"showing_thread_permille": 1500, **ONE_EACH}, short, one_wire),
    ("fuse_share", "ignition", 9_000, "ground", {"fuse_permille": 10}, dials, any_wire),
    ("load_share", "ignition", 1000, "ground", {"load_permille": 10}, dials, any_wire),
    ("fuse_distance", "ignition", 5000, "ground", {"fuse_distance_dmm": 1000}, far, any_wire),
]  # fmt: skip


def planned(case: Case, place: str | None) -> Outcome:
    """The plan with that limit waived at a place, or nowhere."""
    limit, _, value, _, changes, console, stock = case
    waivers = () if place is None else (waived(limit, place, value),)
    return ask(console(), roomy_limits(**changes, waivers=waivers), stock(), hubs=["dial1"])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])
def test_it_counts_where_it_is_given(case: Case) -> None:
    """Without a waiver, and with one at another place, no plan; with one where it binds, a plan."""
    _, place, _, other, *_ = case
    assert impossible(planned(case, None))
    assert impossible(planned(case, other))
    assert cost_of(planned(case, place)) > 0


def test_a_thinner_wire_for_one_circuit() -> None:
    """Only 18 AWG is in stock and 16 is wanted: each circuit that is cut from it needs a waiver."""
    wanted = {"minimum_area_um2": 1_309_000, "minimum_size": "16 AWG"}
    both = (waived("minimum_size", "ground", AREA_18), waived("minimum_size", "ignition", AREA_18))
    for waivers, possible in ((both, True), (both[:1], False), (both[1:], False), ((), False)):
        limits = roomy_limits(**wanted, waivers=waivers)
        outcome = ask(dials(), limits, thin_wire(), hubs=["dial1"])
        assert impossible(outcome) is not possible


@pytest.mark.parametrize(("limit", "field", "load"), [
    ("drop_critical", "drop_critical_permille", "dial2"),
    ("drop_other", "drop_other_permille", "dial2 lamp"),
])  # fmt: skip
def test_a_larger_drop_to_one_load(limit: str, field: str, load: str) -> None:
    """A drop that one load may have; the other's is another waiver."""
    lamps = limit == "drop_other"
    console = tiny_console(PLACES, lamps=lamps)
    near = "dial1 lamp" if lamps else "dial1"
    changes = {"drop_critical_permille": 1000, "drop_other_permille": 1000, field: 1}
    both = (waived(limit, load, 500), waived(limit, near, 500))
    for waivers, possible in ((both, True), (both[:1], False), (both[1:], False)):
        limits = roomy_limits(**changes, waivers=waivers)
        outcome = ask(change_loads(console), limits, any_wire(), hubs=["dial1"])
        assert impossible(outcome) is not possible


def change_loads(console: Console) -> Console:
    """Ten times the current, so that a tenth of a per cent is too little."""
    loads = tuple(replace(load, current_ma=load.current_ma * 10) for load in console.loads)
    return replace(console, loads=loads)


def test_a_tab_takes_two_wires_whatever_is_waived() -> None:
    """A push-on takes one or two wires (UL 310, scope); a waiver lifts only the shop's one."""
    limits = roomy_limits(**ONE_EACH, waivers=(waived("wires_per_barrel", "dial1.lamp", 3),))
    big = fitting("push-on any", "push-on", ANY)
    tables = Grouper(stock_of(big), limits, [EndType("wire", 1_309_000, 2500)])
    numbers = {
        post: [n for n in (1, 2, 3) if tables.tab(TAB_SIZE, (("wire", n),), "bench", post)]
        for post in ("dial1.lamp", "dial2.lamp")
    }
    assert numbers == {"dial1.lamp": [1, 2], "dial2.lamp": [1]}
