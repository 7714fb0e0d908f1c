"""Cutting a drawing into pages: everything shown, enough shared, every seam with its crosses."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise

import pytest

from lugwright.outputs.paper.frame import Area
from lugwright.outputs.paper.tiling import OVERLAP_MM, Tiling, tiling
from lugwright.outputs.paper_size import Paper

SIZES = [(60, 40), (182, 250), (428, 186), (608, 268), (638, 448), (1500, 900)]
CUTS = [
    tiling(Area(-4, -4, *size), Paper(page, scale, 1 / scale))
    for size in SIZES
    for page in ("A4", "Letter")
    for scale in (Fraction(1), Fraction(101, 100))
]


@pytest.mark.parametrize("cut", CUTS, ids=str)
def test_pages_cover_the_drawing_and_share_a_strip(cut: Tiling) -> None:
    """From edge to edge without a gap; neighbours share at least the overlap."""
    for axis, size in (("x", "width"), ("y", "height")):
        spans = sorted(
            {(getattr(t.view, axis), getattr(t.view, axis) + getattr(t.view, size))
             for t in cut.tiles()}
        )  # fmt: skip
        start = getattr(cut.content, axis)
        assert spans[0][0] <= start + 1e-6
        assert spans[-1][1] >= start + getattr(cut.content, size) - 1e-6
        for (_, end), (begin, _) in pairwise(spans):
            assert end - begin >= OVERLAP_MM - 1e-6


@pytest.mark.parametrize("cut", CUTS, ids=str)
def test_neighbours_share_two_crosses(cut: Tiling) -> None:
    """One cross fixes a place, two fix the angle as well."""
    for first, second in combinations(cut.tiles(), 2):
        if abs(first.row - second.row) + abs(first.column - second.column) == 1:
            shared = [
                (x, y)
                for x, y in cut.crosses
                if all(
                    tile.view.x < x < tile.view.right and tile.view.y < y < tile.view.top
                    for tile in (first, second)
                )
            ]
            assert len(shared) >= 2


def test_a_small_drawing_is_one_page_in_the_middle() -> None:
    """No seam, no cross."""
    cut = CUTS[0]
    (only,) = cut.tiles()
    assert cut.crosses == ()
    assert only.view.x + only.view.width / 2 == pytest.approx(cut.content.x + 30)


def test_pages_lie_where_that_saves_pages() -> None:
    """600 × 260 mm takes six A4 pages lying and eight upright."""
    cut = tiling(Area(-4, -4, 608, 268), Paper("A4"))
    assert (cut.landscape, cut.rows * cut.columns) == (True, 6)
