"""Separation: directed cuts that a fractional answer breaks, by the flow from the supply.

A set of nodes that less than one whole way leads into, though it holds a node that must be
reached, gives a row every tree keeps (L. R. Ford and D. R. Fulkerson: least cut = largest flow;
T. Koch and A. Martin, "Solving Steiner tree problems in graphs to optimality", Networks 32, 1998,
use the same rows). Flows are found by the solver library's own push-relabel (``SimpleMaxFlow``),
in whole millionths.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from lugwright.model.solver import max_flow

ENOUGH = 1e-6
SHORT = 1e-4
ROOT = 0
WHOLE = 1_000_000  # what a flow of 1 is in whole numbers

Weighted = tuple[int, int, float]
"""An arc by its nodes, and how much of it is there."""


class Network:
    """Capacities between nodes 0 (the supply) to n."""

    def __init__(self, nodes: int, arcs: Iterable[Weighted]) -> None:
        self._nodes = nodes
        # A last arc that nothing flows in: the library knows no node beyond the last of an arc.
        start, end, much = zip(*arcs, (ROOT, nodes - 1, 0.0), strict=True)
        room = np.rint(np.array(much) * WHOLE).astype(np.int64)
        self._flow = max_flow.SimpleMaxFlow()
        self._flow.add_arcs_with_capacity(np.array(start), np.array(end), room)

    def cut(self, node: int, wanted: float) -> list[frozenset[int]]:
        """The sets round ``node`` that less than ``wanted`` leads into: the least and the widest.

        Empty when enough reaches the node.
        """
        flow = self._flow
        flow.solve(ROOT, node)
        if flow.optimal_flow() >= (wanted - SHORT) * WHOLE:
            return []
        near = frozenset(flow.get_sink_side_min_cut())
        wide = frozenset(range(self._nodes)) - frozenset(flow.get_source_side_min_cut())
        return [near] if near == wide else [near, wide]
