"""Whole numbers in arrays against one number at a time."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from lugwright.base.scale import ceil_hypot
from lugwright.routes.arrays import each_with_each, plane_lengths_dmm

offsets = st.integers(-2_000_000, 2_000_000)


@given(st.lists(st.tuples(offsets, offsets), min_size=1))
def test_plane_lengths_are_rounded_up_exactly(given_offsets: list[tuple[int, int]]) -> None:
    """As with whole numbers of any size, over the whole range of a panel's coordinates."""
    one_by_one = [ceil_hypot(dx, dy) for dx, dy in given_offsets]
    assert plane_lengths_dmm(np.array(given_offsets)).tolist() == one_by_one


@given(st.integers(1, 2_000_000))
def test_whole_lengths_stay_and_a_hair_more_is_one_more(length: int) -> None:
    """A leg along one axis, and the same with 0.1 mm across."""
    legs = np.array([(length, 0), (0, -length), (length, 1)])
    assert plane_lengths_dmm(legs).tolist() == [length, length, length + 1]


def test_each_with_each_counts_the_others_after_the_ones() -> None:
    """Two ones, three others."""
    pairs = [[0, 2], [0, 3], [0, 4], [1, 2], [1, 3], [1, 4]]
    assert each_with_each(2, 3).tolist() == pairs
    assert each_with_each(0, 3).tolist() == []
