"""The fewest things that cannot hold together, on made-up conflicts without a solver."""

from itertools import chain, combinations

import pytest

from lugwright.studies.conflict import Thinned, thinned

NAMES = tuple("abcdefghij")


def needs(*cores: str):
    """A conflict that persists while all of any one core is in force."""
    return lambda kept: any(set(core) <= kept for core in cores)


@pytest.mark.parametrize(
    "cores",
    [("a",), ("j",), ("ae",), ("adgj",), ("ab", "cd"), ("abc", "cde"), ("abcdefghij",)],
)
def test_what_is_kept_conflicts_and_no_part_of_it_does(cores: tuple[str, ...]) -> None:
    """What is left is a conflict; every smaller part of it is none."""
    still = needs(*cores)
    kept = thinned(NAMES, still).kept
    parts = chain.from_iterable(combinations(kept, size) for size in range(len(kept)))
    assert still(frozenset(kept))
    assert not any(still(frozenset(part)) for part in parts)


def test_of_two_conflicts_the_later_one_is_named() -> None:
    """What comes first in the list goes first."""
    assert thinned(NAMES, needs("ab", "ij")).kept == ("i", "j")


def test_few_members_cost_few_questions() -> None:
    """Halves go at once: a conflict of one among many asks far fewer times than there are."""
    asked = []

    def still(kept: frozenset[str]) -> bool:
        asked.append(kept)
        return "m50" in kept

    assert thinned([f"m{n}" for n in range(100)], still).kept == ("m50",)
    assert len(asked) < 20


def test_no_answer_keeps_a_member_and_says_so() -> None:
    """A question without an answer never lets a thing go."""

    def still(kept: frozenset[str]) -> bool | None:
        return "a" in kept if "b" in kept else None

    assert thinned("abc", still) == Thinned(("a", "b"), ("b",))
