"""``geometry.cuts`` and ``is_inside`` for many lines and places at once, and tangents.

The same exact integers, in arrays of 64 bits: coordinates of a panel are below 10^6, so products
of two differences stay below 10^13.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from lugwright.routes.arrays import Flags, Indices, Whole
from lugwright.routes.geometry import Outline

Spared = tuple[Flags, Indices]
"""Rows of marks by outline, and for every line the numbers of the rows that hold for it."""

_PAIRS_AT_ONCE = 60_000


class Outlines:
    """Outlines as arrays: ``corners`` of all of them, one after the other.

    Of each corner ``owner`` is the outline it belongs to and ``following`` the next corner of
    that outline, both by number. A line is a row of four numbers, x and y of either end.
    """

    def __init__(self, outlines: Sequence[Outline]) -> None:
        most = max((len(outline.corners) for outline in outlines), default=1)
        # Shorter outlines repeat their last corner: a side of no length that counts for nothing.
        padded = [[*o.corners, *[o.corners[-1]] * (most - len(o.corners))] for o in outlines]
        corners = np.array(padded, dtype=np.int64).reshape(len(outlines), most, 2)
        self._x, self._y = corners[:, :, 0], corners[:, :, 1]
        before_x, before_y = np.roll(self._x, 1, axis=1), np.roll(self._y, 1, axis=1)
        self._side_x, self._side_y = self._x - before_x, self._y - before_y
        self._no_side = (self._side_x == 0) & (self._side_y == 0)
        self._level = self._side_x * before_y - self._side_y * before_x
        boxes = [(o.box.x0, o.box.y0, o.box.x1, o.box.y1) for o in outlines]
        self._boxes = np.array(boxes, dtype=np.int64).reshape(len(outlines), 4)
        width, height = (self._boxes[:, 2:] - self._boxes[:, :2]).T
        self._largest_first = np.argsort(-width * height, kind="stable")
        number = np.array([len(outline.corners) for outline in outlines], dtype=np.intp)
        self.owner = np.repeat(np.arange(len(outlines)), number)
        self.corners = corners[np.arange(most) < number[:, None]]
        last = np.cumsum(number) - 1
        self.following = np.arange(len(self.corners)) + 1
        self.following[last] -= number

    def is_cut(self, lines: Whole, spared: Spared | None = None) -> Flags:
        """Which lines run through the inside of an outline, other than those they spare.

        Large outlines are looked at first, and lines that are cut already no more.
        """
        is_cut = np.zeros(len(lines), dtype=np.bool_)
        left, done = np.arange(len(lines)), 0
        while len(left) and done < len(self._largest_first):
            some = self._largest_first[done : done + max(1, _PAIRS_AT_ONCE // len(left))]
            done += len(some)
            near = self._near(lines[left], some)
            if spared is not None:
                marks, rows = spared
                near &= ~marks[:, some][rows[left]].any(axis=1)
            line, column = np.nonzero(near)
            line, outline = left[line], some[column]
            for test in (self._box_straddles, self._straddles, self._on_no_side):
                through = test(lines[line], outline)
                line, outline = line[through], outline[through]
            is_cut[line] = True
            left = left[~is_cut[left]]
        return is_cut

    def inside(self, places: Whole) -> Flags:
        """Which places (rows) lie strictly inside which outlines (columns)."""
        x, y = places[:, 0, None], places[:, 1, None]
        x0, y0, x1, y1 = self._boxes.T
        within: Flags = (x0 < x) & (x < x1) & (y0 < y) & (y < y1)
        place, outline = np.nonzero(within)
        side_x, side_y = self._side_x[outline], self._side_y[outline]
        left = side_x * y[place] - side_y * x[place] > self._level[outline]
        within[place, outline] = (left | self._no_side[outline]).all(axis=1)
        return within

    def bearing(self, places: Whole) -> Flags:
        """On which corners (columns) a taut wire from a place (row) can bear.

        At such a corner the outline lies wholly on one side of the line from the place: of the
        outline's two sides there, one has the place to its left and the other to its right.
        """
        found = np.empty((len(places), len(self.corners)), dtype=np.bool_)
        next_one = self.following
        side_x, side_y = (self.corners[next_one] - self.corners).T
        level = side_x * self.corners[:, 1] - side_y * self.corners[:, 0]
        at_once = _at_once(len(self.corners))
        for first in range(0, len(places), at_once):
            some = places[first : first + at_once]
            turn = side_x * some[:, 1, None] - side_y * some[:, 0, None] - level
            left, right = turn > 0, turn < 0
            one_side = (left & left[:, next_one]) | (right & right[:, next_one])
            found[first : first + at_once, next_one] = ~one_side
        return found

    def _near(self, lines: Whole, some: Indices) -> Flags:
        """Which lines (rows) reach into the boxes of some of the outlines (columns)."""
        x0, y0, x1, y1 = self._boxes[some].T
        left = np.minimum(lines[:, 0], lines[:, 2])[:, None]
        right = np.maximum(lines[:, 0], lines[:, 2])[:, None]
        low = np.minimum(lines[:, 1], lines[:, 3])[:, None]
        high = np.maximum(lines[:, 1], lines[:, 3])[:, None]
        near: Flags = (right > x0) & (left < x1) & (high > y0) & (low < y1)
        return near

    def _box_straddles(self, lines: Whole, outline: Indices) -> Flags:
        """Whether the outline's box has corners on both sides of the line: quick, leaves few."""
        x0, y0, x1, y1 = self._boxes[outline].T
        dx, dy, level = _direction(lines)
        across, up = dx * (y0 + y1), dy * (x0 + x1)
        span = np.abs(dx) * (y1 - y0) + np.abs(dy) * (x1 - x0)
        straddles: Flags = np.abs(across - up - 2 * level) < span
        straddles |= (dx == 0) & (dy == 0)
        return straddles

    def _straddles(self, lines: Whole, outline: Indices) -> Flags:
        """Whether the outline has corners on both sides of the line."""
        dx, dy, level = _direction(lines)
        sides = dx[:, None] * self._y[outline] - dy[:, None] * self._x[outline]
        straddles: Flags = (sides.min(axis=1) < level) & (level < sides.max(axis=1))
        straddles |= (dx == 0) & (dy == 0)
        return straddles

    def _on_no_side(self, lines: Whole, outline: Indices) -> Flags:
        """Whether no side of the outline has both ends on or outside of it."""
        ax, ay, bx, by = lines.T[:, :, None]
        ex, ey, level = self._side_x[outline], self._side_y[outline], self._level[outline]
        outside = (ex * ay - ey * ax <= level) & (ex * by - ey * bx <= level)
        past: Flags = (outside & ~self._no_side[outline]).any(axis=1)
        return ~past


def _direction(lines: Whole) -> tuple[Whole, Whole, Whole]:
    """Direction of each line, and the level dx · y - dy · x of its own points."""
    ax, ay, bx, by = lines.T
    dx, dy = bx - ax, by - ay
    return dx, dy, dx * ay - dy * ax


def _at_once(columns: int) -> int:
    """How many rows of that many columns are looked at together, to bound the memory."""
    return max(1, _PAIRS_AT_ONCE // max(1, columns))
