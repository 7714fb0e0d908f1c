"""The first step that is enough, on made-up ladders without a solver."""

import pytest

from lugwright.studies.least_change import Least, least_step
from lugwright.studies.question import Verdict


def ladder(enough: set[int], unknown: set[int] = frozenset()):
    """A verdict by step: enough, unknown, or else impossible; and the steps that were asked."""
    asked: list[int] = []

    def verdict(index: int) -> Verdict:
        asked.append(index)
        if index in unknown:
            return Verdict.UNDECIDED
        return Verdict.POSSIBLE if index in enough else Verdict.IMPOSSIBLE

    return verdict, asked


@pytest.mark.parametrize("first", range(40))
def test_halving_finds_the_first_step_and_tries_the_one_before(first: int) -> None:
    """Every place of the first step that is enough is found, and the step before was tried."""
    verdict, asked = ladder(set(range(first, 40)))
    assert least_step(40, verdict, climbs=True) == Least(first, True, False)
    assert first in asked and (first == 0 or first - 1 in asked)
    assert len(asked) <= 12


def test_no_step_is_enough() -> None:
    """A ladder that ends too soon has no least step, and the last step was tried."""
    verdict, asked = ladder(set())
    assert least_step(40, verdict, climbs=True) == Least(None, False, False)
    assert 39 in asked


def test_no_steps_at_all() -> None:
    """An empty ladder asks nothing."""
    verdict, asked = ladder(set())
    assert least_step(0, verdict, climbs=True) == Least(None, False, False)
    assert asked == []


def test_steps_that_do_not_climb_are_tried_in_turn() -> None:
    """The first that is enough, even where the next is not."""
    verdict, asked = ladder({3, 6})
    assert least_step(8, verdict, climbs=False) == Least(3, True, False)
    assert asked == [0, 1, 2, 3]


def test_no_answer_is_never_read_as_not_enough() -> None:
    """A step without an answer: what is found after it is not called the least."""
    verdict, _ = ladder({3}, unknown={1})
    assert least_step(8, verdict, climbs=False) == Least(3, False, True)
    verdict, _ = ladder(set(range(6, 40)), unknown={4, 5})
    assert least_step(40, verdict, climbs=True) == Least(6, False, True)
    verdict, _ = ladder(set(), unknown={2})
    assert least_step(40, verdict, climbs=True) == Least(None, False, True)
