"""The checker works everything out by itself, and finds nothing wrong in plans made here."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.bench import (
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
    spool,
)

from lugwright.assemble.build import assemble_plan
from lugwright.assemble.hand_plan import hand_choice
from lugwright.checker.run import check_plan
from lugwright.limits.schema import Limits
from lugwright.model.choose import best_choice
from lugwright.plans.choice import Choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.problem.build import build_problem
from lugwright.routes.build import build_routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Point
from lugwright.stock.schema import Barrel, Stock


def folding_stock() -> Stock:
    """Nothing for one 16 AWG wire: every lone wire must be folded back. 18 AWG has its ring."""
    stock = bench_stock()
    kept = tuple(row for row in stock.fittings if not row.name.startswith("red"))
    small = fitting("red ring", "ring", (replace(ONE, area_max_um2=900_000),))
    return replace(stock, fittings=(*kept, small, fitting("blue butt", "butt", (TWO, TWO))))


def hand_plan(console: Console, limits: Limits, stock: Stock) -> Plan:
    """The hand plan on real routes, worked up."""
    routes = build_routes(Brief(console, limits, stock))
    choice = hand_choice(Brief(console, limits, stock), routes)
    outcome = Outcome(Ending.NO_ANSWER, (), choice)
    brief = Brief(console, limits, stock, digests={"scenario": "00"})
    return assemble_plan(brief, routes, outcome, "test")


@pytest.mark.parametrize(
    ("console", "choice"),
    [(bench_console(), bench_choice()), (heavy_console(), heavy_choice())],
)
def test_choices_made_here(console: Console, choice: Choice) -> None:
    """The bench's choice, and the stud on which bench lugs wait for what comes aboard."""
    limits, stock = bench_limits(), bench_stock()
    report = check_plan(Brief(console, limits, stock), assembled(console, limits, stock, choice))
    assert report.findings == ()
    assert report.checks > 0


@pytest.mark.parametrize("stock", [bench_stock(), folding_stock()])
@pytest.mark.parametrize("console", [bench_console(), lead_console(), bench_console(reach_mm=50.0)])
def test_hand_plans(console: Console, stock: Stock) -> None:
    """Plans by eye with rings, leads and extensions, unfolded and folded."""
    limits = bench_limits(extensions=True)
    report = check_plan(Brief(console, limits, stock), hand_plan(console, limits, stock))
    assert report.findings == ()


def test_a_fold_is_told_to_the_bench() -> None:
    """The folded half of a lead's joint: a barrel's length more is bared, then folded."""
    plan = hand_plan(lead_console(), bench_limits(), folding_stock())
    assert plan.crimps[0].folded
    assert plan.crimps[0].area_um2 == (2_618_000, 2_618_000)
    text = next(step.text for step in plan.steps if step.verb == "crimp")
    assert (
        "lead dial3.ignition (red 16 AWG): trim so that the end reaches "
        "250 mm from left, 55 mm up; blue butt: "
        "lead (bare 8 mm, bare 7 mm more and fold it back) / "
        "ignition 2-b (bare 7 mm more and fold it back); tug." in text
    )


def heavy_stock() -> Stock:
    """14 AWG wire only (2.081 mm²); its fittings take 2.0 to 2.7 mm², so 16 AWG only folded."""
    stock = bench_stock()
    spools = tuple(
        spool("14 AWG", colour, 2_081_000, 2_800) for colour in ("purple", "black", "dark blue")
    )
    fittings = (
        fitting("blue ring", "ring", (TWO,)),
        fitting("red ring", "ring", (ONE,)),
        fitting("blue butt", "butt", (TWO, TWO)),
    )
    return replace(stock, spools=spools, fittings=fittings)


def test_only_one_half_of_a_butt_is_folded() -> None:
    """A 16 AWG pigtail (1.309 mm²) lengthened in 14 AWG: folded to 2.618, the other as it is.

    What the search chooses is told so and passes the checker; that both were folded does not.
    """
    console = bench_console(reach_mm=50.0, lamps=False)
    limits, stock = bench_limits(extensions=True), heavy_stock()
    routes = build_routes(Brief(console, limits, stock))
    outcome = best_choice(build_problem(Brief(console, limits, stock), routes))
    assert outcome.choice is not None
    plan = assemble_plan(Brief(console, limits, stock), routes, outcome, "test")
    join = next(crimp for crimp in plan.crimps if crimp.joint == "join pigtail ground")
    wires = [half[0].wire for half in join.barrels]
    areas = dict(zip(wires, join.area_um2, strict=True))
    assert join.folded
    assert areas.pop("pigtail ground") == 2 * 1_309_000
    assert list(areas.values()) == [2_081_000]
    text = next(
        step.text for step in plan.steps if step.verb == "crimp" and step.target == str(join.number)
    )
    assert "pigtail ground (black 16 AWG)" in text
    assert "pigtail (bare 8 mm, bare 7 mm more and fold it back)" in text
    assert text.count("fold") == 1
    assert check_plan(Brief(console, limits, stock), plan).findings == ()
    both = join.model_copy(update={"area_um2": (2_618_000, 2 * 2_081_000)})
    crimps = tuple(both if crimp == join else crimp for crimp in plan.crimps)
    report = check_plan(Brief(console, limits, stock), plan.model_copy(update={"crimps": crimps}))
    assert {finding.rule for finding in report.findings} == {"barrel area"}


def short_boat_block() -> Console:
    """A load of 500 mA at dial 2 whose two wires of 18 AWG come in at a corner, 50 mm long."""
    console = heavy_console()
    boat_block = console.boat_blocks[0]
    wires = tuple(
        replace(wire, entry=Point(0, 0, 0), reach_dmm=500, ring=None) for wire in boat_block.wires
    )
    return replace(console, boat_blocks=(replace(boat_block, wires=wires),))


def test_extension_of_an_boat_block_belongs_to_its_drop_and_keeps_its_size() -> None:
    """Both 18 AWG wires go on in 18 AWG, below the least size; wire and two crimps count each.

    Search, plan and checker agree: with the drop that comes out as the limit, the plan stands.
    """
    console = short_boat_block()
    thin = tuple(spool("18 AWG", colour, 823_000, 2_200) for colour in ("pink", "black"))
    ends = Barrel(400_000, 1_000_000, 5_000, 60)
    more = (fitting("thin ring", "ring", (ends,)), fitting("thin butt", "butt", (ends, ends)))
    stock = replace(
        bench_stock(), spools=(*bench_stock().spools, *thin),
        fittings=(*bench_stock().fittings, *more),
    )  # fmt: skip
    limits = bench_limits(extensions=True, minimum_area_um2=1_000_000)
    routes = build_routes(Brief(console, limits, stock))
    problem = build_problem(Brief(console, limits, stock), routes)
    outcome = best_choice(problem)
    assert outcome.choice is not None
    plan = assemble_plan(Brief(console, limits, stock), routes, outcome, "test")
    assert check_plan(Brief(console, limits, stock), plan).findings == ()
    extensions = [item for item in plan.jumpers if item.role == "extension"]
    assert [item.wire_size for item in extensions] == ["18 AWG", "18 AWG"]
    own = sum((item.resistance_uohm + 200) * 500 for item in extensions)
    name = console.boat_blocks[0].name
    assert own == next(path.extra_nv for path in problem.drops if path.load == name)
    stated = next(drop for drop in plan.drops if drop.load == name)
    at_posts = next(drop for drop in plan.drops if drop.load == "dial2")
    assert stated.drop_nv == at_posts.drop_nv + own


def test_a_plan_with_a_fault_is_found_out() -> None:
    """The same checker does speak up: a wire 5 mm short of what its path asks for."""
    plan = assembled()
    short = plan.jumpers[0].model_copy(update={"length_dmm": plan.jumpers[0].length_dmm - 50})
    broken = plan.model_copy(update={"jumpers": (short, *plan.jumpers[1:])})
    report = check_plan(Brief(bench_console(), bench_limits(), bench_stock()), broken)
    assert any("ignition 1" in finding.place for finding in report.findings)
