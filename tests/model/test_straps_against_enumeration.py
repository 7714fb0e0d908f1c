"""Our cost against trying everything, on small random consoles over which straps are laid.

A fixed sample runs always; the wide sweep is marked slow, with the count of how often a strap
decides.
"""

from __future__ import annotations

from collections import Counter

import pytest
from brute.case import Case
from brute.random_signals import random_signal_case
from brute.random_straps import with_straps, without_straps
from brute.random_ways import random_way_case
from support.seeds import every

from lugwright.assemble.build import assemble_plan
from lugwright.checker.run import check_plan
from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending
from lugwright.problem.build import build_problem

CONTACTS_ALONE = (2, 55, 62, 84)
"""A strap's contacts alone are too much for a load: no jumper is there to be longer."""
SAMPLE, WIDE = (*range(12), *CONTACTS_ALONE), range(12, 212)
# The cases' routes run straight on purpose; the checker would rightly miss the way round.
STRAIGHT = {"obstacle"}
DRAWS = {"ways": random_way_case, "signals": random_signal_case}


def drawn(kind: str, seed: int) -> Case:
    """A random console with straps; without any where it has no studs for them."""
    case = DRAWS[kind](seed)
    return with_straps(case, seed) or case


def judge(case: Case) -> None:
    """Same cost as the enumerator, or both impossible; and the plan passes the checker."""
    outcome = best_choice(build_problem(case.brief, case.routes()))
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    assert (outcome.cost if outcome.choice else None) == case.best().cost
    if outcome.choice is None:
        return
    plan = assemble_plan(case.brief, case.routes(), outcome, "test")
    report = check_plan(case.brief, plan)
    assert [str(f) for f in report.findings if f.rule not in STRAIGHT] == []
    assert plan.proof.cost == plan.proof.bound


@pytest.mark.parametrize("seed", every(2, SAMPLE, CONTACTS_ALONE[:2]))
def test_a_sample_of_small_consoles_with_straps(seed: int) -> None:
    """Every console of the fixed sample: equal cost, or both say impossible."""
    judge(drawn("ways", seed))


@pytest.mark.slow
@pytest.mark.parametrize("kind", DRAWS)
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep_of_consoles_with_straps(kind: str, seed: int) -> None:
    """Many times as many consoles as in the default run."""
    judge(drawn(kind, seed))


@pytest.mark.slow
def test_straps_decide_often_enough(capsys: pytest.CaptureFixture[str]) -> None:
    """Contacts, and what a strap carries, each change the answer in a fair share of cases."""
    binds: Counter[str] = Counter()
    cases = [case for seed in WIDE if (case := with_straps(random_way_case(seed), seed))]
    for case in cases:
        binds["any"] += without_straps(case).best().cost != case.best().cost
    with capsys.disabled():
        print("\n" + "\n".join(f"{what}: {n / len(cases):.1%}" for what, n in binds.items()))
    assert binds["any"] > len(cases) // 5
