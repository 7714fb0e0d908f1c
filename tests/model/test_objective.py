"""Levels folded into one integer, and out of it again."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.asking import pose, roomy_limits
from support.consoles import tiny_console

from lugwright.model.formulation.objective import Objective, Sums, objective_of


def objective(name: str) -> Objective:
    """The objective of that name for three dials."""
    return objective_of(pose(tiny_console(), roomy_limits(objective=name)))


SUMS = st.builds(
    Sums,
    st.integers(0, 20_000),
    st.integers(0, 8),
    st.integers(0, 6),
    st.integers(0, 20),
    st.integers(0, 10**8),
)


@pytest.mark.parametrize("name", ["shortest", "lowest-stacks"])
def test_folded_values_compare_as_their_levels_do(name: str) -> None:
    """For sums no larger than a plan's, the one integer orders plans as the vector does."""
    folded = objective(name)

    @settings(max_examples=100, deadline=None, derandomize=True, database=None)
    @given(one=SUMS, other=SUMS)
    def holds(one: Sums, other: Sums) -> None:
        ranks = folded.vector(one) < folded.vector(other)
        assert (folded.scalar(one) < folded.scalar(other)) == ranks

    holds()


@pytest.mark.parametrize("name", ["shortest", "lowest-stacks", "default", "cheapest", "weights"])
def test_unfolding_gives_the_levels_back(name: str) -> None:
    """What was folded comes out as it went in; a negative value (no bound yet) as zeros."""
    folded = objective(name)
    sums = Sums(wire_dmm=6198, stacked=3, tallest=2, fittings=11, money_micro=12_345_678)
    assert folded.unfold(folded.scalar(sums)) == folded.vector(sums)
    assert set(folded.unfold(-5)) == {0}
    assert len(folded.levels) == len(folded.vector(sums))


def test_the_default_weighs_lugs_and_fittings() -> None:
    """6198 + 400 × 3 + 250 × 11."""
    sums = Sums(wire_dmm=6198, stacked=3, tallest=9, fittings=11, money_micro=7)
    assert objective("default").vector(sums) == (6198 + 1200 + 2750,)


def test_sums_add_but_the_tallest_is_the_tallest() -> None:
    """Two parts of a plan together."""
    assert Sums(1, 2, 3, 4, 5) + Sums(10, 20, 2, 40, 50) == Sums(11, 22, 3, 44, 55)
