"""The meeting point of three posts against known triangles and against a search."""

from __future__ import annotations

from fractions import Fraction
from math import dist

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import minimize

from lugwright.routes.geometry import Place
from lugwright.routes.meeting_point import meeting_point

MEAN = (Fraction(0), Fraction(0))
places = st.tuples(st.integers(-3000, 3000), st.integers(-3000, 3000))


def test_the_meeting_point_of_an_equilateral_triangle_is_its_centre() -> None:
    """Fermat-Torricelli point, any geometry text: equilateral, so the centroid.

    Side 2000 on the x axis: height 1000 * sqrt(3) = 1732 (rounded), centroid at a third of it,
    577.35, so (0, 577).
    """
    assert meeting_point((-1000, 0), (1000, 0), (0, 1732), MEAN) == (0, 577)


def test_the_meeting_point_of_a_tall_isosceles_triangle() -> None:
    """Base 2000: both base corners are seen at 120 degrees from height 1000 / sqrt(3) = 577.35.

    The apex does not matter, however high: the point lies on the axis below it.
    """
    assert meeting_point((-1000, 0), (1000, 0), (0, 5000), MEAN) == (0, 577)


def test_a_wide_triangle_has_none() -> None:
    """An angle of 120 degrees or more, or posts in line or in one place: it is a corner."""
    assert meeting_point((-1000, 0), (1000, 0), (0, 500), MEAN) is None
    assert meeting_point((0, 0), (10, 0), (20, 0), MEAN) is None
    assert meeting_point((0, 0), (0, 0), (20, 0), MEAN) is None


def test_a_half_is_rounded_towards_the_mean() -> None:
    """Base from 0 to 15: the axis lies at 7.5, which goes to the side the other posts are on."""
    left, right = (Fraction(0), Fraction(0)), (Fraction(90), Fraction(0))
    # Seen from the axis at 7.5 / sqrt(3) = 4.33 above the base; twins of an odd base.
    assert meeting_point((0, 0), (15, 0), (7, 10**9), left) == (7, 4)
    assert meeting_point((0, 0), (15, 0), (8, 10**9), right) == (8, 4)


@given(places, places, places)
def test_no_search_finds_a_shorter_star(a: Place, b: Place, c: Place) -> None:
    """scipy's search of the least sum of distances ends at the same sum, within rounding."""
    found = meeting_point(a, b, c, MEAN)

    def star(point: tuple[float, float]) -> float:
        return dist(point, a) + dist(point, b) + dist(point, c)

    if found is None:
        at_corner = min(star(corner) for corner in (a, b, c))
        middle = (sum(p[0] for p in (a, b, c)) / 3, sum(p[1] for p in (a, b, c)) / 3)
        assert at_corner <= star(middle) + 1e-6
        return
    best = minimize(
        lambda p: star((p[0], p[1])), np.array(found, float), method="Nelder-Mead", tol=1e-6
    )
    # Rounding moves each coordinate by 0.05 mm at most; the sum is stationary at its least.
    assert star(found) <= best.fun + 1.0


@given(places, places, places, places)
def test_mirror_and_turn_move_the_point_with_them(a: Place, b: Place, c: Place, d: Place) -> None:
    """The point of a mirrored, turned or shifted triangle is the mirrored, turned, shifted one."""
    posts = (a, b, c, d)
    assume(len(set(posts)) == 4)
    mean = (Fraction(sum(p[0] for p in posts), 4), Fraction(sum(p[1] for p in posts), 4))
    found = meeting_point(a, b, c, mean)
    assume(found is not None)
    assert found is not None
    # A mean just at a half is rounded down on either hand: no side is better there.
    assume(all((2 * m) % 2 != 1 for m in mean))
    x, y = found
    mirrored = meeting_point((-a[0], a[1]), (-b[0], b[1]), (-c[0], c[1]), (-mean[0], mean[1]))
    assert mirrored == (-x, y)
    turned = meeting_point((-a[1], a[0]), (-b[1], b[0]), (-c[1], c[0]), (-mean[1], mean[0]))
    assert turned == (-y, x)
