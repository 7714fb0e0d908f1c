"""The linear rows of a model as arrays.

Only what a linear relaxation can say is read: rows with a condition before them, and whatever is
not linear, are left out, which can only lower a minimum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lugwright.model import solver as cp_model

Whole = NDArray[np.int64]
Small = NDArray[np.int32]
Real = NDArray[np.float64]

_FAR = 1 << 40  # beyond any bound that a row of ours states


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
        self.offset: int = round(objective.offset)
        self.rows: list[Row] = []
        self._entries: tuple[Small, Small, Small] | None = None
        for constraint in proto.constraints:
            if not _of_arcs_alone(constraint, arcs):
                self.rows += _rows_of(constraint)

    def entries(self) -> tuple[Small, Small, Small]:
        """Row, column and number of every entry, row by row."""
        if self._entries is None:
            sizes = [len(row.columns) for row in self.rows]
            rows = np.arange(len(self.rows), dtype=np.int32)
            columns = [np.asarray(row.columns, dtype=np.int32) for row in self.rows]
            numbers = [np.asarray(row.numbers, dtype=np.int32) for row in self.rows]
            none = [np.zeros(0, dtype=np.int32)]
            self._entries = (
                np.repeat(rows, sizes),
                np.concatenate(none + columns),
                np.concatenate(none + numbers),
            )
        return self._entries


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
