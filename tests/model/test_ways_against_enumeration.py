"""Our cost against trying everything, on small random consoles with ways.

A fixed sample runs always; the wide sweep is marked slow, and so is the count of how often each
rule of ways decides.
"""

from __future__ import annotations

from collections import Counter

import pytest
from brute.binding_ways import OF_WAYS, without
from brute.case import Case
from brute.linked_far_posts import with_linked_far_posts
from brute.random_ways import random_way_case
from support.seeds import every

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.problem.build import build_problem

ON_A_LEAD = (253, 294)
"""A stop circuit whose only post is a lead."""
SAMPLE = (*range(25), *ON_A_LEAD)
WIDE = range(25, 625)
MUST_BIND, LEAST_SHARE = ("contact", "section", "rating"), 0.05
# The cases' routes run straight on purpose; the checker would rightly miss the way round.
STRAIGHT = {"obstacle"}


def planned(case: Case) -> Outcome:
    """What the model says of a case: same cost as the enumerator, or both impossible."""
    outcome = best_choice(build_problem(case.brief, case.routes()))
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    cost = outcome.cost if outcome.ending is Ending.PROVED else None
    assert cost == case.best().cost
    return outcome


def judge(case: Case) -> None:
    """Same cost as the enumerator; and the plan passes the checker."""
    outcome = planned(case)
    if outcome.choice is None:
        return
    plan = assemble_plan(case.brief, case.routes(), outcome, "test")
    report = check_plan(case.brief, plan)
    assert [str(f) for f in report.findings if f.rule not in STRAIGHT] == []
    assert plan.proof.cost == plan.proof.bound


@pytest.mark.parametrize("seed", every(2, SAMPLE, ON_A_LEAD[1:]))
def test_a_sample_of_small_consoles_with_ways(seed: int) -> None:
    """Every console of the fixed sample: equal cost, or both say impossible."""
    judge(random_way_case(seed))


@pytest.mark.parametrize("seed", every(3, (*range(24), 37, 52), (37, 52)))
def test_what_is_linked_to_a_far_post_is_no_second_way_out(seed: int) -> None:
    """One jumper leaves the metal of a far post, whichever of its studs it might leave by."""
    judge(with_linked_far_posts(random_way_case(seed)))


@pytest.mark.slow
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep_of_consoles_with_ways(seed: int) -> None:
    """Many times as many consoles as in the default run."""
    judge(random_way_case(seed))


@pytest.mark.slow
def test_every_rule_of_ways_binds_often_enough(capsys: pytest.CaptureFixture[str]) -> None:
    """In 600 cases contact, section and rating each change the answer in at least 5 %."""
    binds: Counter[str] = Counter()
    cases = [random_way_case(seed) for seed in range(600)]
    for case in cases:
        cost = case.best().cost
        binds.update(rule for rule in OF_WAYS if without(case, rule).best().cost != cost)
    with capsys.disabled():
        print("\n" + "\n".join(f"{rule}: {binds[rule] / len(cases):.1%}" for rule in OF_WAYS))
    assert [rule for rule in MUST_BIND if binds[rule] < LEAST_SHARE * len(cases)] == []
