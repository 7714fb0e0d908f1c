"""Bounds from prices on the rows of a relaxation, exact whatever the prices are.

Any prices give a bound (weak duality): Σ price · side of the row + the least that is left over
by every column within its bounds. The prices are rounded to whole 2^-shift, and from there on
all is whole numbers. Where they would outgrow 64 bits, nothing is said.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from lugwright.model.bounds.directed_cuts import Cuts
from lugwright.model.bounds.rows import Real, Row, Rows, Whole

_ROOM = 1 << 60  # a quarter of what 64 bits hold


class WeakDuality:
    """What prices on rows and cuts are worth."""

    def __init__(self, rows: Rows, cuts: Cuts | None = None) -> None:
        """``cuts`` may grow; prices come for all rows and then for all cuts."""
        self._rows, self._cuts = rows, cuts
        most = int(np.abs(rows.cost).max(initial=0))
        self._shift = max(0, min(24, 40 - most.bit_length()))
        self._step = int(np.gcd.reduce(rows.cost)) if len(rows.cost) else 0

    @property
    def beyond(self) -> int:
        """More than any answer can cost."""
        rows = self._rows
        most = np.maximum(rows.cost * rows.low, rows.cost * rows.high)
        return int(most.sum()) + rows.offset + 1

    def bound(self, prices: Real, high: Whole) -> tuple[int, Whole] | None:
        """What no answer within ``high`` can cost less than; and the same for each column in use.

        A column that starts at 0 and is at least 1 costs what is left over for it on top. None
        where the numbers outgrow 64 bits.
        """
        found = self.scaled(prices, high, self._rows.cost)
        if found is None:
            return None
        total, left = found
        return self._up(total), self._up(total + np.maximum(left, 0))

    def scaled(self, prices: Real, high: Whole, cost: Whole) -> tuple[int, Whole] | None:
        """The bound, scaled, and what is left over for every column."""
        scale = 1 << self._shift
        whole = np.rint(prices * scale)
        if not np.isfinite(whole).all() or np.abs(whole).max(initial=0) > _ROOM:
            return None
        count = len(self._rows.rows)
        sides = [_side(r, p) for r, p in zip(self._rows.rows, whole[:count].tolist(), strict=True)]
        price = np.array([value for value, _ in sides], dtype=np.int64)
        on_cuts = np.maximum(whole[count:], 0).astype(np.int64)
        row_of, columns, numbers = self._rows.entries()
        if self._largest(price, on_cuts, cost, scale) > _ROOM:
            return None
        left = cost * scale
        np.subtract.at(left, columns, price[row_of] * numbers)
        total = sum(value * side for value, side in sides)
        if self._cuts is not None:
            left -= self._cuts.paid_by(on_cuts, len(left))
            total += int((on_cuts * self._cuts.sides()).sum())
        total += _whole_dot(left, np.where(left > 0, self._rows.low, high))
        return None if abs(total) > _ROOM else (total, left)

    def _largest(self, price: Whole, on_cuts: Whole, cost: Whole, scale: int) -> float:
        """More than any number on the way there, by floating point, which never overflows."""
        row_of, columns, numbers = self._rows.entries()
        each = np.abs(price[row_of].astype(float)) * np.abs(numbers.astype(float))
        paid = float(np.bincount(columns, each).max(initial=0))
        if self._cuts is not None:
            paid += float((on_cuts * self._cuts.sides().clip(1)).astype(float).sum())
            paid += float(on_cuts.astype(float).sum()) * self._cuts.most_ways
        return paid + scale * float(np.abs(cost).max(initial=0))

    def _up(self, scaled: Any) -> Any:
        """A scaled value, rounded up to the next one an answer can have."""
        whole = -(-scaled // (1 << self._shift))
        if self._step > 1:
            whole = -(-whole // self._step) * self._step
        return whole + self._rows.offset


def _whole_dot(one: Whole, other: Whole) -> int:
    """Σ one · other, exact whatever its size."""
    there = np.nonzero((one != 0) & (other != 0))[0]
    return sum(a * b for a, b in zip(one[there].tolist(), other[there].tolist(), strict=True))


def _side(row: Row, price: float) -> tuple[int, int]:
    """The price and the side of the row it is set on; none for a side that is open."""
    side = row.low if price > 0 else row.high
    return (0, 0) if side is None else (int(price), side)
