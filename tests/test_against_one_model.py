"""The search against the plain formulation: the whole problem as one model (``benchmarks``).

A fixed sample runs always; the sweep of 500 random consoles is marked slow.
"""

from __future__ import annotations

import pytest
from brute.random_consoles import random_case
from one_model import solve_all

from lugwright.model.ask import Status
from lugwright.model.choose import best_choice
from lugwright.model.objective import objective_of
from lugwright.plan.outcome import Ending
from lugwright.problem.build import build_problem

SAMPLE = range(2000, 2030)
SWEEP = range(2030, 2530)


def judge(seed: int) -> None:
    """Both prove the same cost, or both say that there is no plan."""
    case = random_case(seed)
    problem = build_problem(case.console, case.limits, case.stock, case.routes())
    plain, fast = solve_all(problem), best_choice(problem)
    assert plain.status in (Status.BEST, Status.NONE)
    assert fast.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    known = objective_of(problem).unfold(plain.value) if plain.answer else ()
    assert fast.cost == known


@pytest.mark.parametrize("seed", SAMPLE)
def test_a_sample_of_consoles(seed: int) -> None:
    """Equal cost, or both impossible."""
    judge(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", SWEEP)
def test_the_sweep(seed: int) -> None:
    """Five hundred more."""
    judge(seed)
