"""Shortest ways from many starts through one graph of whole lengths, all at once.

``shortest.shortest_ways`` for rows of starts: the same lengths, and the same of equal ways.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from lugwright.routes.arrays import Whole
from lugwright.routes.shortest import START

Lengths = np.int32
Table = NDArray[np.int32]
"""By start (row) and node (column)."""

FAR = 1 << 30  # longer than any way: 100 km in 0.1 mm
_STARTS = 64  # looked at together, so few that their lengths stay at hand in the cache


class Graph:
    """A graph of ``nodes`` nodes: its lines by their two ends, and their lengths above zero."""

    def __init__(self, nodes: int, ends: Whole, lengths: Whole) -> None:
        self._nodes = nodes
        one, other = ends.T
        start, end = np.concatenate([one, other]), np.concatenate([other, one])
        order = np.argsort(end, kind="stable")
        self._start = start[order]
        self._step = np.tile(lengths, 2)[order].astype(Lengths)
        # The lines that end at one node are a stretch of all lines.
        self._end, self._first, self._number = np.unique(
            end[order], return_index=True, return_counts=True
        )

    def ways(self, starts: Table) -> tuple[Table, Table]:
        """Shortest ways to every node: their lengths (``FAR``: none), and the node before it.

        ``starts`` holds how far the start is from a node straight, ``FAR`` where it is not led
        there. Of equally short ways the straight one is taken (``START`` before the node), else
        the one with the least node before.
        """
        away, before = starts.copy(), np.full_like(starts, START)
        if len(self._end):
            for first in range(0, len(starts), _STARTS):
                some = slice(first, first + _STARTS)
                self._lower(away[some])
                before[some] = self._before(starts[some], away[some])
        return away, before

    def _lower(self, away: Table) -> None:
        """Lower the lengths over all lines, in rounds, until none gets shorter.

        That takes as many rounds as any shortest way has lines. R. Bellman, "On a routing
        problem", Quarterly of Applied Mathematics 16, 1958.
        """
        lowered = np.arange(len(away))
        while len(lowered):
            some = away[lowered]
            known = some[:, self._end]
            least = np.minimum.reduceat(self._over(some), self._first, axis=1)
            some[:, self._end] = np.minimum(least, known)
            away[lowered] = some
            lowered = lowered[(least < known).any(axis=1)]

    def _before(self, starts: Table, away: Table) -> Table:
        """The node before each on its shortest way."""
        known = np.repeat(away[:, self._end], self._number, axis=1)
        nodes = np.where(self._over(away) == known, self._start, self._nodes)
        before = np.full_like(away, START)
        before[:, self._end] = np.minimum.reduceat(nodes, self._first, axis=1)
        before[away == starts] = START
        return before

    def _over(self, away: Table) -> Table:
        """How far the end of each line is from the start by way of that line."""
        return np.take(away, self._start, axis=1) + self._step
