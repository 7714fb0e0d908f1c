"""Room for a nut driver: how far a nut reaches, and what comes nearer a stud than it may.

A nut driver's socket turns about the nut, so what it needs is a circle: over the nut's corners
(width across flats s over the square root of three from the axis, elementary geometry; s is the
stock's), and then the socket's wall, the limit ``nut_driver_room``. Rule R5a.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isqrt

import numpy as np

from lugwright.base.scale import ceil_div
from lugwright.routes.arrays import Flags, Whole
from lugwright.routes.geometry import Place
from lugwright.stock.schema import Stock

_FAR_ACROSS = 1 << 30  # a line whose cross product is larger passes every circle far off


def nut_radii_dmm(stock: Stock) -> dict[str, int]:
    """By thread: radius of the circle over its nut's corners, 0.1 mm, rounded up."""
    return {row.thread: corner_radius_dmm(row.across_flats_um) for row in stock.hardware}


def corner_radius_dmm(across_flats_um: int) -> int:
    """Radius over the corners of a hexagon, 0.1 mm, rounded up.

    >>> corner_radius_dmm(9525)  # 9.525 mm / sqrt(3) = 5.4993 mm
    55
    """
    # isqrt rounds down and the quotient up: s / sqrt(3) = sqrt(s^2 / 3), never a whole number
    return ceil_div(isqrt(across_flats_um * across_flats_um // 3) + 1, 100)


@dataclass(frozen=True)
class Circle:
    """A circle that a line keeps out of: its centre, and the square of its radius (0.1 mm)."""

    centre: Place
    square: int

    def leaving_out(self, place: Place) -> Circle:
        """The same circle, no larger than leaves a place out."""
        return replace(self, square=min(self.square, self._square_to(place)))

    def holds(self, place: Place) -> bool:
        """Whether a place lies inside."""
        return self._square_to(place) < self.square

    def is_cut(self, a: Place, b: Place) -> bool:
        """Whether the straight line from ``a`` to ``b`` comes inside; exact."""
        line = np.array([[*a, *b]], dtype=np.int64)
        circle = np.array([[*self.centre, self.square]], dtype=np.int64)
        return bool(come_inside(line, circle)[0])

    def _square_to(self, place: Place) -> int:
        return (place[0] - self.centre[0]) ** 2 + (place[1] - self.centre[1]) ** 2


def come_inside(lines: Whole, circles: Whole) -> Flags:
    """Which lines (rows x, y, x, y) come inside the circle (x, y, radius squared) of their row.

    Exact: the foot of the perpendicular from the centre lies between the ends, and the
    perpendicular is shorter than the radius, told by whole squares; or an end lies inside.
    """
    ax, ay = lines[:, 0] - circles[:, 0], lines[:, 1] - circles[:, 1]
    bx, by = lines[:, 2] - circles[:, 0], lines[:, 3] - circles[:, 1]
    dx, dy, square = bx - ax, by - ay, circles[:, 2]
    along, long = -(ax * dx + ay * dy), dx * dx + dy * dy
    across = np.minimum(np.abs(ax * by - ay * bx), _FAR_ACROSS)
    inside: Flags = (ax * ax + ay * ay < square) | (bx * bx + by * by < square)
    inside |= (along > 0) & (along < long) & (across * across < square * long)
    return inside
