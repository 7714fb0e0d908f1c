"""Shortest ways in a graph of whole lengths, and which of equal ones."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence

Near = Sequence[Sequence[tuple[int, int]]]
"""By node: its neighbours and how far each is."""

START = -1


def shortest_ways(near: Near, starts: Iterable[tuple[int, int]]) -> tuple[list[int], list[int]]:
    """For every node the one before it on a shortest way, and the length; both -1 where no way.

    ``starts`` are the first nodes with their lengths from the start, which is itself the one
    before them (``START``). Of equally short ways the one before is the least; every length
    between nodes is above zero. E. W. Dijkstra, "A note on two problems in connexion with
    graphs", Numerische Mathematik 1, 1959.
    """
    away, before = [-1] * len(near), [START] * len(near)
    waiting: list[tuple[int, int]] = []
    for node, length in starts:
        if away[node] < 0 or length < away[node]:
            away[node] = length
            waiting.append((length, node))
    heapq.heapify(waiting)
    pop, push = heapq.heappop, heapq.heappush
    while waiting:
        length, node = pop(waiting)
        if length > away[node]:
            continue
        for other, step in near[node]:
            there, known = length + step, away[other]
            if known < 0 or there < known:
                away[other], before[other] = there, node
                push(waiting, (there, other))
            elif there == known and node < before[other]:
                before[other] = node
    return before, away
