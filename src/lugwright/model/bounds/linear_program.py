"""Rows put to HiGHS: answers and prices in floating point, for those who know how to use them.

Most jumpers are too long to be in any answer worth having, so HiGHS gets the likely columns only;
the others are looked at with the prices it finds and handed over when they would help.
"""

from __future__ import annotations

import highspy
import numpy as np
from numpy.typing import NDArray

from lugwright.model.bounds.directed_cuts import NONE, Cuts
from lugwright.model.bounds.rows import Real, Row, Rows, Whole

_HELPS = -1e-7
_AT_ONCE = 400  # columns handed over at a time, the most helpful first

_OPTIONS = (
    ("output_flag", False),
    ("parallel", "off"),
    ("solver", "simplex"),
    ("presolve", "off"),
)


_INTS = np.zeros(0, dtype=np.int32)
_REALS = np.zeros(0)


class _Quiet(highspy.Highs):
    """HiGHS without callbacks: none is used, and making them greets on the standard output."""

    def enableCallbacks(self) -> None:
        """Enable none."""


class Linear:
    """A linear program over rows, solved again from where it was after rows or bounds changed."""

    def __init__(self, rows: Rows, cuts: Cuts, likely: NDArray[np.bool_]) -> None:
        """``likely``: by column, whether HiGHS gets it from the start; all but arcs are."""
        self._rows, self._cuts = rows, cuts
        self._high = rows.high
        # Costs are divided by this, so that they are no large numbers to the solver.
        self._unit = max(1.0, float(np.abs(rows.cost).max(initial=0)) / 10_000)
        self._cost: Real = rows.cost / self._unit
        self.refusal: Real | None = None
        self._place = np.full(len(rows.cost), -1, dtype=np.int64)
        self._taken: list[int] = []
        self._cuts_given = 0
        self._solver = _Quiet()  # type: ignore[no-untyped-call]
        for name, value in _OPTIONS:
            self._solver.setOptionValue(name, value)
        low, high = _sides(rows.rows)
        self._solver.addRows(len(low), low, high, 0, _INTS, _INTS, _REALS)
        self._take(np.nonzero(likely)[0])

    def hand_over(self) -> None:
        """Give the solver the cuts that are new."""
        new = self._cuts.rows[self._cuts_given :]
        if not new:
            return
        places, numbers, starts = list[np.ndarray](), list[np.ndarray](), list[int]()
        count = 0
        for row in new:
            starts.append(count)
            leading, ways = self._cuts.into(row)
            into = self._place[leading]
            there = into >= 0
            into, ones = into[there], ways[there].astype(np.float64)
            if row.wanted != NONE:
                into, ones = np.append(into, self._place[row.wanted]), np.append(ones, -1.0)
            places.append(into)
            numbers.append(ones)
            count += len(into)
        low = self._cuts.sides()[self._cuts_given :].astype(np.float64)
        self._solver.addRows(
            len(new),
            low,
            np.full(len(new), highspy.kHighsInf),
            count,
            np.array(starts, dtype=np.int32),
            np.concatenate(places).astype(np.int32),
            np.concatenate(numbers),
        )
        self._cuts_given = len(self._cuts.rows)

    def _take(self, columns: NDArray[np.intp]) -> None:
        """Give the solver some columns, with what they have in the rows it knows."""
        row_of, column_of, numbers = self._rows.entries()
        chosen = np.zeros(len(self._place), dtype=bool)
        chosen[columns] = True
        mine = np.nonzero(chosen[column_of])[0]
        cut, arc, ways = self._cuts.entries_of(columns)
        given = cut < self._cuts_given
        cut, arc, ways = cut[given], arc[given], ways[given]
        in_row = np.concatenate([row_of[mine], cut + len(self._rows.rows)])
        in_column = np.concatenate([column_of[mine], arc])
        number = np.concatenate([numbers[mine].astype(np.float64), ways.astype(np.float64)])
        order = np.lexsort((in_row, in_column))
        starts = np.searchsorted(in_column[order], columns)
        self._solver.addCols(
            len(columns),
            self._cost[columns],
            self._rows.low[columns].astype(np.float64),
            self._high[columns].astype(np.float64),
            len(order),
            starts.astype(np.int32),
            in_row[order].astype(np.int32),
            number[order],
        )
        self._place[columns] = np.arange(len(self._taken), len(self._taken) + len(columns))
        self._taken += columns.tolist()

    def set_high(self, high: Whole) -> None:
        """Set the upper bounds of all columns."""
        changed = np.nonzero((high != self._high) & (self._place >= 0))[0]
        self._high = high
        if len(changed):
            low = self._rows.low[changed].astype(np.float64)
            upper = high[changed].astype(np.float64)
            places = self._place[changed].astype(np.int32)
            self._solver.changeColsBounds(len(changed), places, low, upper)

    def solve(self, seconds: float | None) -> tuple[Real, Real] | None:
        """Values of the columns and prices of the rows; None where there is no answer (in time).

        Where there is none at all, ``refusal`` holds the prices that say so.
        """
        self.refusal = None
        if seconds is not None:
            if seconds <= 0:
                return None
            self._solver.setOptionValue("time_limit", self._solver.getRunTime() + seconds)
        while True:
            self._solver.run()
            status = self._solver.getModelStatus()
            missing = np.nonzero(self._place < 0)[0]
            if status == highspy.HighsModelStatus.kInfeasible and len(missing):
                self._take(missing)
                continue
            if status == highspy.HighsModelStatus.kInfeasible:
                self.refusal = self._refused()
                return None
            if status != highspy.HighsModelStatus.kOptimal:
                return None
            solution = self._solver.getSolution()
            prices: Real = np.array(solution.row_dual)
            helpful = self._helpful(prices)
            if not len(helpful):
                break
            self._take(helpful)
        values: Real = np.zeros(len(self._place))
        values[self._taken] = solution.col_value
        return values, prices * self._unit

    def _refused(self) -> Real | None:
        """Prices of the rows (a dual ray) that no column can pay back, where HiGHS has them."""
        _, known, ray = self._solver.getDualRay()  # type: ignore[attr-defined]
        return np.array(ray) if known else None

    def _helpful(self, prices: Real) -> NDArray[np.intp]:
        """Columns the solver does not have that would lower the cost at these prices."""
        row_of, columns, numbers = self._rows.entries()
        count, size = len(self._rows.rows), len(self._place)
        paid = np.bincount(columns, prices[row_of] * numbers, minlength=size).astype(np.float64)
        paid += self._cuts.paid_by(prices[count:], size)
        left = self._cost - paid
        found = np.nonzero((left < _HELPS) & (self._place < 0) & (self._high > 0))[0]
        best = found[np.argsort(left[found], kind="stable")[:_AT_ONCE]]
        return np.sort(best)


def _sides(rows: list[Row]) -> tuple[Real, Real]:
    far = highspy.kHighsInf
    low = np.array([-far if row.low is None else row.low for row in rows], dtype=float)
    high = np.array([far if row.high is None else row.high for row in rows], dtype=float)
    return low, high
