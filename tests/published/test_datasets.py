"""Published tree problems, put as one circuit with many posts, against their published optima.

The files lie beside the project (``shared/datasets``; sources and optima in its ``SOURCES.md``)
and are not part of it: without them these tests are left out.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import networkx
import pytest
from consoles_for_tests import tiny_console
from rules.asking import fitting, only_ground, roomy_limits, wide_shelf

from lugwright.limits.schema import Limits
from lugwright.model.ask import Ask, Status
from lugwright.model.clock import Clock
from lugwright.model.objective import objective_of
from lugwright.model.solve import solve_ask
from lugwright.problem.build import build_problem
from lugwright.problem.schema import Problem
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Corner, Routes, SplicePoint
from lugwright.routes.schema import Path as WirePath
from lugwright.scenario.console import Console, Point
from lugwright.stock.schema import Barrel

DATASETS = Path(__file__).resolve().parents[3] / "shared" / "datasets"
WIDER = Barrel(500_000, 90_000_000, 90_000, 60)
FREE = {"lug_worth_dmm": 0, "fitting_worth_dmm": 0, "wires_per_barrel": 1}

pytestmark = [
    pytest.mark.datasets,
    pytest.mark.skipif(
        not DATASETS.is_dir(), reason="the published tree problems do not lie beside the project"
    ),
]


def console_of(posts: int, hub: int = 1) -> Console:
    """A circuit of that many like posts; where they lie is told by the routes alone."""
    centres = [(60.0 + 10 * number, 60.0) for number in range(posts)]
    return only_ground(tiny_console(centres, lamps=False, hub_candidates=[hub], dial_ma=0))


def told_routes(
    length: Callable[[str, str], int | None], splices: tuple[SplicePoint, ...]
) -> Routes:
    """Routes whose lengths are given; a pair without one is as far apart as anything may be."""
    nowhere = Corner(Point(0, 0, 0))

    def find(a: str, b: str) -> WirePath:
        known = length(a, b)
        if known is None:
            raise NoPath(a, b, ("the problem as published",))
        return WirePath((nowhere, nowhere), known)

    def find_entry(entry: Point, post: str) -> WirePath:
        return WirePath((nowhere, nowhere), 0)

    return Routes({"ground": splices}, find, find_entry)


def best(problem: Problem) -> int:
    """The least wire of the one circuit, landed on the one hub."""
    (circuit,) = problem.circuits
    ask = Ask(
        ("ground",),
        (("ground", tuple(landing.post for landing in circuit.landings)),),
        (("ground", tuple(choice.size for choice in circuit.choices)),),
    )
    solved = solve_ask(problem, ask, objective_of(problem), Clock(None))
    assert solved.status is Status.BEST
    return solved.value


# -- Steiner trees in graphs (SteinLib: T. Koch, A. Martin, S. Voss; set B by J. E. Beasley) ------


def read_stp(path: Path) -> tuple[networkx.Graph[int], list[int]]:
    """Graph and terminals of a SteinLib file."""
    graph: networkx.Graph[int] = networkx.Graph()
    terminals = []
    for line in path.read_text().splitlines():
        words = line.split()
        if words[:1] == ["E"]:
            graph.add_edge(int(words[1]), int(words[2]), weight=int(words[3]))
        elif words[:1] == ["T"]:
            terminals.append(int(words[1]))
    return graph, terminals


def published(name: str) -> int:
    """The optimum printed in the collection's own table."""
    with (DATASETS / "steinlib" / "published_optima.csv").open() as file:
        return next(int(row["opt"]) for row in csv.DictReader(file) if row["filename"] == name)


def legs_worth_keeping(
    graph: networkx.Graph[int], terminals: list[int]
) -> dict[tuple[int, int], int]:
    """Shortest ways between any two nodes, those left out that no best tree needs.

    A splice joins three ends or more, so a node merely passed through must be part of a longer
    leg: hence all shortest ways, and not the graph's own edges. A leg longer than its bottleneck
    over terminals can be exchanged for a shorter one (C. W. Duin and A. Volgenant, "Reduction
    tests for the Steiner problem in graphs", Networks 19, 1989, special distance).
    """
    away: dict[int, dict[int, int]] = dict(networkx.all_pairs_dijkstra_path_length(graph))
    closure: networkx.Graph[int] = networkx.Graph()
    for a, b in combinations(terminals, 2):
        closure.add_edge(a, b, weight=away[a][b])
    tree = networkx.minimum_spanning_tree(closure)
    widest = {
        (a, b): max(tree[one][other]["weight"] for one, other in pairwise(way))
        for a, ways in networkx.all_pairs_shortest_path(tree)
        for b, way in ways.items()
        if a != b
    }

    def bottleneck(a: int, b: int) -> int:
        return min(
            max(away[a][s], away[t][b], widest.get((s, t), 0)) for s in terminals for t in terminals
        )

    return {
        (a, b): away[a][b]
        for a, b in combinations(sorted(graph), 2)
        if away[a][b] <= bottleneck(a, b)
        and not any(away[a][t] + away[t][b] == away[a][b] for t in terminals if t not in (a, b))
    }


def steiner_problem(path: Path) -> Problem:
    """Terminals as posts, every other node as a candidate splice point."""
    graph, terminals = read_stp(path)
    legs = legs_worth_keeping(graph, terminals)
    name = {node: f"dial{n}.ground" for n, node in enumerate(terminals, start=1)}
    others = sorted(set(graph) - set(terminals))
    name.update({node: f"ground~{node:03d}" for node in others})
    told = {frozenset((name[a], name[b])): length for (a, b), length in legs.items()}
    splices = tuple(SplicePoint(name[node], "ground", Point(0, 0, 0)) for node in others)
    limits = roomy_limits(splices=True, lugs_per_stud=8, wires_per_splice=8, **FREE)
    return posed(
        console_of(len(terminals)), limits, lambda a, b: told.get(frozenset((a, b))), splices
    )


def posed(
    console: Console,
    limits: Limits,
    length: Callable[[str, str], int | None],
    splices: tuple[SplicePoint, ...] = (),
) -> Problem:
    """The question over told lengths, on a shelf where everything joins everything."""
    stock = wide_shelf(fitting("closed end", "closed end", WIDER))
    return build_problem(console, limits, stock, told_routes(length, splices))


@pytest.mark.parametrize(
    "name",
    [
        "b01.stp",
        "b03.stp",
        "b05.stp",
        pytest.param("b07.stp", marks=pytest.mark.slow),
    ],
)
def test_steiner_trees_in_graphs(name: str) -> None:
    """The least wire over posts and splice points is the published optimum."""
    assert best(steiner_problem(DATASETS / "steinlib" / "B" / name)) == published(name)


# -- degree-constrained spanning trees (M. Krishnamoorthy and others, "structured hard") ---------


def read_shrd(path: Path) -> dict[frozenset[int], int]:
    """Distances by pair: a stream of the lower triangle, row by row."""
    numbers = iter(int(word) for word in path.read_text().split())
    found: dict[frozenset[int], int] = {}
    row = 2
    for number in numbers:
        rest = [number, *(next(numbers) for _ in range(row - 2))]
        for column, length in enumerate(rest, start=1):
            found[frozenset((row, column))] = length
        row += 1
    return found


def degree_problem(path: Path, degree: int) -> Problem:
    """One wire to a barrel, so a lug for each jumper; the landing has one lug for the pigtail.

    Every other stud keeps one lug for later, so that all hold ``degree`` jumpers.
    """
    pairs = read_shrd(path)
    count = max(max(pair) for pair in pairs)
    console = console_of(count)
    posts = tuple(
        replace(post, free_thread_dmm=900, reserved=0 if post.instrument == "dial1" else 1)
        for post in console.posts
    )
    told = {
        frozenset(f"dial{number}.ground" for number in pair): length
        for pair, length in pairs.items()
    }
    limits = roomy_limits(lugs_per_stud=degree + 1, **FREE)
    return posed(replace(console, posts=posts), limits, lambda a, b: told[frozenset((a, b))])


@pytest.mark.parametrize(
    ("file", "degree", "optimum"),
    [
        ("shrd150.txt", 5, 339),
        ("shrd150.txt", 4, 430),
        ("shrd150.txt", 3, 582),
        ("shrd200.txt", 5, 627),
        ("shrd200.txt", 4, 802),
        ("shrd200.txt", 3, 1088),
        ("shrd300.txt", 5, 1504),
        ("shrd300.txt", 4, 1905),
        ("shrd300.txt", 3, 2592),
    ],
)
def test_degree_constrained_trees(file: str, degree: int, optimum: int) -> None:
    """Studs with room for so many lugs: the least wire is the optimum stated in the collection."""
    assert best(degree_problem(DATASETS / "dcmst_shrd" / file, degree)) == optimum
