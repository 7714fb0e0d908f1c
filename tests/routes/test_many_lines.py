"""Many lines at once against one line at a time, and against shapely."""

from __future__ import annotations

from itertools import product
from random import Random

import numpy as np
import pytest
import shapely

from lugwright.routes import many_lines
from lugwright.routes.arrays import Whole
from lugwright.routes.geometry import Box, Outline, Place, cuts, is_inside, rounded_outline
from lugwright.routes.many_lines import Outlines


def some_outlines(random: Random, number: int) -> list[Outline]:
    """Round and square outlines of different numbers of corners, some over each other."""
    found = []
    for _ in range(number):
        x, y = random.randint(0, 900), random.randint(0, 900)
        wide, high = random.choice([(0, 0), (120, 40), (60, 60)])
        outline = rounded_outline(Box(x, y, x + wide, y + high), random.choice([0, 1, 40, 75]))
        if outline is not None:
            found.append(outline)
    return found


def some_places(random: Random, outlines: list[Outline]) -> list[Place]:
    """Corners of the outlines and places anywhere."""
    corners = [corner for outline in outlines for corner in outline.corners]
    anywhere = [(random.randint(-9, 999), random.randint(-9, 999)) for _ in range(9)]
    return [*random.sample(corners, 12), *anywhere]


def rows(places: list[Place]) -> Whole:
    """Places as an array."""
    return np.array(places, dtype=np.int64).reshape(-1, 2)


@pytest.mark.parametrize("at_once", [1, 50, 60_000])
def test_many_lines_are_cut_where_one_line_is(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Random lines, lines along sides, lines from corner to corner and single places.

    Whole, and in pieces of every size; each line spares what either of two rows marks.
    """
    monkeypatch.setattr(many_lines, "_PAIRS_AT_ONCE", at_once)
    random = Random(4)
    for _ in range(5 if at_once == 1 else 20):
        outlines = some_outlines(random, 8)
        lines = list(product(some_places(random, outlines), repeat=2))
        marks = np.array([[random.random() < 0.2 for _ in outlines] for _ in range(4)])
        named = np.array([[random.randrange(4) for _ in range(2)] for _ in lines])
        all_count, some_spared = [], []
        for (a, b), (one, other) in zip(lines, named.tolist(), strict=True):
            cut = [cuts(a, b, outline) for outline in outlines]
            spared = (marks[one] | marks[other]).tolist()
            all_count.append(any(cut))
            some_spared.append(any(c and not s for c, s in zip(cut, spared, strict=True)))
        drawn = np.array(lines).reshape(-1, 4)
        assert Outlines(outlines).is_cut(drawn).tolist() == all_count
        assert Outlines(outlines).is_cut(drawn, (marks, named)).tolist() == some_spared


def test_many_places_are_inside_where_one_place_is() -> None:
    """Places anywhere, on sides and on corners, in every outline."""
    random = Random(7)
    for _ in range(20):
        outlines = some_outlines(random, 8)
        places = some_places(random, outlines)
        one_by_one = [[is_inside(place, outline) for outline in outlines] for place in places]
        assert Outlines(outlines).inside(rows(places)).tolist() == one_by_one


@pytest.mark.parametrize("at_once", [1, 60_000])
def test_a_wire_bears_where_it_leaves_the_outline_on_one_side(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Shapely's own view: the outline reaches over one side of the line's whole length only."""
    monkeypatch.setattr(many_lines, "_PAIRS_AT_ONCE", at_once)
    random = Random(5)
    outlines = some_outlines(random, 6)
    places = some_places(random, outlines)
    all_together = Outlines(outlines)
    bears = all_together.bearing(rows(places))
    for place, corners in zip(places, bears.tolist(), strict=True):
        told = zip(all_together.corners.tolist(), all_together.owner.tolist(), corners, strict=True)
        for corner, owner, does_bear in told:
            shape = shapely.Polygon(outlines[owner].corners)
            if place == tuple(corner):
                assert does_bear
                continue
            ahead = (corner[0] - place[0], corner[1] - place[1])
            far = [(place[i] - 2000 * ahead[i], place[i] + 2000 * ahead[i]) for i in (0, 1)]
            line = shapely.LineString(list(zip(*far, strict=True)))
            assert does_bear == (not shapely.relate_pattern(line, shape, "T********"))


def test_no_outlines_and_no_lines_cut_nothing() -> None:
    """Empty on either side is no fault."""
    square = rounded_outline(Box(0, 0, 10, 10), 0)
    assert square is not None
    line = np.array([[0, 0, 5, 5]])
    assert Outlines([]).is_cut(line).tolist() == [False]
    assert Outlines([]).inside(rows([(0, 0)])).shape == (1, 0)
    assert Outlines([]).bearing(rows([(0, 0)])).shape == (1, 0)
    assert Outlines([square]).is_cut(line[:0]).tolist() == []
