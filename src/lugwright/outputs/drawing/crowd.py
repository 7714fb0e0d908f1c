"""What already stands on the sheet: boxes nobody may cover, lines better not covered.

Kept in square cells, so that asking about a place costs the same on a small and a large plate.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import floor, hypot

from lugwright.outputs.drawing.frame import Box, Point

_COARSE = 2  # cells of lines to a room of boxes: there are few boxes, and labels are wide
Segment = tuple[Point, Point, str]  # from, to, whose


class Crowd:
    """Boxes and lines by cell; ``cell_mm`` about the size of a label."""

    def __init__(self, cell_mm: float) -> None:
        self._cell = cell_mm
        self._room = _COARSE * cell_mm
        self._taken: dict[tuple[int, int], list[Box]] = {}  # by room of several cells
        # by cell; as keys, so that those of several cells are put together each once
        self._boxes: dict[tuple[int, int], dict[Box, None]] = {}
        self._segments: dict[tuple[int, int], dict[Segment, None]] = {}

    def add_box(self, box: Box) -> None:
        """A place that is taken."""
        for cell in self._cells(box):
            self._boxes.setdefault(cell, {})[box] = None
        for room in _squares(box, self._room):
            self._taken.setdefault(room, []).append(box)

    def add_line(self, points: Sequence[Point], owner: str = "") -> None:
        """A line that somebody owns; labels of the same owner may stand on it."""
        for a, b in pairwise(points):
            for cell in self._cells_of(a, b):
                self._segments.setdefault(cell, {})[a, b, owner] = None

    def is_taken(self, box: Box) -> bool:
        """Whether the box would cover another."""
        x0, y0, x1, y1 = box
        size = self._room
        columns = range(floor(x0 / size), floor(x1 / size) + 1)
        for row in range(floor(y0 / size), floor(y1 / size) + 1):
            for column in columns:
                for left, upper, right, lower in self._taken.get((column, row), ()):
                    if x0 < right and left < x1 and y0 < lower and upper < y1:
                        return True
        return False

    def covered_mm(self, box: Box, owner: str) -> float:
        """Length of foreign lines under the box, mm; a crossing counts as at least one side."""
        x0, y0, x1, y1 = box
        total = 0.0
        for a, b, whose in self._lines_in(self._cells(box)):
            (ax, ay), (bx, by) = a, b
            if (ax < x0 and bx < x0) or (ax > x1 and bx > x1):
                continue  # most lines of a cell are beside the box
            if (ay < y0 and by < y0) or (ay > y1 and by > y1):
                continue
            if not owner or whose != owner:
                total += _inside_mm(box, a, b)
        return total

    def blocks(self, a: Point, b: Point) -> bool:
        """Whether a straight line from a to b runs under a box."""
        left, right = sorted((a[0], b[0]))
        upper, lower = sorted((a[1], b[1]))
        found = dict[Box, None]()
        for cell in self._cells_of(a, b):
            found.update(self._boxes.get(cell, ()))
        for box in found:
            x0, y0, x1, y1 = box
            if right < x0 or left > x1 or lower < y0 or upper > y1:
                continue
            if _inside_mm(box, a, b) > 0:
                return True
        return False

    def crossings(self, a: Point, b: Point, owner: str) -> int:
        """How many foreign lines a straight line from a to b crosses."""
        return sum(
            _cross(a, b, c, d)
            for c, d, whose in self._lines_in(self._cells_of(a, b))
            if not owner or whose != owner
        )

    def _lines_in(self, cells: Iterable[tuple[int, int]]) -> Iterable[Segment]:
        """The lines of some cells, each once and in one order: lengths are added up from them."""
        found = dict[Segment, None]()
        for cell in cells:
            found.update(self._segments.get(cell, ()))
        return found

    def _cells(self, box: Box) -> list[tuple[int, int]]:
        return _squares(box, self._cell)

    def _cells_of(self, a: Point, b: Point) -> Iterable[tuple[int, int]]:
        """The cells a straight line goes through, and a few beside it."""
        size = self._cell
        (ax, ay), (bx, by) = a, b
        first = floor(ax / size), floor(ay / size)
        if first == (floor(bx / size), floor(by / size)):
            return (first,)
        dx, dy = bx - ax, by - ay
        steps = max(1, floor(max(abs(dx), abs(dy)) / size * 2) + 1)
        found = dict[tuple[int, int], None]()
        for step in range(steps + 1):
            share = step / steps
            found[floor((ax + dx * share) / size), floor((ay + dy * share) / size)] = None
        return found


def _squares(box: Box, size: float) -> list[tuple[int, int]]:
    """The squares of a size that a box reaches into."""
    x0, y0, x1, y1 = box
    columns = range(floor(x0 / size), floor(x1 / size) + 1)
    return [(x, y) for y in range(floor(y0 / size), floor(y1 / size) + 1) for x in columns]


def _inside_mm(box: Box, a: Point, b: Point) -> float:
    """How much of a straight line lies inside a box (Liang-Barsky clipping), mm."""
    x0, y0, x1, y1 = box
    (ax, ay), (bx, by) = a, b
    dx, dy = bx - ax, by - ay
    low, high = 0.0, 1.0
    for step, room0, room1 in ((dx, x0 - ax, x1 - ax), (dy, y0 - ay, y1 - ay)):
        if step == 0:
            if room0 > 0 or room1 < 0:
                return 0.0
            continue
        first, last = room0 / step, room1 / step
        if first > last:
            first, last = last, first
        low, high = max(low, first), min(high, last)
        if low >= high:
            return 0.0
    return (high - low) * hypot(dx, dy)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two straight lines cross."""
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(p: Point, q: Point, r: Point) -> float:
    """On which side of the way from p to q the place r lies: above 0, below 0, or 0 on it."""
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
