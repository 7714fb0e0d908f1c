"""Tests of the list of labelled trees."""

from __future__ import annotations

import pytest

from brute.trees import rooted_trees


@pytest.mark.parametrize("points", [2, 3, 4, 5, 6, 7])
def test_as_many_trees_as_cayley_counts(points: int) -> None:
    """n labelled points have n^(n-2) trees (A. Cayley, 1889), each listed once."""
    trees = rooted_trees((1,) * points, (99,) * points)

    assert len(trees) == points ** (points - 2)
    assert len({frozenset(frozenset(edge) for edge in tree) for tree in trees}) == len(trees)


def test_every_tree_hangs_together_from_the_root() -> None:
    """Every edge starts at a point that was reached before, and reaches a new one."""
    for tree in rooted_trees((1,) * 5, (99,) * 5):
        reached = {0}
        for above, below in tree:
            assert above in reached
            assert below not in reached
            reached.add(below)
        assert reached == set(range(5))


def test_degrees_are_held() -> None:
    """With a least degree of three on the last point, exactly the trees that have it are listed."""
    every = rooted_trees((1,) * 5, (99,) * 5)
    expected = {tree for tree in every if sum(4 in edge for edge in tree) >= 3}

    held = rooted_trees((1, 1, 1, 1, 3), (99,) * 5)

    assert set(held) == expected
    assert 0 < len(expected) < len(every)


def test_a_root_with_one_jumper() -> None:
    """A root left by one jumper: n-1 points carry (n-1)^(n-3) trees, hung up at any of them."""
    trees = rooted_trees((1,) * 5, (1,) + (99,) * 4)

    assert len(trees) == 4 * 4**2


def test_one_point_alone_has_one_empty_tree() -> None:
    """A circuit whose only post is the landing post has no jumpers."""
    assert rooted_trees((1,), (99,)) == ((),)
