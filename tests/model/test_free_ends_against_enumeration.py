"""Our cost against trying everything, on small random consoles whose leads have a length.

A fixed sample runs always; the wide sweep is marked slow.
"""

from __future__ import annotations

import pytest
from brute.case import Case
from brute.random_consoles import random_case
from brute.random_free_leads import with_lengths
from brute.random_signals import random_signal_case
from brute.random_ways import random_way_case

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending
from lugwright.problem.build import build_problem

SAMPLE, WIDE = (4, 9, 13, 27, 30, 35, 36, 41, 48, 54), range(60, 300)
"""Of the first sixty those that have such leads; seed 4 has no plan."""
# The cases' routes run straight on purpose; the checker would rightly miss the way round.
STRAIGHT = {"obstacle"}
DRAWS = {"plain": random_case, "ways": random_way_case, "signals": random_signal_case}


def judge(case: Case) -> bool:
    """Same cost as the enumerator, or both impossible; the plan, if any, passes the checker.

    Whether there is a plan, and a lead in it whose end was chosen.
    """
    outcome = best_choice(build_problem(case.brief, case.routes()))
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    assert (outcome.cost if outcome.choice else None) == case.best().cost
    if outcome.choice is None:
        return False
    plan = assemble_plan(case.brief, case.routes(), outcome, "test")
    report = check_plan(case.brief, plan)
    assert [str(f) for f in report.findings if f.rule not in STRAIGHT] == []
    assert plan.proof.cost == plan.proof.bound
    return bool(outcome.choice.ends)


@pytest.mark.parametrize("seed", SAMPLE)
def test_a_sample_of_small_consoles_with_free_leads(seed: int) -> None:
    """Every console of the fixed sample: equal cost, or both say impossible."""
    case = with_lengths(random_case(seed))
    assert case is not None
    assert judge(case) == (seed != SAMPLE[0])


@pytest.mark.slow
@pytest.mark.parametrize("kind", DRAWS)
def test_the_wide_sweep_of_consoles_with_free_leads(kind: str) -> None:
    """Many times as many consoles as in the default run."""
    cases = [case for seed in WIDE if (case := with_lengths(DRAWS[kind](seed)))]
    assert sum(map(judge, cases)) >= 10
