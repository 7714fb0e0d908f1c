"""Standard lengths against trying every set, and against a MILP solver of general use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from itertools import combinations
from random import Random

import highspy
import pytest

from lugwright.production.standard_lengths import PREFERRED, best_lengths, series_dmm


def least_waste(needs: Mapping[int, int], number: int, offered: Iterable[int]) -> int:
    """The least waste of any set of that many lengths, by trying all."""
    wastes = [
        sum(count * (min(x for x in chosen if x >= need) - need) for need, count in needs.items())
        for chosen in combinations(sorted(offered), number)
        if chosen[-1] >= max(needs)
    ]
    return min(wastes)


@pytest.mark.parametrize("seed", range(40))
def test_equals_trying_every_set(seed: int) -> None:
    """Small needs, with free lengths and with lengths from a list."""
    random = Random(seed)
    needs = {random.randint(1, 60): random.randint(1, 5) for _ in range(random.randint(1, 9))}
    offered = {random.randint(1, 60) for _ in range(8)} | {max(needs)}
    for candidates in (None, offered):
        for number, found in enumerate(best_lengths(needs, 4, candidates), 1):
            assert found.waste_dmm == least_waste(needs, number, candidates or needs)
            assert len(found.lengths_dmm) == number
            assert sum(found.pieces) == sum(needs.values())


@pytest.mark.parametrize("number", [2, 4, 7])
def test_equals_a_milp(number: int) -> None:
    """Thirty needs as an assignment MILP in HiGHS: each need takes one stocked length."""
    random = Random(number)
    needs = {random.randint(800, 9000): random.randint(1, 40) for _ in range(30)}
    lengths = sorted(needs)
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    stocked = [highs.addBinary() for _ in lengths]
    highs.addConstr(sum(stocked) <= number)
    waste = []
    for at, need in enumerate(lengths):
        row = [(other, highs.addBinary()) for other in range(at, len(lengths))]
        highs.addConstr(sum(use for _, use in row) == 1)
        for other, use in row:
            highs.addConstr(use <= stocked[other])
            waste.append(needs[need] * (lengths[other] - need) * use)
    highs.minimize(sum(waste))
    value = round(highs.getInfo().objective_function_value)
    assert best_lengths(needs, number)[-1].waste_dmm == value


def test_as_many_lengths_as_needs_waste_nothing() -> None:
    """A length for every need leaves nothing over, and no longer set is given."""
    needs = Counter([800, 1200, 1200, 3450])
    sets = best_lengths(needs, 10)
    assert len(sets) == 3
    assert sets[-1].waste_dmm == 0
    assert sets[-1].lengths_dmm == (800, 1200, 3450)
    assert sets[-1].pieces == (1, 2, 1)


def test_one_more_length_never_wastes_more() -> None:
    """The curve falls."""
    random = Random(5)
    needs = Counter(random.randint(500, 5000) for _ in range(400))
    wastes = [found.waste_dmm for found in best_lengths(needs, 25)]
    assert wastes == sorted(wastes, reverse=True)


def test_preferred_numbers_are_those_of_the_standard() -> None:
    """ISO 3:1973: R10 and R20, of one decade; each series holds every second of the next.

    The rounded values are from memory, held here to the powers of the tenth root of ten that
    they round, and to each other.
    """
    for name, values in PREFERRED.items():
        steps = int(name[1:])
        assert len(values) == steps
        for index, value in enumerate(values):
            assert value / (100 * 10 ** (index / steps)) == pytest.approx(1, abs=0.013)
    assert PREFERRED["R10"] == PREFERRED["R20"][::2]
    assert PREFERRED["R5"] == PREFERRED["R10"][::2]
    assert PREFERRED["R20"] == PREFERRED["R40"][::2]


def test_a_series_reaches_the_longest_need() -> None:
    """From 10 mm up to the first length that is long enough."""
    assert series_dmm("R5", 1000) == (100, 160, 250, 400, 630, 1000)
    assert series_dmm("R5", 1001)[-1] == 1600


@pytest.mark.parametrize(
    ("needs", "most", "offered"),
    [({}, 1, None), ({0: 1}, 1, None), ({5: 0}, 1, None), ({5: 1}, 0, None), ({5: 1}, 1, [4])],
)
def test_refuses_what_makes_no_sense(
    needs: dict[int, int], most: int, offered: list[int] | None
) -> None:
    """Nothing needed, lengths of nought, no set asked for, nothing long enough."""
    with pytest.raises(ValueError, match="length"):
        best_lengths(needs, most, offered)
