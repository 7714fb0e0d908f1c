"""The linear rows of a model as arrays, and bounds from prices on them that hold exactly.

Only what a linear relaxation can say is read: rows with a condition before them, and whatever is
not linear, are left out, which can only lower a minimum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lugwright.model.solver import cp_model

Whole = NDArray[np.int64]
Small = NDArray[np.int32]
Real = NDArray[np.float64]

_FAR = 1 << 40  # beyond any bound that a row of ours states
_ROOM = 1 << 61  # half of what 64 bits hold


@dataclass(frozen=True)
class Row:
    """``low`` ≤ Σ coefficient · column ≤ ``high``; None where a side is open."""

    columns: Sequence[int] | Small
    numbers: Sequence[int] | Small
    low: int | None
    high: int | None


class Rows:
    """Columns with bounds and costs, and rows over them, all whole numbers."""

    def __init__(self, model: cp_model.CpModel, arcs: frozenset[int] = frozenset()) -> None:
        """Read a model that has an objective to be brought down.

        ``arcs`` are columns of which nothing is read that has them alone: no two against each
        other and no "if this then that", for cuts say the same where it matters.
        """
        proto = model.proto
        number = len(proto.variables)
        self.low: Whole = np.zeros(number, dtype=np.int64)
        self.high: Whole = np.ones(number, dtype=np.int64)
        for column in range(number):
            if column not in arcs:
                domain = list(proto.variables[column].domain)  # itself it counts not from its end
                self.low[column], self.high[column] = domain[0], domain[-1]
        self.cost: Whole = np.zeros(number, dtype=np.int64)
        objective = proto.objective
        for column, number in zip(objective.vars, objective.coeffs, strict=True):
            self.cost[column] += number
        self.offset = round(objective.offset)
        self.rows: list[Row] = []
        self._chunks: list[tuple[Small, Small, Small]] = []
        for constraint in proto.constraints:
            if not _of_arcs_alone(constraint, arcs):
                self.rows += _rows_of(constraint)
        most = int(np.abs(self.cost).max(initial=0))
        self.shift = max(0, min(24, 40 - most.bit_length()))
        self.step = int(np.gcd.reduce(self.cost)) if number else 0
        self._flattened = 0

    def add(self, row: Row) -> None:
        """Add a row."""
        self.rows.append(row)

    def entries(self, first: int = 0) -> tuple[Small, Small, Small]:
        """Row, column and number of every entry, from row ``first`` on (one added since)."""
        new = self.rows[self._flattened :]
        if new:
            sizes = [len(row.columns) for row in new]
            rows = np.arange(self._flattened, len(self.rows), dtype=np.int32)
            columns = np.concatenate([np.asarray(row.columns, dtype=np.int32) for row in new])
            numbers = np.concatenate([np.asarray(row.numbers, dtype=np.int32) for row in new])
            self._chunks.append((np.repeat(rows, sizes), columns, numbers))
            self._flattened = len(self.rows)
        if len(self._chunks) > 1:
            one, other, third = zip(*self._chunks, strict=True)
            self._chunks = [(np.concatenate(one), np.concatenate(other), np.concatenate(third))]
        row_of, columns, numbers = self._chunks[0]
        start = int(np.searchsorted(row_of, first))
        return row_of[start:], columns[start:], numbers[start:]

    def bound(self, prices: Real, high: Whole) -> tuple[int, Whole] | None:
        """What no answer within ``high`` can cost less than; and the same for each column in use.

        Any prices give a bound (weak duality): Σ price · side of the row + the least that is
        left over by every column within its bounds. The prices are rounded to whole 2^-shift,
        and from there on all is exact. A column that starts at 0 and is at least 1 costs what is
        left over for it on top. None when the numbers outgrow 64 bits.
        """
        found = self._worth(prices, high, self.cost)
        if found is None:
            return None
        total, left = found
        return self._up(total), self._up(total + np.maximum(left, 0))

    @property
    def beyond(self) -> int:
        """More than any answer can cost."""
        return self.offset + 1 + sum(
            max(cost * low, cost * high)
            for cost, low, high in zip(
                self.cost.tolist(), self.low.tolist(), self.high.tolist(), strict=True
            )
            if cost
        )

    def refuses(self, prices: Real, high: Whole) -> bool:
        """Whether these prices prove that no answer within ``high`` exists (J. Farkas, 1902).

        The bound of an objective that is nothing is nothing; prices that make it more are such
        a proof.
        """
        found = self._worth(prices, high, np.zeros_like(self.cost))
        return found is not None and found[0] > 0

    def _worth(self, prices: Real, high: Whole, cost: Whole) -> tuple[int, Whole] | None:
        """The bound that prices give, scaled, and what is left over for every column."""
        scale = 1 << self.shift
        whole = np.rint(prices * scale)
        if not np.isfinite(whole).all() or np.abs(whole).max(initial=0) > _ROOM >> 12:
            return None
        sides = [_side(row, value) for row, value in zip(self.rows, whole.tolist(), strict=True)]
        price = np.array([value for value, _ in sides], dtype=np.int64)
        row_of, columns, numbers = self.entries()
        left = cost * scale
        np.subtract.at(left, columns, price[row_of] * numbers)
        if np.abs(left).max(initial=0) > _ROOM:
            return None
        total = sum(value * side for value, side in sides)
        total += _whole_dot(left, np.where(left > 0, self.low, high))
        return None if abs(total) > _ROOM else (total, left)

    def _up(self, scaled: Any) -> Any:
        """A scaled value, rounded up to the next one an answer can have."""
        whole = -(-scaled // (1 << self.shift))
        if self.step > 1:
            whole = -(-whole // self.step) * self.step
        return whole + self.offset


def _whole_dot(one: Whole, other: Whole) -> int:
    """Σ one · other, exact whatever its size."""
    there = np.nonzero((one != 0) & (other != 0))[0]
    return sum(a * b for a, b in zip(one[there].tolist(), other[there].tolist(), strict=True))


def _side(row: Row, price: float) -> tuple[int, int]:
    """The price and the side of the row it is set on; none for a side that is open."""
    side = row.low if price > 0 else row.high
    return (0, 0) if side is None else (int(price), side)


def _of_arcs_alone(constraint: Any, arcs: frozenset[int]) -> bool:
    if constraint.has_at_most_one():
        return arcs.issuperset(constraint.at_most_one.literals)
    return constraint.has_bool_and() and arcs.issuperset(constraint.enforcement_literal)


def _rows_of(constraint: Any) -> list[Row]:
    """The rows a constraint of the solver's stands for; none where it is no linear one."""
    c = constraint
    if c.has_linear():
        return [] if c.enforcement_literal else [_linear(c.linear)]
    if c.has_exactly_one():
        return [_literals(c.exactly_one.literals, 1, 1)]
    if c.has_at_most_one():
        return [_literals(c.at_most_one.literals, None, 1)]
    if c.has_bool_or():
        unless = [-literal - 1 for literal in c.enforcement_literal]
        literals = [*unless, *c.bool_or.literals]
        return [_literals(literals, 1, None)]
    if c.has_bool_and() and len(c.enforcement_literal) == 1:
        (condition,) = c.enforcement_literal
        return [_literals([-condition - 1, literal], 1, None) for literal in c.bool_and.literals]
    return []


def _linear(linear: Any) -> Row:
    domain = list(linear.domain)
    low = domain[0] if domain[0] > -_FAR else None
    high = domain[-1] if domain[-1] < _FAR else None
    return Row(list(linear.vars), list(linear.coeffs), low, high)


def _literals(literals: Any, low: int | None, high: int | None) -> Row:
    """A row over literals: -1 - column stands for 1 minus that column."""
    given = list(literals)
    columns = [literal if literal >= 0 else -literal - 1 for literal in given]
    numbers = [1 if literal >= 0 else -1 for literal in given]
    turned = numbers.count(-1)
    return Row(
        columns,
        numbers,
        None if low is None else low - turned,
        None if high is None else high - turned,
    )
