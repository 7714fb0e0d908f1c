"""Random consoles drawn tighter, so that a rule over several circuits is felt in many of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random

from brute.case import Case
from brute.loosen import AMPLE, loosened

from lugwright.assemble.build import assemble_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Outcome
from lugwright.problem.build import build_problem
from lugwright.scenario.console import Console, Point, TiePoint

HEAVIER = 2  # times the loads drawn
TIMES = 3


def as_drawn(case: Case) -> Case:
    """The case itself."""
    return case


def with_tight_drop(case: Case) -> Case:
    """A drop limit that the best plan just breaks, and again until the best plan costs more.

    A case without a plan stays as it is.
    """
    tight, before = case, planned(case).cost
    for _ in range(TIMES):
        outcome = planned(tight)
        if outcome.choice is None or outcome.cost != before:
            break
        tight = _just_broken(tight, outcome)
    return tight


def planned(case: Case) -> Outcome:
    """What the search says of a case."""
    return best_choice(build_problem(case.brief, case.routes()))


def _just_broken(case: Case, outcome: Outcome) -> Case:
    """The drop limit of the load that comes nearest to its own, set just below what it has."""
    plan = assemble_plan(case.brief, case.routes(), outcome, "test")
    if not plan.drops:
        return case
    worst = max(plan.drops, key=lambda drop: (drop.drop_nv / drop.limit_nv, drop.load))
    permille = max(1, (worst.drop_nv - 1) // (case.console.nominal_mv * 1000))
    critical = {load.name for load in case.console.loads if load.drop_class == "critical"}
    if worst.load in critical:
        return replace(case, limits=replace(case.limits, drop_critical_permille=permille))
    return replace(case, limits=replace(case.limits, drop_other_permille=permille))


def with_bundles(case: Case) -> Case:
    """Everything on one loom, with the tightest counting, heavier loads and nothing else in the
    way (no fuse, no drop, no reach), and mostly money to be saved by thinner wire."""
    limits = replace(
        case.limits,
        bundle_rule="e11-dc",
        off_loom_conductors=1,
        splices=False,
        drip_loop_dmm=-AMPLE,
        drop_critical_permille=900,
        drop_other_permille=900,
    )
    if Random(case.seed).random() < 0.7:
        limits = replace(limits, objective="cheapest")
    console = on_a_loom(case.console, limits.dress_height_dmm)
    loads = tuple(replace(load, current_ma=load.current_ma * HEAVIER) for load in console.loads)
    console = replace(console, loads=loads)
    return loosened(replace(case, console=console, limits=limits, splices={}), "fuse")


def on_a_loom(console: Console, height_dmm: int) -> Console:
    """The console with three tie points in a row, unless it has its own."""
    if console.tie_points:
        return console
    step = console.width_dmm // 4
    names = ("tie 1", "tie 2", "tie 3")
    places = [Point(step * number, 300, height_dmm) for number in (1, 2, 3)]
    ties = map(TiePoint, names, places, (("tie 2",), ("tie 3",), ()))
    return replace(console, tie_points=tuple(ties))


VARIANTS: tuple[Callable[[Case], Case], ...] = (as_drawn, with_tight_drop, with_bundles)
