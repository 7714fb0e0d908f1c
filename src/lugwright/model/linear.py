"""Rows put to HiGHS: answers and prices in floating point, for those who know how to use them.

Most jumpers are too long to be in any answer worth having, so HiGHS gets the likely columns only;
the others are looked at with the prices it finds and handed over when they would help.
"""

from __future__ import annotations

import highspy
import numpy as np
from numpy.typing import NDArray

from lugwright.model.rows import Real, Row, Rows, Whole

_HELPS = -1e-7
_AT_ONCE = 400  # columns handed over at a time, the most helpful first

_OPTIONS = (
    ("output_flag", False),
    ("threads", 1),
    ("parallel", "off"),
    ("solver", "simplex"),
    ("presolve", "off"),
)


class _Quiet(highspy.Highs):
    """HiGHS without callbacks: none is used, and making them greets on the standard output."""

    def enableCallbacks(self) -> None:
        """Enable none."""


class Linear:
    """A linear program over rows, solved again from where it was after rows or bounds changed."""

    def __init__(self, rows: Rows, likely: NDArray[np.bool_]) -> None:
        """``likely``: by column, whether HiGHS gets it from the start."""
        self._rows = rows
        self._given = 0
        self._high = rows.high
        # Costs are divided by this, so that they are no large numbers to the solver.
        self._unit = max(1.0, float(np.abs(rows.cost).max(initial=0)) / 10_000)
        self._cost: Real = rows.cost / self._unit
        self.refusal: Real | None = None
        self._place = np.full(len(rows.cost), -1, dtype=np.int64)
        self._taken: list[int] = []
        self._solver = _Quiet()  # type: ignore[no-untyped-call]
        for name, value in _OPTIONS:
            self._solver.setOptionValue(name, value)
        self._take(np.nonzero(likely)[0])
        self.hand_over()

    def hand_over(self) -> None:
        """Give the solver the rows that are new."""
        new = self._rows.rows[self._given :]
        if not new:
            return
        row_of, columns, numbers = self._rows.entries(self._given)
        there = self._place[columns] >= 0
        row_of, columns, numbers = row_of[there], columns[there], numbers[there]
        starts = np.searchsorted(row_of, np.arange(self._given, len(self._rows.rows)))
        low, high = _sides(new)
        places = self._place[columns].astype(np.int32)
        starts, real = starts.astype(np.int32), numbers.astype(np.float64)
        self._solver.addRows(len(new), low, high, len(places), starts, places, real)
        self._given = len(self._rows.rows)

    def _take(self, columns: NDArray[np.intp]) -> None:
        """Give the solver some columns, with what they have in the rows it knows."""
        row_of, column_of, numbers = self._rows.entries()
        chosen = np.zeros(len(self._place), dtype=bool)
        chosen[columns] = True
        mine = np.nonzero(chosen[column_of] & (row_of < self._given))[0]
        mine = mine[np.argsort(column_of[mine], kind="stable")]
        starts = np.searchsorted(column_of[mine], columns)
        self._solver.addCols(
            len(columns),
            self._cost[columns],
            self._rows.low[columns].astype(np.float64),
            self._high[columns].astype(np.float64),
            len(mine),
            starts.astype(np.int32),
            row_of[mine].astype(np.int32),
            numbers[mine].astype(np.float64),
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
        _, known, ray = self._solver.getDualRay()
        return np.array(ray) if known else None

    def _helpful(self, prices: Real) -> NDArray[np.intp]:
        """Columns the solver does not have that would lower the cost at these prices."""
        row_of, columns, numbers = self._rows.entries()
        paid = np.bincount(columns, prices[row_of] * numbers, minlength=len(self._place))
        left = self._cost - paid
        found = np.nonzero((left < _HELPS) & (self._place < 0) & (self._high > 0))[0]
        best = found[np.argsort(left[found], kind="stable")[:_AT_ONCE]]
        return np.sort(best)


def _sides(rows: list[Row]) -> tuple[Real, Real]:
    far = highspy.kHighsInf
    low = np.array([-far if row.low is None else row.low for row in rows], dtype=float)
    high = np.array([far if row.high is None else row.high for row in rows], dtype=float)
    return low, high
