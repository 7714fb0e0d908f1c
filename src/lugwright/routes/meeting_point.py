"""The meeting point of three posts: where three jumpers to a common splice are shortest.

It is the Fermat-Torricelli point of the triangle (any geometry text; X(13), the first isogonic
center, in C. Kimberling's *Encyclopedia of Triangle Centers*): every side is seen from it at 120
degrees. In a triangle with an angle of 120 degrees or more it is that corner, and a splice there
joins nothing that the post does not join already.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, isclose, sqrt

from lugwright.routes.geometry import Place, cross

Mean = tuple[Fraction, Fraction]


def meeting_point(a: Place, b: Place, c: Place, mean: Mean) -> Place | None:
    """The Fermat-Torricelli point of a triangle rounded to 0.1 mm; None where it is a corner.

    A coordinate just half way between two tenths is rounded towards ``mean`` (the mean place of
    the circuit's posts), so that a mirrored or turned panel has the mirrored or turned point.
    """
    area2 = abs(cross(a, b, c))
    if any(_is_wide(*triple) for triple in ((a, b, c), (b, c, a), (c, a, b))):
        return None
    # Barycentric weight of a corner A: a / sin(A + 60 degrees), which in Conway's notation, with
    # S twice the area and S_A the scalar product of the two sides at A, is 1 / (S + sqrt(3) S_A).
    weights = [
        1 / (area2 + sqrt(3) * _dot(*triple)) for triple in ((a, b, c), (b, c, a), (c, a, b))
    ]
    total = sum(weights)
    x, y = (
        sum(weight * corner[axis] for weight, corner in zip(weights, (a, b, c), strict=True))
        / total
        for axis in (0, 1)
    )
    return (_rounded(x, mean[0]), _rounded(y, mean[1]))


def _dot(at: Place, b: Place, c: Place) -> int:
    return (b[0] - at[0]) * (c[0] - at[0]) + (b[1] - at[1]) * (c[1] - at[1])


def _is_wide(at: Place, b: Place, c: Place) -> bool:
    """Whether the angle at ``at`` is 120 degrees or more (or a side has no length); exact.

    cos 120 degrees = -1/2: the scalar product is negative and its square at least a quarter of
    the product of the squared sides.
    """
    sides = _dot(at, b, b) * _dot(at, c, c)
    dot = _dot(at, b, c)
    return sides == 0 or (dot < 0 and 4 * dot * dot >= sides)


def _rounded(value: float, towards: Fraction) -> int:
    """To the nearest whole number; a half goes towards ``towards``, and down where it is that."""
    below = floor(value)
    # A half known only to within floating-point error is still a half.
    if isclose(value - below, 0.5, abs_tol=1e-6):
        return below if towards <= below + Fraction(1, 2) else below + 1
    return floor(value + 0.5)
