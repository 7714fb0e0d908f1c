"""Many lines at once against one line at a time, and shortest ways against networkx."""

from __future__ import annotations

from itertools import product
from random import Random

import networkx

from lugwright.routes.geometry import Box, Outline, Place, cuts, rounded_outline
from lugwright.routes.many_lines import Outlines, bearing_pairs
from lugwright.routes.shortest import START, shortest_ways


def some_outlines(random: Random, number: int) -> list[Outline]:
    """Round and square outlines of different numbers of corners, some over each other."""
    found = []
    for _ in range(number):
        x, y = random.randint(0, 900), random.randint(0, 900)
        wide, high = random.choice([(0, 0), (120, 40), (60, 60)])
        outline = rounded_outline(Box(x, y, x + wide, y + high), random.choice([0, 1, 40, 75]))
        if outline is not None:
            found.append(outline)
    return found


def test_many_lines_cut_what_each_line_cuts() -> None:
    """Random lines, lines along sides, lines from corner to corner and single places."""
    random = Random(4)
    for _ in range(20):
        outlines = some_outlines(random, 8)
        corners = [corner for outline in outlines for corner in outline.corners]
        places: list[Place] = [(random.randint(-9, 999), random.randint(-9, 999)) for _ in range(9)]
        lines = list(product([*random.sample(corners, 12), *places], repeat=2))
        one_by_one = {
            (line, index)
            for line, (a, b) in enumerate(lines)
            for index, outline in enumerate(outlines)
            if cuts(a, b, outline)
        }
        found = Outlines(outlines).cut(lines)
        assert sorted(one_by_one) == sorted(found)


def test_no_outlines_and_no_lines_cut_nothing() -> None:
    """Empty on either side is no fault."""
    square = rounded_outline(Box(0, 0, 10, 10), 0)
    assert square is not None
    assert Outlines([]).cut([((0, 0), (5, 5))]) == []
    assert Outlines([square]).cut([]) == []
    assert bearing_pairs([]) == []


def test_a_line_that_bears_on_two_squares_leaves_both_on_one_side() -> None:
    """Two squares side by side have four common tangents by their lower and upper corners.

    Squares 0..10 and 20..30: the outer ones are y = 0 and y = 10, along which two corners of each
    lie (all 2 × 2 pairs bear), the inner ones cross from (10, 0) to (20, 10) and back.
    """

    def turns(x: int) -> list[tuple[Place, Place, Place]]:
        square = rounded_outline(Box(x, 0, x + 10, 10), 0)
        assert square is not None
        ring = square.corners
        return [(ring[i - 1], ring[i], ring[(i + 1) % 4]) for i in range(4)]

    outer = {((a, y), (b, y)) for y in (0, 10) for a in (0, 10) for b in (20, 30)}
    inner = {((10, 0), (20, 10)), ((10, 10), (20, 0))}
    assert outer | inner == set(bearing_pairs([turns(0), turns(20)]))


def test_shortest_ways_are_those_of_networkx() -> None:
    """Lengths, and the least of the nodes before, on random graphs with many equal ways."""
    random = Random(11)
    for _ in range(30):
        graph = networkx.gnp_random_graph(12, 0.3, seed=random.randint(0, 10**6))
        for a, b in graph.edges:
            graph[a][b]["weight"] = random.randint(1, 4)
        near = [[(b, graph[a][b]["weight"]) for b in graph[a]] for a in range(12)]
        before, away = shortest_ways(near, [(0, 0)])
        known_before, known = networkx.dijkstra_predecessor_and_distance(graph, 0)
        assert {n: d for n, d in enumerate(away) if d >= 0} == known
        least = {node: min(nodes) for node, nodes in known_before.items() if nodes}
        assert least == {n: p for n, p in enumerate(before) if p != START}
