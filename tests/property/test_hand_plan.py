"""The plan made by eye is never better than ours where it keeps to the rules."""

from __future__ import annotations

from pathlib import Path

import pytest
from brute.random_consoles import random_case
from hypothesis import given
from support.seeds import seeds
from support.strategies import SOME, Case, cases

from lugwright.assemble.hand_plan import hand_choice
from lugwright.assemble.totals import objective_cost
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, pose, read_inputs, work_up
from lugwright.plans.outcome import Ending, Outcome
from lugwright.scenario.brief import Brief

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
FILES = sorted(path.stem for path in SCENARIOS.glob("*.toml"))
LONG_SEEDS = {2002, 2006, 2008, 2009, 2011, 2014}  # drop limits that bind, many ways
LONG = {
    *("bridge-24-instruments", "switch-panel-loom", "six-dial-console", "twin-outboard"),
    *("second-station", "rocker-row", "strict-rule-set", "one-wire-per-barrel"),
}


def by_hand(inputs: Brief) -> tuple[int, ...] | None:
    """What the plan made by eye costs on the shop's objective; None where there is no such plan,
    or where the checker finds fault with it.
    """
    _, routes = pose(inputs)
    choice = hand_choice(inputs, routes)
    if choice is None:
        return None
    plan = work_up(inputs, routes, Outcome(Ending.NO_ANSWER, (), choice))
    if not check_plan(inputs, plan).passed:
        return None
    _, cost = objective_cost(plan.totals, inputs.limits)
    return cost


def never_better_by_hand(inputs: Brief) -> None:
    """Where the hand plan stands, ours exists and is at most as dear."""
    hand = by_hand(inputs)
    outcome = make_plan(inputs).outcome
    if hand is not None:
        assert outcome.ending is Ending.PROVED
        assert outcome.cost <= hand


@SOME
@given(case=cases())
def test_on_random_consoles(case: Case) -> None:
    """Small consoles of like dials under random limits."""
    never_better_by_hand(case.brief)


@pytest.mark.parametrize(
    "seed",
    seeds(range(2000, 2015), {*LONG_SEEDS, 2001, 2004, 2007, 2013}),
)
def test_on_wide_consoles(seed: int) -> None:
    """The enumerator's consoles, with leads, bus bars, loads aboard and looms, routed."""
    drawn = random_case(seed)
    never_better_by_hand(Case(drawn.console, drawn.limits, drawn.stock).brief)


@pytest.mark.parametrize(
    "name",
    [pytest.param(n, marks=pytest.mark.slow) if n in LONG else n for n in FILES],
)
def test_on_the_scenarios(name: str) -> None:
    """Every scenario that comes with the program, on its own objective."""
    never_better_by_hand(read_inputs(SCENARIOS / f"{name}.toml"))


def test_the_hand_plan_often_stands_and_is_often_dearer() -> None:
    """So that the comparison says something: on the short scenarios it stands, and loses, often."""
    stands = dearer = 0
    for name in ("sandbar-skiff", "tall-stud-far-away", "hub-per-circuit", "key-on-second-post"):
        inputs = read_inputs(SCENARIOS / f"{name}.toml")
        hand = by_hand(inputs)
        stands += hand is not None
        dearer += hand is not None and hand > make_plan(inputs).outcome.cost
    assert stands >= 3
    assert dearer >= 3
