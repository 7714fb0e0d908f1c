"""Plane geometry in whole 0.1 mm: outlines round obstacles, and what cuts through them.

Everything is exact integer arithmetic, and every outline is the same after a quarter turn or in
a mirror. So moving the panel by whole 0.1 mm, turning it by quarters or mirroring it changes no
answer, and a wire that only touches an outline is told from one that cuts through it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, cos, pi, sin, tan

Place = tuple[int, int]

# Corners, in the first eighth, of the regular 16-gon circumscribed about a circle of radius 1
# whose sides touch the circle at 0, 22.5, 45 ... degrees: at 11.25 and 33.75 degrees, at radius
# 1 / cos(pi / 16) (elementary geometry).
_FIRST = (1.0, tan(pi / 16))
_SECOND = (cos(3 * pi / 16) / cos(pi / 16), sin(3 * pi / 16) / cos(pi / 16))


@dataclass(frozen=True)
class Box:
    """An upright rectangle, 0.1 mm; it may be a single point."""

    x0: int
    y0: int
    x1: int
    y1: int


@dataclass(frozen=True)
class Outline:
    """A convex outline: its corners counter-clockwise, none on a straight side, and its box."""

    corners: tuple[Place, ...]
    box: Box


def rounded_outline(box: Box, radius_dmm: int) -> Outline | None:
    """Everything within ``radius_dmm`` of ``box``, its round parts as parts of a 16-gon.

    The 16-gon goes round the circle and each of its corners is rounded away from the centre to
    0.1 mm, so nothing of the true shape is left out. None when the shape has no inside.
    """
    r = radius_dmm
    first, second = (
        (ceil(r * x), ceil(r * y)) for x, y in (_FIRST, _SECOND)
    )  # exact for r = 0; otherwise irrational, so no value falls on a whole number
    eighth = ((r, first[1]), second)
    quarter = (*eighth, *((y, x) for x, y in eighth))
    points = {
        (box.x1 + dx if east else box.x0 - dx, box.y1 + dy if north else box.y0 - dy)
        for dx, dy in quarter
        for east in (True, False)
        for north in (True, False)
    }
    corners = convex_hull(points)
    if len(corners) < 3:
        return None
    return Outline(corners, Box(box.x0 - r, box.y0 - r, box.x1 + r, box.y1 + r))


def convex_hull(points: Iterable[Place]) -> tuple[Place, ...]:
    """Corners of the convex hull, counter-clockwise from the least (x, y); none on a side.

    Andrew's monotone chain (A. M. Andrew, Information Processing Letters 9, 1979), exact.
    """
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    lower = _chain(ordered)
    upper = _chain(reversed(ordered))
    return (*lower[:-1], *upper[:-1])


def _chain(points: Iterable[Place]) -> list[Place]:
    chain: list[Place] = []
    for point in points:
        while len(chain) > 1 and cross(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def cross(origin: Place, a: Place, b: Place) -> int:
    """Twice the signed area of the triangle: > 0 when ``b`` lies left of ``origin`` → ``a``."""
    return (a[0] - origin[0]) * (b[1] - origin[1]) - (a[1] - origin[1]) * (b[0] - origin[0])


def is_inside(place: Place, outline: Outline) -> bool:
    """Whether a place lies strictly inside an outline (not on it)."""
    box = outline.box
    if not (box.x0 < place[0] < box.x1 and box.y0 < place[1] < box.y1):
        return False
    before = outline.corners[-1]
    for corner in outline.corners:
        if cross(before, corner, place) <= 0:
            return False
        before = corner
    return True


def cuts(a: Place, b: Place, outline: Outline) -> bool:
    """Whether the straight line from ``a`` to ``b`` has any point strictly inside the outline.

    Separating lines of two convex shapes (any text on computational geometry): the segment keeps
    clear when it lies on or outside of one side, or the outline lies on one side of its line.
    """
    (ax, ay), (bx, by) = a, b
    box = outline.box
    if (
        (ax <= box.x0 and bx <= box.x0)
        or (ax >= box.x1 and bx >= box.x1)
        or (ay <= box.y0 and by <= box.y0)
        or (ay >= box.y1 and by >= box.y1)
    ):
        return False
    if a == b:
        return is_inside(a, outline)
    # The line's own side of a corner: dx * y - dy * x against the same for a point of the line.
    dx, dy = bx - ax, by - ay
    level = dx * ay - dy * ax
    low_y, high_y = (box.y0, box.y1) if dx > 0 else (box.y1, box.y0)
    low_x, high_x = (box.x1, box.x0) if dy > 0 else (box.x0, box.x1)
    if dx * low_y - dy * low_x >= level or dx * high_y - dy * high_x <= level:
        return False
    sides = [dx * y - dy * x for x, y in outline.corners]
    return min(sides) < level < max(sides) and not _is_past_a_side(a, b, outline)


def _is_past_a_side(a: Place, b: Place, outline: Outline) -> bool:
    """Whether both places lie on or outside of one and the same side of the outline."""
    (ax, ay), (bx, by) = a, b
    x0, y0 = outline.corners[-1]
    for x1, y1 in outline.corners:
        ex, ey = x1 - x0, y1 - y0
        level = ex * y0 - ey * x0
        if ex * ay - ey * ax <= level and ex * by - ey * bx <= level:
            return True
        x0, y0 = x1, y1
    return False
