"""The proof that no wire passes round a way, on random consoles: it holds, and it can fail.

The consoles are those the enumerator draws. Every plan of one is sound by the proof; then one
fault is planted in it, drawn from all that ``support.bridged`` can plant, and found.
"""

from __future__ import annotations

from random import Random

import pytest
from brute.random_ways import random_way_case
from support.bridged import FAULTS

from lugwright.checker.book import Book
from lugwright.checker.bypass import check_bypass
from lugwright.checker.facts import Facts
from lugwright.pipeline import make_plan
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

SAMPLE = range(6)
WIDE = range(6, 1006)


def found(brief: Brief, plan: Plan) -> list[str]:
    """What the proof finds."""
    book = Book()
    check_bypass(Facts(brief, plan), book)
    return [str(finding) for finding in book.report().findings]


def judge(seed: int) -> bool:
    """The plan of a case is sound and one bridge in it is found; False where no plan exists."""
    case = random_way_case(seed)
    plan = make_plan(case.brief).plan
    if plan is None:
        return False
    assert found(case.brief, plan) == []
    faults = [each for plant in FAULTS.values() for each in plant(case.console, plan)]
    what, planted = Random(seed).choice(faults)
    assert found(case.brief, planted) != [], what
    return True


def test_a_sample_of_random_plans() -> None:
    """Six consoles: most have a plan, each is sound, each planted bridge is found."""
    assert sum(map(judge, SAMPLE)) >= 3


@pytest.mark.slow
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep(seed: int) -> None:
    """A thousand more."""
    judge(seed)
