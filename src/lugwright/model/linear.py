"""Rows put to HiGHS: answers and prices in floating point, for those who know how to use them."""

from __future__ import annotations

import highspy
import numpy as np

from lugwright.model.rows import Real, Row, Rows, Whole


class _Quiet(highspy.Highs):
    """HiGHS without callbacks: none is used, and making them greets on the standard output."""

    def enableCallbacks(self) -> None:  # noqa: N802: the name is the library's
        """Enable none."""


class Linear:
    """A linear program over rows, solved again from where it was after rows or bounds changed."""

    def __init__(self, rows: Rows) -> None:
        self._rows = rows
        self._given = 0
        self._solver = _Quiet()  # type: ignore[no-untyped-call]
        for name, value in (
            ("output_flag", False),
            ("threads", 1),
            ("parallel", "off"),
            ("solver", "simplex"),
            ("presolve", "off"),
        ):
            self._solver.setOptionValue(name, value)
        number = len(rows.cost)
        self._solver.addCols(
            number,
            rows.cost.astype(float) / self._unit,
            rows.low.astype(float),
            rows.high.astype(float),
            0,
            np.zeros(number, dtype=np.int32),
            np.zeros(0, dtype=np.int32),
            np.zeros(0),
        )
        self.hand_over()

    @property
    def _unit(self) -> float:
        """Costs are divided by this, so that they are no large numbers to the solver."""
        return max(1.0, float(np.abs(self._rows.cost).max(initial=0)) / 10_000)

    def hand_over(self) -> None:
        """Give the solver the rows that are new."""
        new = self._rows.rows[self._given :]
        if not new:
            return
        sizes = [len(row.columns) for row in new]
        starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.int32)
        columns = np.array([c for row in new for c in row.columns], dtype=np.int32)
        numbers = np.array([n for row in new for n in row.numbers], dtype=float)
        low, high = _sides(new)
        self._solver.addRows(len(new), low, high, len(columns), starts, columns, numbers)
        self._given = len(self._rows.rows)

    def set_high(self, high: Whole) -> None:
        """Set the upper bounds of all columns."""
        number = len(high)
        every = np.arange(number, dtype=np.int32)
        low = self._rows.low.astype(float)
        self._solver.changeColsBounds(number, every, low, high.astype(float))

    def solve(self, seconds: float | None) -> tuple[Real, Real] | None:
        """Values of the columns and prices of the rows; None where there is no answer (in time)."""
        if seconds is not None:
            if seconds <= 0:
                return None
            self._solver.setOptionValue("time_limit", self._solver.getRunTime() + seconds)
        self._solver.run()
        if self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        solution = self._solver.getSolution()
        values: Real = np.array(solution.col_value)
        prices: Real = np.array(solution.row_dual) * self._unit
        return values, prices


def _sides(rows: list[Row]) -> tuple[Real, Real]:
    far = highspy.kHighsInf
    low = np.array([-far if row.low is None else row.low for row in rows], dtype=float)
    high = np.array([far if row.high is None else row.high for row in rows], dtype=float)
    return low, high
