"""Points, boxes and the frame: from 0.1 mm seen from the back to millimetres on paper.

Drawings have x to the right and y **down** from the plate's upper edge; the panel's own y goes
up. The flip happens here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import NamedTuple

from lugwright.base.scale import DMM_PER_MM
from lugwright.plans.panel import Panel

Point = tuple[float, float]

# What is left for the plate on A4 landscape (ISO 216, 297 × 210 mm) inside margins that every
# printer can keep, with room for labels outside the plate and for words above and below it.
_PAPER_WIDE_MM, _PAPER_HIGH_MM = 260.0, 150.0


@dataclass(frozen=True)
class Frame:
    """A plate on paper. ``unit_mm`` is how many drawing mm are one mm on A4 landscape.

    Text, strokes and gaps are measured in units, so that they come out the same on paper
    whatever the size of the plate.
    """

    width_mm: float
    height_mm: float
    unit_mm: float

    def at(self, x_dmm: float, y_dmm: float) -> Point:
        """A place of the panel, 0.1 mm seen from the back, as it is drawn, mm."""
        return (x_dmm / DMM_PER_MM, self.height_mm - y_dmm / DMM_PER_MM)


def frame_of(panel: Panel) -> Frame:
    """The frame of a plate; a small plate is not blown up above twice its size."""
    wide, high = panel.width_dmm / DMM_PER_MM, panel.height_dmm / DMM_PER_MM
    return Frame(wide, high, max(wide / _PAPER_WIDE_MM, high / _PAPER_HIGH_MM, 0.5))


class Box(NamedTuple):
    """A rectangle in drawing mm, y down."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def wide(self) -> float:
        """Width, mm."""
        return self.x1 - self.x0

    @property
    def high(self) -> float:
        """Height, mm."""
        return self.y1 - self.y0

    @property
    def centre(self) -> Point:
        """Its middle."""
        return ((self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2)

    def meets(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def touches(self, other: Box) -> bool:
        """Whether the two share anything, an edge or a corner included."""
        return (
            self.x0 <= other.x1
            and other.x0 <= self.x1
            and self.y0 <= other.y1
            and other.y0 <= self.y1
        )

    def holds(self, point: Point) -> bool:
        """Whether the point lies in it or on its edge."""
        return self.x0 <= point[0] <= self.x1 and self.y0 <= point[1] <= self.y1

    def grown(self, by_mm: float) -> Box:
        """The same, larger on every side."""
        return Box(self.x0 - by_mm, self.y0 - by_mm, self.x1 + by_mm, self.y1 + by_mm)

    def joined(self, other: Box) -> Box:
        """The smallest box around both."""
        return Box(
            min(self.x0, other.x0),
            min(self.y0, other.y0),
            max(self.x1, other.x1),
            max(self.y1, other.y1),
        )


def box_around(points: Sequence[Point]) -> Box:
    """The smallest box around points; ValueError when there are none."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def box_at(centre: Point, wide: float, high: float) -> Box:
    """A box by its middle and size, mm."""
    x, y = centre
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def distance(a: Point, b: Point) -> float:
    """How far two points are apart, mm."""
    return hypot(b[0] - a[0], b[1] - a[1])


def line_length(points: Sequence[Point]) -> float:
    """Length of a line of corners, mm."""
    return sum(distance(a, b) for a, b in pairwise(points))


def point_along(points: Sequence[Point], way_mm: float) -> Point:
    """The place so far along a line; its end when the line is shorter."""
    for a, b in pairwise(points):
        leg = distance(a, b)
        if leg > 0 and way_mm <= leg:
            share = way_mm / leg
            return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        way_mm -= leg
    return points[-1]


def cut_line(points: Sequence[Point], way_mm: float) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """A line cut in two, so far from its beginning; both parts hold the place of the cut."""
    place, gone = point_along(points, way_mm), 0.0
    for index, (a, b) in enumerate(pairwise(points), 1):
        gone += distance(a, b)
        if gone >= way_mm:
            return (*points[:index], place), (place, *points[index:])
    return tuple(points), (points[-1], points[-1])
