"""Shortest ways: one start against networkx, many starts against one."""

from __future__ import annotations

from random import Random

import networkx
import numpy as np
import pytest

from lugwright.routes import many_ways
from lugwright.routes.many_ways import FAR, Graph
from lugwright.routes.shortest import START, Near, shortest_ways

NODES = 12


def some_graph(random: Random) -> networkx.Graph[int]:
    """A random graph, often in parts, with lengths so small that many ways are equal."""
    graph = networkx.gnp_random_graph(NODES, 0.3, seed=random.randint(0, 10**6))
    for a, b in graph.edges:
        graph[a][b]["weight"] = random.randint(1, 4)
    return graph


def near_of(graph: networkx.Graph[int]) -> Near:
    """The neighbours of every node."""
    return [[(b, graph[a][b]["weight"]) for b in graph[a]] for a in range(NODES)]


def graph_of(graph: networkx.Graph[int]) -> Graph:
    """The same lines in arrays."""
    lines = np.array([(a, b, graph[a][b]["weight"]) for a, b in graph.edges]).reshape(-1, 3)
    return Graph(NODES, lines[:, :2], lines[:, 2])


def test_shortest_ways_are_those_of_networkx() -> None:
    """Lengths, and the least of the nodes before, on random graphs with many equal ways."""
    random = Random(11)
    for _ in range(30):
        graph = some_graph(random)
        before, away = shortest_ways(near_of(graph), [(0, 0)])
        known_before, known = networkx.dijkstra_predecessor_and_distance(graph, 0)
        assert {n: d for n, d in enumerate(away) if d >= 0} == known
        least = {node: min(nodes) for node, nodes in known_before.items() if nodes}
        assert least == {n: p for n, p in enumerate(before) if p != START}


@pytest.mark.parametrize("at_once", [1, 4, 64])
def test_many_starts_at_once_are_each_start_alone(
    at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Starts led to several nodes, to one, or to none; lengths and nodes before, ties included."""
    monkeypatch.setattr(many_ways, "_STARTS", at_once)
    random = Random(12)
    for _ in range(30):
        graph = some_graph(random)
        firsts = [
            {random.randrange(NODES): random.randint(0, 6) for _ in range(random.randint(0, 4))}
            for _ in range(9)
        ]
        starts = np.full((len(firsts), NODES), FAR, dtype=np.int32)
        for row, first in enumerate(firsts):
            starts[row, list(first)] = list(first.values())
        away, before = graph_of(graph).ways(starts)
        for row, first in enumerate(firsts):
            before_alone, away_alone = shortest_ways(near_of(graph), list(first.items()))
            assert [dmm if dmm < FAR else -1 for dmm in away[row].tolist()] == away_alone
            assert before[row].tolist() == before_alone


def test_a_graph_without_lines_leads_nowhere() -> None:
    """Only the straight ways are there."""
    empty = np.zeros((0, 2), dtype=np.int64)
    away, before = Graph(2, empty, empty[:, 0]).ways(np.array([[5, FAR]], dtype=np.int32))
    assert away.tolist() == [[5, FAR]]
    assert before.tolist() == [[START, START]]
