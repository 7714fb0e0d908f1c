"""Trees against references that know nothing of this program: networkx, and HiGHS by scipy.

With slack, allowances and worths at zero a circuit's wire is the minimum spanning tree over its
posts (R. C. Prim 1957; networkx's algorithm). With one wire to a barrel and few lugs to a stud it
is a degree-constrained spanning tree: here a single-commodity flow model (B. Gavish, "Topological
design of centralized computer networks", Networks 12, 1982) with degree rows, solved by HiGHS.
"""

from __future__ import annotations

from itertools import combinations
from math import hypot
from random import Random

import networkx
import numpy
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from support.asking import (
    ask,
    change_post,
    choice_of,
    cost_of,
    impossible,
    roomy_limits,
    wide_stock,
)
from support.consoles import THREAD, tiny_console

from lugwright.base.scale import ceil_hypot
from lugwright.scenario.console import Console

FREE = {"lug_worth_dmm": 0, "fitting_worth_dmm": 0, "lugs_per_stud": 8}
NUT_DMM, TONGUE_DMM = 32, 8


def random_dials(rng: Random, least: int, most: int) -> list[tuple[float, float]]:
    """Centres of a few dials at least 70 mm apart, on a grid of 0.1 mm."""
    centres: list[tuple[float, float]] = []
    wanted = rng.randint(least, most)
    while len(centres) < wanted:
        x, y = rng.randint(400, 5600) / 10, rng.randint(400, 5600) / 10
        if all(hypot(x - a, y - b) >= 70 for a, b in centres):
            centres.append((x, y))
    return centres


def lengths(console: Console, circuit: str) -> dict[tuple[str, str], int]:
    """Plain distances between a circuit's posts, all at one height, each rounded up."""
    posts = [console.post(name) for name in console.circuit(circuit).posts]
    return {
        (a.id, b.id): ceil_hypot(a.at.x_dmm - b.at.x_dmm, a.at.y_dmm - b.at.y_dmm)
        for a, b in combinations(posts, 2)
    }


def spanning(console: Console, circuit: str) -> int:
    """Length of networkx's minimum spanning tree over a circuit's posts."""
    graph: networkx.Graph[str] = networkx.Graph()
    for (a, b), length in lengths(console, circuit).items():
        graph.add_edge(a, b, weight=length)
    return int(networkx.minimum_spanning_tree(graph).size(weight="weight"))


@pytest.mark.parametrize("seed", range(14))
def test_wire_is_that_of_minimum_spanning_trees(seed: int) -> None:
    """Ignition and ground of four to ten dials: the two trees' lengths add up, at any hub."""
    console = tiny_console(random_dials(Random(seed), 4, 10), lamps=False, size_mm=(600, 600))
    expected = spanning(console, "ignition") + spanning(console, "ground")
    outcome = ask(console, roomy_limits(**FREE), wide_stock())
    assert cost_of(outcome) == expected
    assert len(choice_of(outcome).jumpers) == 2 * (len(console.instruments) - 1)


@pytest.mark.parametrize("seed", range(100, 106))
def test_lamps_ride_on_the_best_hub(seed: int) -> None:
    """Lamps on studs: their own tree, and the shortest jumper from any dial's ignition to a
    lamp.
    """
    console = tiny_console(random_dials(Random(seed), 4, 6), size_mm=(600, 600))
    for post in console.circuit("lamps").posts:
        console = change_post(console, post, kind="stud", thread=THREAD, free_thread_dmm=900)
    take_off = min(
        ceil_hypot(
            console.post(a).at.x_dmm - console.post(b).at.x_dmm,
            console.post(a).at.y_dmm - console.post(b).at.y_dmm,
        )
        for a in console.circuit("ignition").posts
        for b in console.circuit("lamps").posts
    )
    trees = sum(spanning(console, circuit) for circuit in ("ignition", "ground", "lamps"))
    outcome = ask(console, roomy_limits(**FREE), wide_stock())
    assert cost_of(outcome) == trees + take_off


def limited(rng: Random) -> tuple[Console, dict[str, int]]:
    """Five to eight dials, each stud with thread for two to four lugs, and how many each holds."""
    console = tiny_console(random_dials(rng, 5, 8), lamps=False, size_mm=(600, 600))
    places = {}
    for post in console.posts:
        places[post.id] = rng.choice((1, 2, 2, 3))
        room = NUT_DMM + TONGUE_DMM * places[post.id]
        console = change_post(console, post.id, free_thread_dmm=room)
    return console, places


def least_wire(console: Console, places: dict[str, int]) -> int | None:
    """Least wire of two degree-constrained trees on one hub, by HiGHS; None where there are none.

    Columns: hub y_i, then per circuit for each edge a use x_e and a flow either way f_e, g_e.
    The hub sends one unit to every other post; a post holds its jumpers, the hub one lug more.
    """
    dials = len(console.instruments)
    edges = list(combinations(range(dials), 2))
    width = 3 * len(edges)
    columns = dials + 2 * width
    cost = numpy.zeros(columns)
    rows: list[tuple[dict[int, float], float, float]] = [
        (dict.fromkeys(range(dials), 1.0), 1, 1),
    ]
    for number, circuit in enumerate(("ignition", "ground")):
        posts = console.circuit(circuit).posts
        length = lengths(console, circuit)
        first = dials + number * width
        for e, (i, j) in enumerate(edges):
            use, there, back = first + e, first + len(edges) + e, first + 2 * len(edges) + e
            cost[use] = length[posts[i], posts[j]]
            for flow in (there, back):
                rows.append(({flow: 1.0, use: -(dials - 1.0)}, -numpy.inf, 0))
        for i in range(dials):
            degree: dict[int, float] = {i: 1.0}
            balance: dict[int, float] = {i: float(dials)}
            for e, pair in enumerate(edges):
                if i in pair:
                    use, there = first + e, first + len(edges) + e
                    back = first + 2 * len(edges) + e
                    degree[use] = 1.0
                    sign = 1.0 if pair[1] == i else -1.0
                    balance[there], balance[back] = sign, -sign
            rows.append((degree, -numpy.inf, places[posts[i]]))
            rows.append((balance, 1, 1))  # in − out = 1; at the hub dials − out = 1
        used: dict[int, float] = {first + e: 1.0 for e in range(len(edges))}
        rows.append((used, dials - 1, dials - 1))
    matrix = numpy.zeros((len(rows), columns))
    for r, (entries, _, _) in enumerate(rows):
        for column, value in entries.items():
            matrix[r, column] = value
    whole = numpy.zeros(columns)
    upper = numpy.full(columns, dials - 1.0)
    whole[:dials] = upper[:dials] = 1
    for number in range(2):
        span = slice(dials + number * width, dials + number * width + len(edges))
        whole[span] = upper[span] = 1
    low, high = (numpy.array([row[k] for row in rows]) for k in (1, 2))
    found = milp(
        cost,
        constraints=LinearConstraint(matrix, low, high),
        integrality=whole,
        bounds=Bounds(0, upper),
        options={"mip_rel_gap": 0},
    )
    assert found.status in (0, 2)  # optimal, infeasible
    return round(found.fun) if found.status == 0 else None


@pytest.mark.parametrize("seed", range(200, 210))
def test_wire_is_that_of_degree_constrained_trees(seed: int) -> None:
    """One wire to a barrel, one to three lugs to a stud, one hub for both: HiGHS agrees."""
    console, places = limited(Random(seed))
    limits = roomy_limits(wires_per_barrel=1, **FREE)
    outcome = ask(console, limits, wide_stock())
    expected = least_wire(console, places)
    if expected is None:
        assert impossible(outcome)
    else:
        assert cost_of(outcome) == expected


def test_the_degree_limited_cases_are_worth_asking() -> None:
    """In most of them the limit costs wire or leaves no plan: the plain trees would not do."""
    bound = 0
    for seed in range(200, 210):
        console, places = limited(Random(seed))
        plain = spanning(console, "ignition") + spanning(console, "ground")
        bound += least_wire(console, places) != plain
    assert bound >= 6
