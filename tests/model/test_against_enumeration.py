"""The test that matters most: our cost against trying everything, on small random consoles.

The enumerator (``tests/brute``) shares no code with problem, model or assemble. A fixed sample
runs always; the wide sweep is marked slow and reports how often each rule binds.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from brute.case import Case
from brute.loosen import RULES, loosened
from brute.random_consoles import random_case
from support.seeds import MANY_WAYS, seeds

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.problem.build import build_problem

SAMPLE = range(60)
WIDE = range(60, 660)
LEAST_SHARE = 0.05
# The cases' routes run straight on purpose; the checker would rightly miss the way round.
STRAIGHT = {"obstacle"}


def planned(case: Case) -> Outcome:
    """What the model says of a case."""
    problem = build_problem(case.brief, case.routes())
    return best_choice(problem)


def cost_of(outcome: Outcome) -> tuple[int, ...] | None:
    """The proved cost, or None where no plan exists. Nothing else may come out without a limit."""
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    return outcome.cost if outcome.ending is Ending.PROVED else None


def judge(case: Case) -> None:
    """Same cost as the enumerator, or both impossible; and the plan passes the checker."""
    outcome = planned(case)
    assert cost_of(outcome) == case.best().cost
    if outcome.choice is None:
        return
    plan = assemble_plan(case.brief, case.routes(), outcome, "test")
    report = check_plan(case.brief, plan)
    assert [str(f) for f in report.findings if f.rule not in STRAIGHT] == []
    assert plan.proof.cost == plan.proof.bound


@pytest.mark.parametrize("seed", seeds(SAMPLE, {*MANY_WAYS, *SAMPLE[::2]}))
def test_a_sample_of_small_consoles(seed: int) -> None:
    """Every console of the fixed sample: equal cost, or both say impossible."""
    judge(random_case(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep(seed: int) -> None:
    """Ten times as many consoles as in the default run."""
    judge(random_case(seed))


@pytest.mark.slow
def test_every_rule_binds_often_enough(capsys: pytest.CaptureFixture[str]) -> None:
    """In 300 cases each rule changes the answer in at least 5 % when it alone is taken away."""
    binds: Counter[str] = Counter()
    cases = [random_case(seed) for seed in range(300)]
    for case in cases:
        cost = cost_of(planned(case))
        for rule in RULES:
            binds[rule] += cost_of(planned(loosened(case, rule))) != cost
    with capsys.disabled():
        print("\n" + "\n".join(f"{rule}: {binds[rule] / len(cases):.1%}" for rule in RULES))
    assert all(binds[rule] >= LEAST_SHARE * len(cases) for rule in RULES)


def test_a_planted_error_would_be_seen() -> None:
    """The comparison can fail: a lug worth changed for one side only gives another cost."""
    case = next(
        case
        for case in map(random_case, SAMPLE)
        if case.limits.objective == "default" and (case.best().cost or (0,))[0] > 0
    )
    changed = replace(case, limits=replace(case.limits, fitting_worth_dmm=99_999))
    assert cost_of(planned(changed)) != case.best().cost
