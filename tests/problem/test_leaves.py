"""Leaves for the drop limits: what is said of a number of leaves, against every tree there is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from random import Random

import networkx as nx
import pytest
from brute.random_consoles import random_case

from lugwright.problem.build import build_problem
from lugwright.problem.leaves import Chain, Leaves, least_into

NODES = 5  # beside the landing


def rooted_trees() -> Iterator[nx.DiGraph]:
    """Every labelled tree on the landing (0) and the nodes, away from the landing.

    By networkx from H. Prüfer's sequences ("Neuer Beweis eines Satzes über Permutationen", 1918).
    """
    for sequence in product(range(NODES + 1), repeat=NODES - 1):
        yield nx.bfs_tree(nx.from_prufer_sequence(list(sequence)), 0)


def drops_nv(tree: nx.DiGraph, drawn: list[int], uohm: list[list[int]]) -> list[int]:
    """Drop from the landing at every node, currents summed up from the leaves."""
    current = [0] * (NODES + 1)
    for node in reversed(list(nx.topological_sort(tree))):
        current[node] = drawn[node] + sum(current[after] for after in tree.successors(node))
    drop = [0] * (NODES + 1)
    for before, node in nx.bfs_edges(tree, 0):
        drop[node] = drop[before] + uohm[before][node] * current[node]
    return drop


@pytest.mark.parametrize("seed", range(6))
def test_no_tree_drops_less_than_its_leaves_say(seed: int) -> None:
    """The drop at the end of the longest chain: at most what any tree with so many leaves has."""
    random = Random(seed)
    drawn = [0, *(random.choice((0, 50, 80, 120, 400)) for _ in range(NODES))]
    uohm = [[0] * (NODES + 1) for _ in range(NODES + 1)]
    for a in range(NODES + 1):
        for b in range(a):
            uohm[a][b] = uohm[b][a] = random.randint(300, 2000)
    into = [min(uohm[a][b] for a in range(NODES + 1) if a != b) for b in range(1, NODES + 1)]
    chain = Chain(NODES, sorted(drawn[1:]), sorted(into))
    seen = Counter[int]()
    for tree in rooted_trees():
        leaves = sum(1 for node in tree if node and not list(tree.successors(node)))
        drop = drops_nv(tree, drawn, uohm)
        seen[leaves] += 1
        assert chain.longest_nv(leaves) <= max(drop)
    assert set(seen) == set(range(1, NODES + 1))


def test_a_chain_of_equal_posts_is_exact() -> None:
    """Four posts of 100 mA over 1000 µΩ each: 100·(1+2+3+4) = 1000 µV at the end of the chain."""
    chain = Chain(4, [100] * 4, [1000] * 4)
    assert chain.longest_nv(1) == 1_000_000
    assert chain.longest_nv(2) == 300_000


def test_more_leaves_never_drop_more() -> None:
    """The bound falls as leaves are added, so that the fewest that will do can be looked for."""
    chain = Chain(7, [20, 30, 50, 50, 70, 90, 90], [400, 500, 500, 600, 600, 700, 900])
    values = [chain.longest_nv(leaves) for leaves in range(1, 8)]
    assert values == sorted(values, reverse=True)


@pytest.mark.parametrize("seed", range(300, 312))
def test_least_resistance_by_way_of_splices(seed: int) -> None:
    """Into every node, shortest ways over splice points alone (networkx) give the same."""
    case = random_case(seed)
    problem = build_problem(case.brief, case.routes())
    for circuit in problem.circuits:
        if not circuit.choices or not circuit.nodes:
            continue
        size = circuit.choices[0].size
        name_of = {joint: node.name for node in circuit.nodes for joint in node.joints}
        splices = {node.name for node in circuit.nodes if node.is_splice}
        graph = nx.Graph()
        crimps = 2 * problem.limits.crimp_uohm
        for edge in (*circuit.edges, *circuit.take_off):
            a, b = name_of.get(edge.a, edge.a), name_of[edge.b]
            length = -(-circuit.choice(size).nohm_per_mm * edge.length_dmm // 10_000) + crimps
            if not graph.has_edge(a, b) or graph[a][b]["weight"] > length:
                graph.add_edge(a, b, weight=length)
        for name, least in least_into(problem, circuit, size).items():
            if name not in graph:
                continue
            own = graph.subgraph(splices | {name})
            ways = nx.single_source_dijkstra_path_length(own, name)
            direct = [
                ways[last] + graph[last][other]["weight"]
                for last in ways
                for other in graph[last]
                if other not in splices and other != name
            ]
            assert least == min(direct, default=least)


@pytest.mark.parametrize("seed", range(300, 306))
def test_where_nothing_binds_one_leaf_will_do(seed: int) -> None:
    """With all the room there is, no circuit needs more than one leaf."""
    case = random_case(seed)
    problem = build_problem(case.brief, case.routes())
    leaves = Leaves(replace(problem, drops=()))
    for circuit in problem.circuits:
        for choice in circuit.choices:
            assert leaves.least(circuit.name, choice.size) == 1
