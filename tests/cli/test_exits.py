"""How a command can end."""

from __future__ import annotations

import pytest

from lugwright.cli.exits import Exit, exit_for
from lugwright.plans.outcome import Ending

ENDINGS = [
    # ending, interrupted, rejected, code
    (Ending.PROVED, False, False, 0),
    (Ending.WITHIN_BOUND, False, False, 4),
    (Ending.IMPOSSIBLE, False, False, 3),
    (Ending.NO_ANSWER, False, False, 5),
    (Ending.WITHIN_BOUND, True, False, 130),
    (Ending.NO_ANSWER, True, False, 130),
    (Ending.PROVED, False, True, 6),
    (Ending.WITHIN_BOUND, True, True, 6),
]


@pytest.mark.parametrize(("ending", "interrupted", "rejected", "code"), ENDINGS)
def test_exit_code_of_an_ending(
    ending: Ending, interrupted: bool, rejected: bool, code: int
) -> None:
    """A rejected plan outweighs an interruption, which outweighs how far the search came."""
    assert exit_for(ending, interrupted=interrupted, rejected=rejected) == code


def test_codes_are_told_apart() -> None:
    """Every way to end has a number of its own, and every ending of a search has a code."""
    assert len({int(code) for code in Exit}) == len(Exit)
    assert {exit_for(ending) for ending in Ending} == {0, 3, 4, 5}
