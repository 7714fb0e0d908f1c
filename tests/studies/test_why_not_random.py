"""Explanations of small random consoles that have no plan: minimal by fresh solves."""

import pytest
from brute.random_consoles import random_case
from support.explaining import assert_irreducible

from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.studies.question import Verdict
from lugwright.studies.why_not import why_not

# consoles the enumerator finds no plan for, of the first ninety
QUICK = (1, 57, 74, 81)
LONG = (3, 64, 73, 25, 42, 65, 66, 69, 82, 83)


def judge(seed: int) -> None:
    """The enumerator agrees that there is no plan; the explanation is complete and minimal."""
    case = random_case(seed)
    assert case.best().cost is None

    def route(_brief: Brief) -> Routes:
        return case.routes()

    question = case.brief
    why = why_not(question, route=route)
    assert_irreducible(question, why, route)
    for conflict in why.conflicts:
        for one in conflict.members:
            assert one.way is None or (one.alone is Verdict.POSSIBLE and one.way.least)


@pytest.mark.parametrize("seed", QUICK)
def test_explanations_of_random_consoles_are_minimal(seed: int) -> None:
    """Without any one of what is named a plan exists; with all of it none does."""
    judge(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", LONG)
def test_explanations_that_take_longer_are_minimal(seed: int) -> None:
    """The same, where a solve takes longer or several conflicts overlap."""
    judge(seed)
