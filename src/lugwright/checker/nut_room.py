"""Room round a stud for its nut driver, and what a wire that begins near the stud keeps of it.

Rule R5a, in whole 0.1 mm and exact: a wire that only touches a circle is told from one that cuts
it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from lugwright.checker.geometry import Outline
from lugwright.scenario.console import Point


def nut_corner_dmm(across_flats_um: int) -> int:
    """How far the corners of a nut are from its axis, 0.1 mm, rounded up.

    A hexagon of width s across flats turns in a circle of radius s / sqrt(3) (elementary
    geometry): the least whole radius r with 3 r² at least s².

    >>> nut_corner_dmm(9525), nut_corner_dmm(7000)
    (55, 41)
    """
    radius = across_flats_um // 174  # below s / sqrt(3), which is s / 173.2... in 0.1 mm
    while 3 * (100 * radius) ** 2 < across_flats_um**2:
        radius += 1
    return radius


@dataclass(frozen=True)
class NutRoom(Outline):
    """A stud's driver circle: ``radius_dmm`` over nut and driver, ``corner_dmm`` over the nut."""

    corner_dmm: int

    @property
    def axis(self) -> Outline:
        """The stud as a bare line."""
        return replace(self, radius_dmm=0)

    @property
    def whole_dmm(self) -> int:
        """How far a wire that goes round stays from the axis."""
        return int(self.radius_dmm) + self.clearance_dmm

    def holds(self, place: Point) -> bool:
        """Whether a place lies inside the driver circle."""
        return self._square(place) < int(self.radius_dmm) ** 2

    def is_nearer(self, a: Point, b: Point, square: int) -> bool:
        """Whether the leg a to b comes nearer the axis than the root of ``square``."""
        ax, ay = a.x_dmm - int(self.x_dmm), a.y_dmm - int(self.y_dmm)
        dx, dy = b.x_dmm - a.x_dmm, b.y_dmm - a.y_dmm
        along, long = -(ax * dx + ay * dy), dx * dx + dy * dy
        if 0 < along < long:  # the leg passes the axis: by the area it spans with it
            return (ax * dy - ay * dx) ** 2 < square * long
        return min(self._square(a), self._square(b)) < square

    def is_met_leaving(self, a: Point, b: Point, ends: Mapping[Point, bool]) -> bool:
        """Whether a leg comes nearer than it may that begins or ends at a joint near the stud.

        It keeps out of the driver circle; from a joint inside that circle it comes no nearer the
        axis than the joint itself is; and where the joint lies inside the driver circles of two
        studs (``ends`` says so), it keeps clear of the nut alone.
        """
        square = int(self.radius_dmm) ** 2
        for end, is_crowded in ends.items():
            widest = self.corner_dmm if is_crowded and self.holds(end) else int(self.radius_dmm)
            square = min(square, widest**2, self._square(end))
        return self.is_nearer(a, b, square)

    def _square(self, place: Point) -> int:
        return (place.x_dmm - int(self.x_dmm)) ** 2 + (place.y_dmm - int(self.y_dmm)) ** 2
