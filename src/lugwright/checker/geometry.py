"""Distances in the plane behind the panel, and which tie points are linked.

All in 0.1 mm, back view. Distances from a leg to an outline are floats: they are compared with a
tolerance that is far above their error.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import hypot

from lugwright.base.scale import ceil_hypot
from lugwright.plans.schema import Waypoint
from lugwright.scenario.console import Point, TiePoint

# A round outline may be routed as a polygon whose corners are rounded to 0.1 mm, so a wire may
# come this much nearer than the clearance.
TOLERANCE_DMM = 2
TINY_DMM = 0.001  # a box is never shrunk to nothing


@dataclass(frozen=True)
class Outline:
    """Something that stands up from the panel: a circle, or a rectangle when ``half_x`` > 0.

    ``height_dmm`` above the panel's back; ``clearance_dmm`` is kept round it.
    """

    name: str
    x_dmm: float
    y_dmm: float
    radius_dmm: float
    half_x_dmm: float
    half_y_dmm: float
    height_dmm: int
    clearance_dmm: int

    @cached_property
    def core(self) -> Outline:
        """The same thing, ``TOLERANCE_DMM`` smaller all round (not below a point)."""
        if self.half_x_dmm > 0:
            half_x = max(self.half_x_dmm - TOLERANCE_DMM, TINY_DMM)
            half_y = max(self.half_y_dmm - TOLERANCE_DMM, TINY_DMM)
            return replace(self, half_x_dmm=half_x, half_y_dmm=half_y)
        return replace(self, radius_dmm=max(self.radius_dmm - TOLERANCE_DMM, 0.0))

    def is_far_from(self, a: Point, b: Point) -> bool:
        """Whether the leg a to b lies wholly to one side of the outline, its clearance kept."""
        reach = max(self.radius_dmm, self.half_x_dmm, self.half_y_dmm) + self.clearance_dmm + 1
        return (
            min(a.x_dmm, b.x_dmm) > self.x_dmm + reach
            or max(a.x_dmm, b.x_dmm) < self.x_dmm - reach
            or min(a.y_dmm, b.y_dmm) > self.y_dmm + reach
            or max(a.y_dmm, b.y_dmm) < self.y_dmm - reach
        )

    def distance_dmm(self, a: Point, b: Point) -> float:
        """Least plane distance from the leg a to b to the outline, 0 when it is crossed."""
        ax, ay = a.x_dmm - self.x_dmm, a.y_dmm - self.y_dmm
        bx, by = b.x_dmm - self.x_dmm, b.y_dmm - self.y_dmm
        if self.half_x_dmm > 0:
            return _segment_to_box(ax, ay, bx, by, self.half_x_dmm, self.half_y_dmm)
        return max(0.0, _segment_to_point(ax, ay, bx, by, 0.0, 0.0) - self.radius_dmm)


def _segment_to_point(ax: float, ay: float, bx: float, by: float, px: float, py: float) -> float:
    """Distance from a point to a segment."""
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    along = ((px - ax) * dx + (py - ay) * dy) / square if square else 0.0
    along = min(1.0, max(0.0, along))
    return hypot(ax + along * dx - px, ay + along * dy - py)


def _segment_to_box(
    ax: float, ay: float, bx: float, by: float, half_x: float, half_y: float
) -> float:
    """Distance from a segment to a box round the origin, 0 when they meet."""
    if _crosses_box(ax, ay, bx, by, half_x, half_y):
        return 0.0
    corners = [(x, y) for x in (-half_x, half_x) for y in (-half_y, half_y)]
    near = min(_segment_to_point(ax, ay, bx, by, x, y) for x, y in corners)
    for x, y in ((ax, ay), (bx, by)):
        near = min(near, hypot(max(0.0, abs(x) - half_x), max(0.0, abs(y) - half_y)))
    return near


def _crosses_box(ax: float, ay: float, bx: float, by: float, half_x: float, half_y: float) -> bool:
    """Whether a segment meets a box round the origin (clipping against its two slabs)."""
    first, last = 0.0, 1.0
    for start, step, half in ((ax, bx - ax, half_x), (ay, by - ay, half_y)):
        if step == 0:
            if abs(start) > half:
                return False
            continue
        enter, leave = sorted(((-half - start) / step, (half - start) / step))
        first, last = max(first, enter), min(last, leave)
    return first <= last


def place(corner: Waypoint) -> Point:
    """A waypoint as a point."""
    return Point(corner.x_dmm, corner.y_dmm, corner.z_dmm)


def leg_dmm(a: Point, b: Point) -> int:
    """Length of a straight leg: plane length rounded up, and the difference of heights. Rule R2."""
    return ceil_hypot(b.x_dmm - a.x_dmm, b.y_dmm - a.y_dmm) + abs(b.z_dmm - a.z_dmm)


def path_dmm(path: Sequence[Waypoint]) -> int:
    """Length of a path: the sum of its straight legs, 0.1 mm."""
    return sum(leg_dmm(place(a), place(b)) for a, b in pairwise(path))


def linked(points: Sequence[TiePoint]) -> dict[str, set[str]]:
    """Which tie points lead on to which; a link goes both ways."""
    links: dict[str, set[str]] = {tie.name: set() for tie in points}
    for tie in points:
        for other in tie.to:
            links[tie.name].add(other)
            links.setdefault(other, set()).add(tie.name)
    return links
