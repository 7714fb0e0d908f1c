"""``geometry.cuts`` and the bearing of tangents for many lines at once.

The same exact integers, in arrays of 64 bits: coordinates of a panel are below 10^6, so products
of two differences stay below 10^13.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from lugwright.routes.geometry import Outline, Place

Line = tuple[Place, Place]
Whole = NDArray[np.int64]

_CHUNK = 20_000  # lines looked at together, to bound the memory


class Outlines:
    """Outlines as arrays, asked which of them many lines cut through."""

    def __init__(self, outlines: Sequence[Outline]) -> None:
        most = max((len(outline.corners) for outline in outlines), default=0)
        # Shorter outlines repeat their last corner: a side of no length that counts for nothing.
        padded = [[*o.corners, *[o.corners[-1]] * (most - len(o.corners))] for o in outlines]
        corners = np.array(padded, dtype=np.int64).reshape(len(outlines), most, 2)
        self._x, self._y = corners[:, :, 0], corners[:, :, 1]
        self._before_x, self._before_y = np.roll(self._x, 1, axis=1), np.roll(self._y, 1, axis=1)
        self._side_x, self._side_y = self._x - self._before_x, self._y - self._before_y
        self._no_side = (self._side_x == 0) & (self._side_y == 0)
        self._level = self._side_x * self._before_y - self._side_y * self._before_x
        boxes = [(o.box.x0, o.box.y0, o.box.x1, o.box.y1) for o in outlines]
        self._boxes = np.array(boxes, dtype=np.int64).reshape(len(outlines), 4)

    def cut(self, lines: Sequence[Line]) -> list[tuple[int, int]]:
        """Pairs (line, outline), by index, of lines that run through the inside of an outline."""
        found: list[tuple[int, int]] = []
        if not len(self._boxes):
            return found
        for first in range(0, len(lines), _CHUNK):
            ends = np.array(lines[first : first + _CHUNK], dtype=np.int64).reshape(-1, 4)
            line, outline = self._near(ends)
            ends = ends[line]
            across = self._straddles(ends, outline)
            line, outline, ends = line[across], outline[across], ends[across]
            through = ~self._past_a_side(ends, outline)
            pairs = zip(line[through].tolist(), outline[through].tolist(), strict=True)
            found += [(first + number, index) for number, index in pairs]
        return found

    def _near(self, ends: Whole) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Pairs of which the line reaches into the outline's box."""
        x0, y0, x1, y1 = (self._boxes[None, :, column] for column in range(4))
        left = np.minimum(ends[:, 0], ends[:, 2])[:, None]
        right = np.maximum(ends[:, 0], ends[:, 2])[:, None]
        low = np.minimum(ends[:, 1], ends[:, 3])[:, None]
        high = np.maximum(ends[:, 1], ends[:, 3])[:, None]
        line, outline = np.nonzero((right > x0) & (left < x1) & (high > y0) & (low < y1))
        return line, outline

    def _straddles(self, ends: Whole, outline: NDArray[np.intp]) -> NDArray[np.bool_]:
        """Whether the outline has corners on both sides of the line."""
        ax, ay, bx, by = (ends[:, column] for column in range(4))
        dx, dy = bx - ax, by - ay
        level = dx * ay - dy * ax
        sides = dx[:, None] * self._y[outline] - dy[:, None] * self._x[outline]
        across: NDArray[np.bool_] = (sides.min(axis=1) < level) & (level < sides.max(axis=1))
        across |= (dx == 0) & (dy == 0)
        return across

    def _past_a_side(self, ends: Whole, outline: NDArray[np.intp]) -> NDArray[np.bool_]:
        """Whether both ends lie on or outside of one and the same side."""
        ax, ay, bx, by = (ends[:, column, None] for column in range(4))
        ex, ey, level = self._side_x[outline], self._side_y[outline], self._level[outline]
        outside = (ex * ay - ey * ax <= level) & (ex * by - ey * bx <= level)
        past: NDArray[np.bool_] = (outside & ~self._no_side[outline]).any(axis=1)
        return past


Turn = tuple[Place, Place, Place]
"""A corner of an outline between the corners before and after it."""


def bearing_pairs(turns: Sequence[Sequence[Turn]]) -> list[Line]:
    """Lines between corners of two outlines that leave both outlines on one side.

    ``turns`` by outline; a line from a place to itself is none.
    """
    flat = [turn for each in turns for turn in each]
    if not flat:
        return []
    owner = np.array([index for index, each in enumerate(turns) for _ in each])
    places = np.array(flat, dtype=np.int64)
    found: list[Line] = []
    for number, (_, corner, _) in enumerate(flat):
        later = places[number + 1 :][owner[number + 1 :] > owner[number]]
        ahead = later[:, 1] - places[number, 1]
        bears = _one_side(ahead, places[number]) & _one_side(ahead, later)
        bears &= (ahead != 0).any(axis=1)
        found += [(corner, (x, y)) for x, y in later[bears][:, 1].tolist()]
    return found


def _one_side(ahead: Whole, turn: Whole) -> NDArray[np.bool_]:
    """Whether the neighbours of a corner do not lie on different sides of the line ahead."""
    before = turn[..., 0, :] - turn[..., 1, :]
    after = turn[..., 2, :] - turn[..., 1, :]
    one = ahead[:, 0] * before[..., 1] - ahead[:, 1] * before[..., 0]
    other = ahead[:, 0] * after[..., 1] - ahead[:, 1] * after[..., 0]
    apart: NDArray[np.bool_] = ((one < 0) & (other > 0)) | ((other < 0) & (one > 0))
    return ~apart
