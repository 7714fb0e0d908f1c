"""What already stands on the sheet: boxes nobody may cover, lines better not covered.

Kept in square cells, so that asking about a place costs the same on a small and a large plate.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import floor, hypot

from lugwright.outputs.drawing.frame import Box, Point

Segment = tuple[Point, Point, str]  # from, to, whose


class Crowd:
    """Boxes and lines by cell; ``cell_mm`` about the size of a label."""

    def __init__(self, cell_mm: float) -> None:
        self._cell = cell_mm
        self._boxes: dict[tuple[int, int], list[Box]] = {}
        self._segments: dict[tuple[int, int], list[Segment]] = {}

    def add_box(self, box: Box) -> None:
        """A place that is taken."""
        for cell in self._cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def add_line(self, points: Sequence[Point], owner: str = "") -> None:
        """A line that somebody owns; labels of the same owner may stand on it."""
        for a, b in pairwise(points):
            for cell in self._cells_of(a, b):
                self._segments.setdefault(cell, []).append((a, b, owner))

    def is_taken(self, box: Box) -> bool:
        """Whether the box would cover another."""
        return any(
            box.meets(other) for cell in self._cells(box) for other in self._boxes.get(cell, ())
        )

    def covered_mm(self, box: Box, owner: str) -> float:
        """Length of foreign lines under the box, mm; a crossing counts as at least one side."""
        found = set[Segment]()
        for cell in self._cells(box):
            found.update(self._segments.get(cell, ()))
        total = 0.0
        for a, b, whose in found:
            if not owner or whose != owner:
                total += _inside_mm(box, a, b)
        return total

    def blocks(self, a: Point, b: Point) -> bool:
        """Whether a straight line from a to b runs under a box."""
        return any(
            _inside_mm(box, a, b) > 0
            for cell in self._cells_of(a, b)
            for box in self._boxes.get(cell, ())
        )

    def crossings(self, a: Point, b: Point, owner: str) -> int:
        """How many foreign lines a straight line from a to b crosses."""
        found = set[Segment]()
        for cell in self._cells_of(a, b):
            found.update(self._segments.get(cell, ()))
        return sum(_cross(a, b, c, d) for c, d, whose in found if not owner or whose != owner)

    def _cells(self, box: Box) -> Iterator[tuple[int, int]]:
        x0, x1 = floor(box.x0 / self._cell), floor(box.x1 / self._cell)
        for y in range(floor(box.y0 / self._cell), floor(box.y1 / self._cell) + 1):
            for x in range(x0, x1 + 1):
                yield x, y

    def _cells_of(self, a: Point, b: Point) -> Iterable[tuple[int, int]]:
        """The cells a straight line goes through, and a few beside it."""
        steps = max(1, floor(max(abs(b[0] - a[0]), abs(b[1] - a[1])) / self._cell * 2) + 1)
        found = dict[tuple[int, int], None]()
        for step in range(steps + 1):
            share = step / steps
            x, y = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
            found[floor(x / self._cell), floor(y / self._cell)] = None
        return found


def _inside_mm(box: Box, a: Point, b: Point) -> float:
    """How much of a straight line lies inside a box (Liang-Barsky clipping), mm."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    low, high = 0.0, 1.0
    for step, room0, room1 in (
        (dx, box.x0 - a[0], box.x1 - a[0]),
        (dy, box.y0 - a[1], box.y1 - a[1]),
    ):
        if step == 0:
            if room0 > 0 or room1 < 0:
                return 0.0
            continue
        first, last = sorted((room0 / step, room1 / step))
        low, high = max(low, first), min(high, last)
        if low >= high:
            return 0.0
    return (high - low) * hypot(dx, dy)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two straight lines cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
