"""Outlines and cuts, against shapely and against hand arithmetic."""

from __future__ import annotations

import math

import shapely
from hypothesis import given
from hypothesis import strategies as st

from lugwright.routes.geometry import (
    Box,
    Outline,
    Place,
    convex_hull,
    cross,
    cuts,
    is_inside,
    rounded_outline,
)

places = st.tuples(st.integers(-60, 60), st.integers(-60, 60))
radii = st.integers(1, 40)
boxes = st.builds(
    lambda x, y, w, h: Box(x, y, x + w, y + h),
    st.integers(-20, 20),
    st.integers(-20, 20),
    st.integers(0, 30),
    st.integers(0, 30),
)


def outline_of(box: Box, radius_dmm: int) -> Outline:
    """The outline, which must exist here."""
    outline = rounded_outline(box, radius_dmm)
    assert outline is not None
    return outline


def test_a_circle_of_10_mm_is_a_16_gon() -> None:
    """r = 100: tan 11.25° = 0.1989 gives 19.9, up to 20; (84.8, 56.6) goes up to (85, 57)."""
    corners = outline_of(Box(0, 0, 0, 0), 100).corners
    assert len(corners) == 16
    assert {c for c in corners if c[0] > 0 and c[1] > 0} == {
        (100, 20),
        (85, 57),
        (57, 85),
        (20, 100),
    }


def test_a_rectangle_without_margin_is_itself_and_a_point_is_nothing() -> None:
    """Radius 0 keeps the four corners; a single point or a line has no inside."""
    assert set(outline_of(Box(1, 2, 5, 9), 0).corners) == {(1, 2), (5, 2), (5, 9), (1, 9)}
    assert rounded_outline(Box(3, 3, 3, 3), 0) is None
    assert rounded_outline(Box(3, 3, 8, 3), 0) is None


@given(boxes, radii)
def test_an_outline_holds_the_true_shape_and_little_more(box: Box, radius_dmm: int) -> None:
    """Everything within the radius of the box is in it, and nothing 2 % + 0.2 mm beyond."""
    outline = outline_of(box, radius_dmm)
    shape = shapely.Polygon(outline.corners)
    true = shapely.box(box.x0, box.y0, box.x1, box.y1).buffer(radius_dmm, quad_segs=64)
    assert shape.buffer(1e-6).contains(true)
    assert all(true.distance(shapely.Point(c)) < 0.02 * radius_dmm + 2 for c in outline.corners)


@given(boxes, radii)
def test_an_outline_is_the_same_turned_and_mirrored(box: Box, radius_dmm: int) -> None:
    """A quarter turn and a mirror of the box turn and mirror the corners."""
    corners = set(outline_of(box, radius_dmm).corners)
    turned = outline_of(Box(-box.y1, box.x0, -box.y0, box.x1), radius_dmm)
    assert set(turned.corners) == {(-y, x) for x, y in corners}
    mirrored = outline_of(Box(-box.x1, box.y0, -box.x0, box.y1), radius_dmm)
    assert set(mirrored.corners) == {(-x, y) for x, y in corners}


@given(st.lists(places, min_size=3, max_size=20))
def test_a_hull_is_the_hull(points: list[Place]) -> None:
    """The same area as shapely's hull, every point in it, and every corner a true corner."""
    hull = convex_hull(points)
    theirs = shapely.MultiPoint(points).convex_hull
    if len(hull) < 3:
        assert theirs.area == 0
        return
    assert shapely.Polygon(hull).area == theirs.area
    assert all(cross(hull[i - 2], hull[i - 1], hull[i]) > 0 for i in range(len(hull))), (
        "corners turn left, none is straight"
    )


@given(boxes, radii, places, places)
def test_cuts_agrees_with_shapely(box: Box, radius_dmm: int, a: Place, b: Place) -> None:
    """A line cuts when the interiors meet (shapely's relate), touching does not count."""
    outline = outline_of(box, radius_dmm)
    shape = shapely.Polygon(outline.corners)
    line = shapely.Point(a) if a == b else shapely.LineString([a, b])
    assert cuts(a, b, outline) == shapely.relate_pattern(line, shape, "T********")
    assert cuts(a, b, outline) == cuts(b, a, outline)


@given(boxes, radii, st.integers(0, 15), st.integers(0, 15))
def test_only_sides_and_no_chords_are_free(box: Box, radius_dmm: int, one: int, two: int) -> None:
    """Between corners of one outline the line is free exactly along a side."""
    corners = outline_of(box, radius_dmm).corners
    a, b = corners[one % len(corners)], corners[two % len(corners)]
    steps = (one % len(corners) - two % len(corners)) % len(corners)
    is_side = steps in (0, 1, len(corners) - 1)
    assert cuts(a, b, outline_of(box, radius_dmm)) != is_side


@given(boxes, radii, places)
def test_inside_agrees_with_shapely(box: Box, radius_dmm: int, place: Place) -> None:
    """Strictly inside is what shapely says contains properly."""
    outline = outline_of(box, radius_dmm)
    shape = shapely.Polygon(outline.corners)
    assert is_inside(place, outline) == shape.contains_properly(shapely.Point(place))


def test_a_tangent_is_no_cut_and_a_hair_less_is() -> None:
    """Along the side at x = 100 of a circle of 10 mm: free; at x = 99: cut."""
    outline = outline_of(Box(0, 0, 0, 0), 100)
    assert not cuts((100, -300), (100, 300), outline)
    assert cuts((99, -300), (99, 300), outline)
    assert math.isclose(shapely.Polygon(outline.corners).distance(shapely.Point(0, -300)), 200)
