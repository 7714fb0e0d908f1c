"""Directed cuts that a fractional answer breaks, by the flow from the supply to every node.

A set of nodes that less than one whole way leads into, though it holds a node that must be
reached, gives a row every tree keeps (L. R. Ford and D. R. Fulkerson: least cut = largest flow;
T. Koch and A. Martin, "Solving Steiner tree problems in graphs to optimality", Networks 32, 1998,
use the same rows).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence

ENOUGH = 1e-6
SHORT = 1e-4
ROOT = 0

Weighted = tuple[int, int, float]
"""An arc by its nodes, and how much of it is there."""


class Network:
    """Capacities between nodes 0 (the supply) to n."""

    def __init__(self, nodes: int, arcs: Iterable[Weighted]) -> None:
        self._room: list[dict[int, float]] = [{} for _ in range(nodes)]
        for a, b, much in arcs:
            self._room[a][b] = self._room[a].get(b, 0.0) + much
            self._room[b].setdefault(a, 0.0)

    def cut(self, node: int, wanted: float) -> list[frozenset[int]]:
        """The sets round ``node`` that less than ``wanted`` leads into: the least and the widest.

        Empty when enough reaches the node.
        """
        room = [dict(each) for each in self._room]
        flow = 0.0
        while flow < wanted - SHORT:
            before = _way(room, node)
            if before is None:
                return _sides(room, node)
            flow += _push(room, before, node)
        return []


def _way(room: Sequence[dict[int, float]], node: int) -> dict[int, int] | None:
    """A shortest way from the supply to a node over what has room left."""
    before = {ROOT: ROOT}
    waiting = deque([ROOT])
    while waiting:
        here = waiting.popleft()
        for there, much in room[here].items():
            if much > ENOUGH and there not in before:
                before[there] = here
                if there == node:
                    return before
                waiting.append(there)
    return None


def _push(room: Sequence[dict[int, float]], before: dict[int, int], node: int) -> float:
    walk = [node]
    while walk[-1] != ROOT:
        walk.append(before[walk[-1]])
    pairs = list(zip(walk[1:], walk, strict=False))
    much = min(room[a][b] for a, b in pairs)
    for a, b in pairs:
        room[a][b] -= much
        room[b][a] += much
    return much


def _sides(room: Sequence[dict[int, float]], node: int) -> list[frozenset[int]]:
    """All that cannot be reached any more, and all that still leads to the node."""
    reached = {ROOT}
    waiting = [ROOT]
    while waiting:
        for there, much in room[waiting.pop()].items():
            if much > ENOUGH and there not in reached:
                reached.add(there)
                waiting.append(there)
    near = {node}
    waiting = [node]
    while waiting:
        here = waiting.pop()
        for there in room[here]:  # rooms lie both ways, so every neighbour is known here
            if there not in near and room[there].get(here, 0.0) > ENOUGH:
                near.add(there)
                waiting.append(there)
    wide = frozenset(range(len(room))) - reached
    return [frozenset(near)] if near == wide else [frozenset(near), wide]
