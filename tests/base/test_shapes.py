"""Exact shapes beside a general geometry library, and touching told from overlapping."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPoint, Point, Polygon, affinity

from lugwright.base.shapes import Shape, circle, covers, directed, outline, rectangle

HALVES = st.integers(1, 60)
PLACES = st.integers(-80, 80)
SMOOTH = 64  # segments to a quarter circle in the library's rounded corners


@st.composite
def shapes(draw: st.DrawFn) -> tuple[Shape, Polygon]:
    """A rounded, turned rectangle or a circle, and the same made by the library."""
    x, y, wide, high = (draw(PLACES), draw(PLACES), 2 * draw(HALVES), 2 * draw(HALVES))
    radius = draw(st.integers(0, min(wide, high) // 2))
    turn = draw(st.sampled_from((0, 17, 30, 45, 90, 133, 270)))
    shape = rectangle((x, y), (wide, high), radius, directed(Fraction(turn)))
    across, up = wide / 2 - radius, high / 2 - radius
    core = MultiPoint([(-across, -up), (across, -up), (across, up), (-across, up)]).convex_hull
    own = core.buffer(radius, quad_segs=SMOOTH) if radius else core
    return shape, affinity.translate(affinity.rotate(own, turn, origin=(0, 0)), x, y)


@given(shapes(), shapes())
@settings(max_examples=150, deadline=None)
def test_overlap_is_what_the_library_finds(
    one: tuple[Shape, Polygon], other: tuple[Shape, Polygon]
) -> None:
    """shapely 2, but within 0.1 of a touch, where its corners are many-sided."""
    (shape, polygon), (its_shape, its_polygon) = one, other
    if polygon.distance(its_polygon) > 0.1:
        assert not shape.overlaps(its_shape) and not its_shape.overlaps(shape)
    elif polygon.buffer(-0.1).intersects(its_polygon.buffer(-0.1)):
        assert shape.overlaps(its_shape) and its_shape.overlaps(shape)


@given(shapes())
@settings(max_examples=80, deadline=None)
def test_reach_and_outline_are_the_library_s(one: tuple[Shape, Polygon]) -> None:
    """The upright box round a shape, and the places drawn along its edge."""
    shape, polygon = one
    x0, y0, x1, y1 = polygon.bounds
    across, up = map(float, shape.reach)
    assert (2 * across, 2 * up) == pytest.approx((x1 - x0, y1 - y0), abs=0.02)
    assert all(polygon.exterior.distance(Point(*at)) < 0.02 for at in outline(shape))


def test_a_turned_rectangle_passes_a_circle_its_box_does_not() -> None:
    """By hand: 26 by 50, turned 30 degrees, 50 from a circle of radius 30. Its long side is 30.3
    from the circle's centre (50 cos 30 - 13), though the upright boxes overlap."""
    rocker = rectangle((0, 0), (26, 50), 0, directed(Fraction(30)))
    dial = circle(50, 0, 60)
    assert 50 * cos(radians(30)) - 13 == pytest.approx(30.30, abs=0.01)
    assert 13 * cos(radians(30)) + 25 * sin(radians(30)) + 30 > 50
    assert not rocker.overlaps(dial)
    assert rocker.overlaps(circle(49, 0, 60))


def test_what_touches_does_not_overlap() -> None:
    """Side to side, corner to circle (3-4-5), circle to circle; a hair nearer, and they do."""
    hair = Fraction(1, 10**9)
    upright = directed(Fraction(0))
    pairs = (
        (rectangle((0, 0), (20, 20), 0, upright), lambda x: rectangle((x, 0), (20, 9), 0, upright)),
        (rectangle((0, 0), (20, 20), 0, upright), lambda x: circle(x - 7, 14, 10)),
        (circle(0, 0, 20), lambda x: circle(x, 0, 20)),
    )
    for one, other in pairs:
        assert not one.overlaps(other(Fraction(20)))
        assert one.overlaps(other(20 - hair))


# By hand: half the diagonal of 30 by 40 is 25 (3-4-5).
@pytest.mark.parametrize(
    ("hole", "goes_through"),
    [
        (circle(0, 0, 50), True),
        (circle(0, 0, Fraction(499, 10)), False),
        (rectangle((0, 0), (30, 40), 0, directed(Fraction(0))), True),
        (rectangle((0, 0), (40, 30), 0, directed(Fraction(0))), False),
        (rectangle((0, 0), (32, 42), 3, directed(Fraction(0))), True),
        (rectangle((0, 0), (32, 42), 4, directed(Fraction(0))), False),
    ],
)
def test_a_rectangle_goes_through_its_hole_or_not(hole: Shape, goes_through: bool) -> None:
    """In a round hole its diagonal decides; in rounded corners its own: with 1 mm of room the
    corner stands (r - 1) times the root of 2 from the arc's centre, within r up to r = 3.41."""
    body = rectangle((0, 0), (30, 40), 0, directed(Fraction(0)))
    assert covers(hole, body) is goes_through


def test_rims_cover_their_holes() -> None:
    """A round rim over a rectangle: 6 by 8 with corners of 1 reaches root 13 + 1 = 4.606."""
    hole = rectangle((0, 0), (6, 8), 1, directed(Fraction(0)))
    assert covers(circle(0, 0, Fraction(922, 100)), hole)
    assert not covers(circle(0, 0, Fraction(920, 100)), hole)
