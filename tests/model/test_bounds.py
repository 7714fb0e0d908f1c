"""Bounds by linear relaxation: never above what CP-SAT proves, whatever the prices."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from brute.random_consoles import random_case

from lugwright.model.bounds.by_landing import Bounds
from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.bounds.rows import Rows
from lugwright.model.bounds.separation import Network
from lugwright.model.bounds.weak_duality import WeakDuality
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Ask, Status
from lugwright.model.formulation.objective import objective_of
from lugwright.model.formulation.pose import pose
from lugwright.model.formulation.trials import Trial, hub_landings, parts_of
from lugwright.model.solving.solve import solve_ask
from lugwright.problem.build import build_problem
from lugwright.problem.schema import Problem
from lugwright.scenario.brief import Brief

SEEDS = range(100, 112)


def problem_of(seed: int) -> Problem:
    """The question of a small random console, its objective one sum."""
    case = random_case(seed)
    limits = case.limits
    if limits.objective == "lowest-stacks":
        limits = type(limits)(**{**vars(limits), "objective": "default"})
    return build_problem(Brief(case.console, limits, case.stock), case.routes())


def parts_by_trial(problem: Problem) -> dict[Trial, list[Ask]]:
    """The parts of every trial, in the sizes a search would bound with."""
    sizes = SizeSets(problem, objective_of(problem)).thin
    trials = [Trial(hub, landings) for hub, landings in hub_landings(problem)]
    return {trial: parts_of(problem, trial, sizes) for trial in trials}


@pytest.mark.parametrize("seed", SEEDS)
def test_no_bound_is_above_the_proved_best(seed: int) -> None:
    """For every landing: the bound, and that of every jumper of the best answer, is at most its
    cost; and a jumper that is left out for costing more than the best is in no best answer.
    """
    problem = problem_of(seed)
    objective, trials = objective_of(problem), parts_by_trial(problem)
    bounds = Bounds(problem, objective, Clock(None))
    bounds.land_on(trials)
    for part in (part for parts in trials.values() for part in parts):
        solved = solve_ask(problem, part, objective, Clock(None))
        narrow = bounds.narrow(part)
        if solved.answer is None or narrow is None:
            continue
        assert narrow.bound == bounds.bound(part)
        keys = [(j.circuit, j.a, j.b, j.wire_size) for j in solved.answer.jumpers]
        assert bounds.rough(part) <= narrow.bound <= solved.value
        assert set(keys) <= narrow.keeps(solved.value)


@pytest.mark.parametrize("seed", SEEDS)
def test_few_jumpers_first_gives_the_same_cost(seed: int) -> None:
    """An ask over the jumpers its bounds leave open ends as the ask over all of them."""
    problem = problem_of(seed)
    objective, trials = objective_of(problem), parts_by_trial(problem)
    bounds = Bounds(problem, objective, Clock(None))
    bounds.land_on(trials)
    for part in (part for parts in trials.values() for part in parts):
        plain = solve_ask(problem, part, objective, Clock(None))
        fast = solve_ask(problem, part, objective, Clock(None), bounds.narrow(part))
        assert (plain.status, plain.value) == (fast.status, fast.value)


def test_bounds_are_near_what_is_proved() -> None:
    """Over all landings of the sample most bounds are the proved best itself."""
    found: list[bool] = []
    for seed in SEEDS:
        problem = problem_of(seed)
        objective, trials = objective_of(problem), parts_by_trial(problem)
        bounds = Bounds(problem, objective, Clock(None))
        bounds.land_on(trials)
        for part in (part for parts in trials.values() for part in parts if part.circuits):
            solved = solve_ask(problem, part, objective, Clock(None))
            if solved.status is Status.BEST:
                found.append(bounds.bound(part) == solved.value)
    assert len(found) < 2 * sum(found)


def test_any_prices_give_a_bound() -> None:
    """Prices drawn at random, of either sign: the bound they give is never above the optimum."""
    problem = problem_of(SEEDS[0])
    objective = objective_of(problem)
    part = next(parts for parts in parts_by_trial(problem).values())[0]
    best = solve_ask(problem, part, objective, Clock(None))
    assert best.status is Status.BEST
    posed = pose(problem, part, objective)
    posed.model.minimize(posed.terms.scalar(objective))
    rows, random = Rows(posed.model), Random(1)
    for scale in (1, 100, 10_000):
        prices = np.array([random.gauss(0, scale) for _ in rows.rows])
        found = WeakDuality(rows).bound(prices, rows.high)
        assert found is not None
        assert found[0] <= best.value


def test_prices_that_are_no_numbers_give_no_bound() -> None:
    """An unfinished solve may hand over anything."""
    problem = problem_of(SEEDS[0])
    part = next(parts for parts in parts_by_trial(problem).values())[0]
    posed = pose(problem, part, objective_of(problem))
    posed.model.minimize(posed.terms.scalar(objective_of(problem)))
    rows = Rows(posed.model)
    assert WeakDuality(rows).bound(np.full(len(rows.rows), np.nan), rows.high) is None
    assert WeakDuality(rows).bound(np.full(len(rows.rows), 1e300), rows.high) is None


def test_cuts_of_a_small_network() -> None:
    """Half a way leads into {2, 3}, whose members feed each other whole; node 1 has enough."""
    network = Network(4, [(0, 1, 1.0), (1, 2, 0.5), (2, 3, 1.0), (3, 2, 0.5)])
    assert network.cut(1, 1.0) == []
    assert network.cut(2, 1.0) == [frozenset({2, 3})]
    assert network.cut(3, 0.5) == []


def test_a_node_nothing_leads_to_is_cut_off() -> None:
    """The least set is the node alone, the widest all that the supply does not reach."""
    network = Network(4, [(0, 1, 1.0), (2, 3, 1.0)])
    assert network.cut(2, 1.0) == [frozenset({2}), frozenset({2, 3})]
