"""Chvátal rounding: how many ways must lead into a set of nodes, by what the set draws.

What leads in carries at least what is drawn inside; divided by a unit and rounded up it still
does (V. Chvátal, "Edmonds polytopes and a hierarchy of combinatorial problems", Discrete
Mathematics 4, 1973). Which sets to look at is found by a least cut and by growing them.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from lugwright.model.bounds.net import Net
from lugwright.model.bounds.rows import Real
from lugwright.model.bounds.separation import ENOUGH, SHORT, Network

MOST_GROWN = 40  # sets a round


def rounded_up(net: Net, members: frozenset[int], values: Real) -> Iterator[tuple[int, int]]:
    """Units in which too few ways lead into a set, each with how many must."""
    drawn = int(net.drawn_ma[list(members)].sum())
    inside = net.flags(members)
    leading = inside[net.end] & ~inside[net.start]
    for unit in net.units:
        least = -(-drawn // unit)
        if float(net.ways(unit)[leading] @ values[net.column[leading]]) < least - SHORT:
            yield unit, least


def overdrawn(net: Net, values: Real) -> list[frozenset[int]]:
    """Sets of nodes that draw more than what leads into them carries (least cut: all nodes
    drain into one more, each as much as it draws)."""
    if not net.units:
        return []
    sink, total = len(net.names), float(net.drawn_ma.sum())
    drains = [(v, sink, float(ma)) for v, ma in enumerate(net.drawn_ma.tolist()) if ma]
    weighted = net.weighted(values, net.cap_ma.astype(np.float64))
    found = Network(sink + 1, [*weighted, *drains]).cut(sink, total)
    return [cut - {sink} for cut in found if len(cut) > 1]


def grown(net: Net, values: Real) -> list[frozenset[int]]:
    """Sets that too few ways lead into, found by growing one from every node: always by the
    node most is shared with (a heuristic; what it finds is checked by whoever uses it)."""
    if not net.units:
        return []
    nodes = len(net.names)
    shared = net.matrix_of(values[net.column])
    shared = shared + shared.T
    by_unit = {u: net.matrix_of(values[net.column] * net.ways(u)) for u in net.units}
    found: dict[frozenset[int], float] = {}
    for first in range(1, nodes):
        inside, gain = np.zeros(nodes, dtype=bool), shared[first].copy()
        gain[0] = 0.0
        drawn, leading, node = 0, dict.fromkeys(net.units, 0.0), first
        while True:
            for unit, matrix in by_unit.items():
                own = matrix[inside, node].sum() + matrix[node, inside].sum()
                leading[unit] += float(matrix[:, node].sum() - own)
            inside[node] = True
            drawn += int(net.drawn_ma[node])
            short = max(-(-drawn // u) - leading[u] for u in net.units)
            if short > SHORT:
                members = frozenset(np.nonzero(inside)[0].tolist())
                found[members] = max(short, found.get(members, 0.0))
            gain[inside] = 0.0
            node = int(gain.argmax())
            if gain[node] <= ENOUGH:
                break
            gain += shared[node]
            gain[0] = 0.0
    return sorted(found, key=lambda each: (-found[each], sorted(each)))[:MOST_GROWN]
