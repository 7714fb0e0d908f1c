"""The other ways of solving that benchmarks set beside the search."""

from __future__ import annotations

import pytest
from consoles import scenario_text, tab_waivers
from device_consoles import device_text
from greedy import nearest_post_plan
from hand_plan import by_hand
from milp import by_highs, by_scip, milp_of
from one_model import solve_all
from scale_limits import binding, loose

from lugwright.base.toml import parse_toml
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.model.formulation.ask import Status
from lugwright.pipeline import pose, read_inputs
from lugwright.plans.outcome import Ending
from lugwright.scenario.brief import Brief

SECONDS = 300.0
SMALL = [(4, "grid", 3), (4, "scattered", 6), (5, "row", 3)]


def inputs_of(size: int, layout: str, circuits: int, *, tight: bool = False) -> Brief:
    """A small console under loose or binding limits."""
    limits = binding(size, circuits, layout) if tight else loose(size)
    text = scenario_text(size, layout, 1, circuits)
    text += tab_waivers(size, circuits) if limits.tabs_waived else ""
    return read_inputs(parse_toml(text.encode(), "console.toml"), settings=limits.settings)


@pytest.mark.parametrize(("size", "layout", "circuits"), SMALL[:1])
def test_two_milp_solvers_and_the_one_model_agree(size: int, layout: str, circuits: int) -> None:
    """With loose limits HiGHS, SCIP and the one CP-SAT model prove the cost of the search."""
    problem, _ = pose(inputs_of(size, layout, circuits))
    one, milp = solve_all(problem), milp_of(problem)
    assert one.status is Status.BEST
    for solve in (by_highs, by_scip):
        ended = solve(milp, SECONDS)
        assert ended.proved
        assert ended.cost == one.value
    assert best_choice(problem).cost == (one.value,)


def test_other_ways_agree_behind_devices() -> None:
    """Circuits that ways supply have their source at the far post, in the MILP's flow too."""
    problem, _ = pose(read_inputs(parse_toml(device_text(6).encode(), "console.toml")))
    ended = by_highs(milp_of(problem), SECONDS)
    assert ended.proved
    assert best_choice(problem).cost == (ended.cost,)


@pytest.mark.parametrize("tight", [False, True])
@pytest.mark.parametrize(("size", "layout", "circuits"), SMALL)
def test_the_nearest_post_plan_stands(size: int, layout: str, circuits: int, tight: bool) -> None:
    """It passes the checker and is no cheaper than what is proved best."""
    inputs = inputs_of(size, layout, circuits, tight=tight)
    problem, _ = pose(inputs)
    best, found = best_choice(problem), nearest_post_plan(inputs)
    assert best.ending is Ending.PROVED
    if found.plan is not None:
        assert check_plan(inputs, found.plan).passed
        assert found.plan.proof.cost >= best.cost
    assert found.plan is not None or tight


def test_the_nearest_post_plan_can_be_dearer() -> None:
    """On a grid of eight it is: the nearest post next is no proof of anything."""
    inputs = inputs_of(8, "grid", 3)
    found = nearest_post_plan(inputs)
    assert found.plan is not None
    assert found.plan.proof.cost > best_choice(pose(inputs)[0]).cost


def test_the_hand_plan_has_its_cost() -> None:
    """What the benchmark compares is the objective's value of the hand plan."""
    plan, faults = by_hand(inputs_of(4, "grid", 3))
    assert plan is not None
    assert faults == 0
    limits = inputs_of(4, "grid", 3).limits
    worth = limits.lug_worth_dmm * plan.totals.stacked_lugs
    worth += limits.fitting_worth_dmm * plan.totals.fittings
    assert plan.proof.cost == (plan.totals.wire_dmm + worth,)
