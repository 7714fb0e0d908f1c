"""One console worked by hand, each number with its arithmetic (``tests/support/wired_by_hand.py``).

Nothing of the planner went into those numbers, so a misreading that model, checker and enumerator
share would show here. Model, assembler, checker and enumerator are each held to them.
"""

from __future__ import annotations

from dataclasses import replace

from brute.enumerate import best_by_enumeration
from brute.straight_routes import straight_routes
from support.wired_by_hand import SMALL_RING, hand_console, hand_limits, hand_plan, hand_stock

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.problem.build import build_problem
from lugwright.scenario.brief import Brief
from lugwright.stock.schema import Stock

# Wire: 3 jumpers of 125 mm and one of 45 mm = 420 mm. Two studs hold two lugs: 2 stacked lugs,
# each worth 40 mm. Fittings: 7 at the bench and 2 aboard = 9, each worth 25 mm.
# 420 + 2 x 40 + 9 x 25 = 725 mm.
COST_DMM = 7250
LIMITS = hand_limits(objective="default", lug_worth_dmm=400, fitting_worth_dmm=250)


def stock_of() -> Stock:
    """The worked stock, the small ring ending at 1.3 mm²: a lone 16 AWG (1.309) goes into blue."""
    stock = hand_stock()
    fittings = tuple(
        replace(f, barrels=(replace(f.barrels[0], area_max_um2=1_300_000),))
        if f.name == SMALL_RING
        else f
        for f in stock.fittings
    )
    return replace(stock, fittings=fittings)


def outcome() -> Outcome:
    """What the model finds on the worked console."""
    console, stock = hand_console(), stock_of()
    return best_choice(build_problem(Brief(console, LIMITS, stock), straight_routes(console, {})))


def worked_up() -> Plan:
    """The same as a whole plan."""
    console, stock = hand_console(), stock_of()
    digests = {"scenario": console.digest, "stock": stock.digest}
    routes = straight_routes(console, {})
    return assemble_plan(Brief(console, LIMITS, stock, digests=digests), routes, outcome(), "test")


def test_the_model_finds_the_cost_worked_by_hand() -> None:
    """725 mm: 420 mm of wire, 2 stacked lugs at 40 mm, 9 fittings at 25 mm."""
    found = outcome()
    assert found.ending is Ending.PROVED
    assert found.cost == found.bound == (COST_DMM,)


def test_the_enumerator_finds_the_same() -> None:
    """Trying everything comes to the same 725 mm."""
    console = hand_console()
    found = best_by_enumeration(console, LIMITS, stock_of(), straight_routes(console, {}))
    assert found.cost == (COST_DMM,)


def test_jumpers_are_those_worked_by_hand() -> None:
    """Ends, path, cut length, current and resistance of every jumper."""
    keys = ("from_joint", "to_joint", "path_dmm", "length_dmm", "current_ma", "resistance_uohm")
    planned = {j.label: [getattr(j, key) for key in keys] for j in worked_up().jumpers}
    assert planned == {
        "ignition 1": ["dial1.ignition", "dial2.ignition", 1000, 1250, 150, 1647],
        "lamps 1": ["dial1.ignition", "dial1.lamp", 198, 450, 300, 593],
        "lamps 2": ["dial1.lamp", "dial2.lamp", 1000, 1250, 150, 1647],
        "ground 1": ["dial1.ground", "dial2.ground", 1000, 1250, 300, 1647],
    }


def test_drops_are_those_worked_by_hand() -> None:
    """Feed side, ground side and whole drop of every load, to the nanovolt."""
    planned = {d.load: (d.feed_nv, d.ground_nv, d.drop_nv, d.limit_nv) for d in worked_up().drops}
    assert planned == {
        "dial1": (21_788_800, 21_788_800, 43_577_600, 360_000_000),
        "dial1 lamp": (22_026_700, 21_788_800, 43_815_500, 1_200_000_000),
        "dial2": (22_065_850, 22_342_900, 44_408_750, 360_000_000),
        "dial2 lamp": (22_303_750, 22_342_900, 44_646_650, 1_200_000_000),
    }


def test_barrels_are_those_worked_by_hand() -> None:
    """Which wires share which fitting, what it carries, and its summed area."""

    def barrels(plan: Plan) -> set[tuple[object, ...]]:
        return {
            (
                c.joint,
                c.item,
                frozenset(f"{e.wire}-{e.end}" for e in c.barrels[0]),
                c.current_ma,
                *c.area_um2,
            )
            for c in plan.crimps
        }

    assert barrels(worked_up()) == barrels(hand_plan())


def test_threads_are_those_worked_by_hand() -> None:
    """0.8 mm a tongue, 1.0 washer, 3.0 nut, 0.8 showing: 5.6 mm with one lug, 6.4 with two."""
    planned = {s.post: (s.used_dmm, len(s.lugs), s.nut_at_bench) for s in worked_up().stacks}
    assert planned == {
        "dial1.ignition": (64, 2, "snug"),
        "dial1.ground": (56, 1, "snug"),
        "dial2.ignition": (56, 1, "snug"),
        "dial2.ground": (64, 2, "loose"),
        "dial2.signal": (56, 1, "loose"),
    }


def test_minutes_and_prices_are_those_worked_by_hand() -> None:
    """Every total: wire, fittings, stacked lugs, minutes, money."""
    assert worked_up().totals == hand_plan().totals


def test_the_checker_passes_what_was_worked_by_hand() -> None:
    """The plan written by hand stands before the checker as well."""
    console, stock = hand_console(), hand_stock()
    assert check_plan(Brief(console, hand_limits(), stock), hand_plan()).findings == ()
