"""The checker works everything out by itself, and finds nothing wrong in plans made here."""

from __future__ import annotations

from dataclasses import replace

import pytest
from unit.assemble.bench_for_tests import (
    ONE,
    TWO,
    assembled,
    bench_choice,
    bench_console,
    bench_limits,
    bench_stock,
    fitting,
    heavy_choice,
    heavy_console,
    lead_console,
)

from lugwright.assemble.build import assemble_plan
from lugwright.assemble.hand_plan import hand_choice
from lugwright.check.run import check_plan
from lugwright.limits.schema import Limits
from lugwright.plan.choice import Choice
from lugwright.plan.outcome import Ending, Outcome
from lugwright.plan.schema import Plan
from lugwright.routes.build import build_routes
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock


def folding_stock() -> Stock:
    """Nothing for one 16 AWG wire: every lone wire must be folded back. 18 AWG has its ring."""
    stock = bench_stock()
    kept = tuple(row for row in stock.fittings if not row.name.startswith("red"))
    small = fitting("red ring", "ring", (replace(ONE, area_max_um2=900_000),))
    return replace(stock, fittings=(*kept, small, fitting("blue butt", "butt", (TWO, TWO))))


def hand_plan(console: Console, limits: Limits, stock: Stock) -> Plan:
    """The hand plan on real routes, worked up."""
    routes = build_routes(console, limits)
    choice = hand_choice(console, limits, stock, routes)
    outcome = Outcome(Ending.NO_ANSWER, (), choice)
    return assemble_plan(console, limits, stock, routes, outcome, {"scenario": "00"}, "test", ())


@pytest.mark.parametrize(
    ("console", "stack_order", "choice"),
    [
        (bench_console(), "current", bench_choice()),
        (heavy_console(), "current", heavy_choice()),
        (heavy_console(), "stage", heavy_choice()),
    ],
)
def test_choices_made_here(console: Console, stack_order: str, choice: Choice) -> None:
    """The bench's choice, and the open stud under both orders."""
    limits, stock = bench_limits(stack_order=stack_order), bench_stock()
    report = check_plan(console, limits, stock, assembled(console, limits, stock, choice))
    assert report.findings == ()
    assert report.checks > 0


@pytest.mark.parametrize("stock", [bench_stock(), folding_stock()])
@pytest.mark.parametrize("console", [bench_console(), lead_console(), bench_console(reach_mm=50.0)])
def test_hand_plans(console: Console, stock: Stock) -> None:
    """Plans by eye with rings, leads and extensions, unfolded and folded."""
    limits = bench_limits(extensions=True)
    report = check_plan(console, limits, stock, hand_plan(console, limits, stock))
    assert report.findings == ()


def test_a_fold_is_told_to_the_bench() -> None:
    """The folded half of a lead's joint: a barrel's length more is bared, then folded."""
    plan = hand_plan(lead_console(), bench_limits(), folding_stock())
    assert plan.crimps[0].folded
    assert plan.crimps[0].area_um2 == (2_618_000, 2_618_000)
    text = next(step.text for step in plan.steps if step.verb == "crimp")
    assert "Bare 8 mm of lead dial3.ignition." in text
    assert "Bare 7 mm more of lead dial3.ignition and fold its strands back." in text


def test_a_plan_with_a_fault_is_found_out() -> None:
    """The same checker does speak up: a wire 5 mm short of what its path asks for."""
    plan = assembled()
    short = plan.jumpers[0].model_copy(update={"length_dmm": plan.jumpers[0].length_dmm - 50})
    broken = plan.model_copy(update={"jumpers": (short, *plan.jumpers[1:])})
    report = check_plan(bench_console(), bench_limits(), bench_stock(), broken)
    assert any("ignition 1" in finding.place for finding in report.findings)
