"""Open tree problems put as one circuit with many posts, through the program's own problem code.

Terminals are posts, other nodes candidate splice points; a degree limit is room on a stud, a
capacity the ampacity of the wire, several cable sizes the choice of wire size. Formats:

- ``.stp``: Steiner trees in graphs (SteinLib; T. Koch, A. Martin, S. Voss)
- a lower triangle of distances, row by row: spanning trees under a degree limit (M. Krishnamoorthy
  and others), one case for each limit from 2 to 5
- n, then a matrix of n + 1 rows: capacitated spanning trees (OR-Library, J. E. Beasley), the root
  last, each other node draws 1; one case for each capacity 3, 5, 10, 20, 40
- ``.in``: several instances of multi-level capacitated trees, each with its optimum first
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import isqrt
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from support.asking import HARDWARE, fitting, only_ground, roomy_limits, spool
from support.consoles import tiny_console

from lugwright.limits.schema import Limits
from lugwright.model.bounds.by_landing import Bounds
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import CURRENTS, Ask, Solved
from lugwright.model.formulation.objective import objective_of
from lugwright.model.formulation.trials import Trial
from lugwright.model.solving.solve import solve_ask
from lugwright.problem.build import build_problem
from lugwright.problem.schema import Problem
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Corner, Routes, SplicePoint
from lugwright.routes.schema import Path as WirePath
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console, Point
from lugwright.stock.schema import Barrel, Stock

HERE = Path(__file__).parent
FAR = np.iinfo(np.int64).max // 4
ANY = Barrel(1, 10**12, 10**9, 60)
FREE = {
    "lug_worth_dmm": 0,
    "fitting_worth_dmm": 0,
    "wires_per_barrel": 1,
    "rate_micro_per_hour": 0,
}
DEGREES = (2, 3, 4, 5)
CAPACITIES = (3, 5, 10, 20, 40)
SIZES = ("16 AWG", "14 AWG", "12 AWG", "10 AWG")
PER_LENGTH = 10_000  # a price of this many millionths a metre is one millionth per 0.1 mm

Matrix = NDArray[np.int64]
Told = Callable[[str, str], int | None]


@dataclass(frozen=True)
class Instance:
    """One problem: its name, the optimum as published (None: not known) and the question.

    ``unit``: our whole numbers are the published ones times this. ``families``: the electrical
    rules that stand for its capacities.
    """

    name: str
    optimum: float | None
    pose: Callable[[], Problem]
    unit: int = 1
    families: frozenset[str] = frozenset()


def solve_tree(
    problem: Problem, seconds: float | None = None, families: frozenset[str] = frozenset()
) -> Solved:
    """The one circuit landed on the one hub: bounded, then solved, as a search does it."""
    (circuit,) = problem.circuits
    objective, clock = objective_of(problem), Clock(seconds)
    landings = ((circuit.name, tuple(landing.post for landing in circuit.landings)),)
    sizes = ((circuit.name, tuple(choice.size for choice in circuit.choices)),)
    bounds = Bounds(problem, objective, clock)
    bounds.land_on([Trial("root", landings)])
    ask = Ask((circuit.name,), landings, sizes, families)
    return solve_ask(problem, ask, objective, clock, bounds.narrow(ask))


def instances(folder: Path) -> Iterator[Instance]:
    """Every instance of every file in a folder, smaller files first."""
    tables = {*folder.rglob("*.csv"), *folder.resolve().parent.glob("*.csv")}
    optima = _optima([HERE / "published.csv", *sorted(tables)])
    files = (path for path in folder.rglob("*") if path.suffix in (".stp", ".txt", ".in"))
    for path in sorted(files, key=lambda path: (path.stat().st_size, path.name)):
        yield from _of_file(path, optima)


def _of_file(path: Path, optima: dict[str, float]) -> Iterator[Instance]:
    if path.suffix == ".stp":
        yield Instance(path.name, optima.get(path.name), lambda: steiner_problem(path))
    elif path.suffix == ".in":
        yield from _levels(path)
    else:
        numbers = [int(word) for word in path.read_text().split()]
        if len(numbers) == 1 + (numbers[0] + 1) ** 2:
            yield from _capacitated(path.name, numbers, optima)
        else:
            yield from _by_degree(path.name, numbers, optima)


def _optima(files: list[Path]) -> dict[str, float]:
    found: dict[str, float] = {}
    for path in files:
        with path.open(newline="") as file:
            for row in csv.DictReader(file):
                if row.get("filename") and row.get("opt"):
                    found[row["filename"]] = float(row["opt"])
    return found


# -- posing ---------------------------------------------------------------------------------------


def console_of(posts: int, hub: int = 1) -> Console:
    """A circuit of that many like posts; where they lie is told by the routes alone.

    Each draws 1 mA. Studs have thread for any number of lugs.
    """
    centres = [(60.0 + 10 * number, 60.0) for number in range(posts)]
    console = tiny_console(
        centres, lamps=False, hub_candidates=[hub], dial_ma=1, free_thread_mm=90_000
    )
    return only_ground(console)


def told_routes(length: Told, splices: tuple[SplicePoint, ...]) -> Routes:
    """Routes whose lengths are given; where none is, no wire may run."""
    nowhere = Corner(Point(0, 0, 0))

    def find(a: str, b: str) -> WirePath:
        known = length(a, b)
        if known is None:
            raise NoPath(a, b, ("the problem as published",))
        return WirePath((nowhere, nowhere), known)

    def find_entry(entry: Point, post: str) -> WirePath:
        return WirePath((nowhere, nowhere), 0)

    return Routes({"ground": splices}, find, find_entry)


def posed(
    console: Console,
    limits: Limits,
    length: Told,
    splices: tuple[SplicePoint, ...] = (),
    prices: tuple[int, ...] = (PER_LENGTH,),
) -> Problem:
    """The question over told lengths, on a stock where everything joins everything for nothing.

    ``prices`` by wire size, per metre.
    """
    spools = [spool(size, "black", price) for size, price in zip(SIZES, prices, strict=False)]
    fittings = (
        fitting("ring", "ring", ANY, price_micro=0, barrel_angle_deg=1),
        fitting("closed end", "closed end", ANY, price_micro=0),
    )
    stock = Stock(tuple(spools), fittings, HARDWARE, ())
    return build_problem(Brief(console, limits, stock), told_routes(length, splices))


def post(number: int) -> str:
    """The post that stands for a node."""
    return f"dial{number}.ground"


def _between(lengths: Matrix, root: int) -> Told:
    """Distances of a matrix whose ``root`` is post 1 and the others follow in order."""
    order = [root, *(node for node in range(len(lengths)) if node != root)]
    at = {post(number): node for number, node in enumerate(order, start=1)}
    return lambda a, b: int(lengths[at[a], at[b]])


# -- Steiner trees in graphs ----------------------------------------------------------------------


def read_stp(path: Path) -> tuple[Matrix, list[int]]:
    """Lengths of the graph's edges (``FAR`` where none is) and the terminals, counted from 0."""
    lengths: Matrix = np.zeros((0, 0), dtype=np.int64)
    terminals = []
    for line in path.read_text().splitlines():
        words = line.split()
        if words[:1] == ["Nodes"]:
            lengths = np.full((int(words[1]), int(words[1])), FAR, dtype=np.int64)
            np.fill_diagonal(lengths, 0)
        elif words[:1] in (["E"], ["A"]):
            a, b, length = int(words[1]) - 1, int(words[2]) - 1, int(words[3])
            lengths[a, b] = lengths[b, a] = min(lengths[a, b], length)
        elif words[:1] == ["T"]:
            terminals.append(int(words[1]) - 1)
    return lengths, terminals


def legs_worth_keeping(lengths: Matrix, terminals: list[int]) -> dict[tuple[int, int], int]:
    """Shortest ways between any two nodes, those left out that no best tree needs.

    A splice joins three ends or more, so a node merely passed through must be part of a longer
    leg: hence all shortest ways, and not the graph's own edges. A leg longer than its bottleneck
    over terminals can be exchanged for a shorter one (C. W. Duin and A. Volgenant, "Reduction
    tests for the Steiner problem in graphs", Networks 19, 1989, special distance).
    """
    away = lengths.copy()
    for middle in range(len(away)):  # R. W. Floyd, "Algorithm 97: shortest path", CACM 5, 1962
        np.minimum(away, away[:, middle, None] + away[None, middle], out=away)
    widest = away[np.ix_(terminals, terminals)].copy()
    for middle in range(len(terminals)):  # the same with the longest leg in place of the sum
        np.minimum(widest, np.maximum(widest[:, middle, None], widest[None, middle]), out=widest)
    worth = np.triu(np.ones(away.shape, dtype=bool), 1) & (away < FAR)
    for s, first in enumerate(terminals):
        over = np.full(len(away), FAR, dtype=np.int64)
        for t, last in enumerate(terminals):
            np.minimum(over, np.maximum(away[:, last], widest[s, t]), out=over)
        worth &= away <= np.maximum(away[:, first, None], over[None, :])
        through = away[:, first, None] + away[None, first] == away
        through[first] = through[:, first] = False
        worth &= ~through
    return {(a, b): int(away[a, b]) for a, b in np.argwhere(worth).tolist()}


def steiner_problem(path: Path) -> Problem:
    """Terminals as posts, every other node as a candidate splice point."""
    lengths, terminals = read_stp(path)
    legs = legs_worth_keeping(lengths, terminals)
    name = {node: post(number) for number, node in enumerate(terminals, start=1)}
    ends: dict[int, int] = dict.fromkeys(range(len(lengths)), 0)
    for pair in legs:
        for node in pair:
            ends[node] += 1
    others = [node for node in range(len(lengths)) if node not in name and ends[node] >= 3]
    name.update({node: f"ground~{node:05d}" for node in others})
    told = {
        frozenset((name[a], name[b])): length
        for (a, b), length in legs.items()
        if a in name and b in name
    }
    splices = tuple(SplicePoint(name[node], "ground", Point(0, 0, 0)) for node in others)
    most = max(3, len(terminals))  # a best tree has no more leaves than terminals
    limits = roomy_limits(splices=True, lugs_per_stud=most, wires_per_splice=most, **FREE)
    return posed(
        console_of(len(terminals)), limits, lambda a, b: told.get(frozenset((a, b))), splices
    )


# -- spanning trees -------------------------------------------------------------------------------


def lower_triangle(numbers: list[int]) -> Matrix:
    """A matrix from its lower triangle without the diagonal, row by row. ValueError when none."""
    count = (1 + isqrt(1 + 8 * len(numbers))) // 2
    if count * (count - 1) // 2 != len(numbers):
        raise ValueError(f"{len(numbers)} numbers are no lower triangle")
    lengths = np.zeros((count, count), dtype=np.int64)
    lengths[np.tril_indices(count, -1)] = numbers
    full: Matrix = lengths + lengths.T
    return full


def degree_problem(lengths: Matrix, degree: int) -> Problem:
    """One wire to a barrel, so a lug for each jumper; the landing has one lug for the pigtail.

    Every other stud keeps one lug for later, so that all hold ``degree`` jumpers.
    """
    console = console_of(len(lengths))
    posts = tuple(
        replace(each, reserved=0 if each.instrument == "dial1" else 1) for each in console.posts
    )
    limits = roomy_limits(lugs_per_stud=degree + 1, **FREE)
    return posed(replace(console, posts=posts), limits, _between(lengths, 0))


def _by_degree(name: str, numbers: list[int], optima: dict[str, float]) -> Iterator[Instance]:
    lengths = lower_triangle(numbers)
    for degree in DEGREES:
        case = f"{name} degree {degree}"
        yield Instance(case, optima.get(case), lambda d=degree: degree_problem(lengths, d))  # type: ignore[misc]


def capacity_problem(lengths: Matrix, root: int, capacity: int) -> Problem:
    """Every jumper carries at most so many mA, and every post draws one."""
    limits = roomy_limits(lugs_per_stud=len(lengths), **FREE)
    return _with_caps(posed(console_of(len(lengths)), limits, _between(lengths, root)), [capacity])


def _with_caps(problem: Problem, caps_ma: list[int]) -> Problem:
    (circuit,) = problem.circuits
    choices = tuple(
        replace(choice, cap_ma=caps_ma[SIZES.index(choice.size)]) for choice in circuit.choices
    )
    return replace(problem, circuits=(replace(circuit, choices=choices),))


def _capacitated(name: str, numbers: list[int], optima: dict[str, float]) -> Iterator[Instance]:
    count = numbers[0] + 1
    lengths = np.array(numbers[1:], dtype=np.int64).reshape(count, count)
    for capacity in CAPACITIES:
        case = f"{name} capacity {capacity}"
        yield Instance(
            case,
            optima.get(case),
            lambda c=capacity: capacity_problem(lengths, count - 1, c),  # type: ignore[misc]
            families=frozenset({CURRENTS}),
        )


def _levels(path: Path) -> Iterator[Instance]:
    """Instances whose cost of every size is that of the first times a whole number."""
    words = iter(path.read_text().split())
    for number in range(1, int(next(words)) + 1):
        optimum = float(next(words))
        count, root, levels = (int(next(words)) for _ in range(3))
        demands = [int(next(words)) for _ in range(count)]
        caps, costs = [], []
        for _ in range(levels):
            caps.append(int(next(words)))
            costs.append(np.array([float(next(words)) for _ in range(count * count)]))
        apart = costs[0] > 0
        times = [round(float(np.median(cost[apart] / costs[0][apart]))) for cost in costs]
        if any(demand != 1 for n, demand in enumerate(demands) if n != root):
            raise ValueError(f"{path.name}: only demands of 1 are posed")
        if any(abs(cost - t * costs[0]).max() > 0.01 for t, cost in zip(times, costs, strict=True)):
            raise ValueError(f"{path.name}: the sizes' costs are no multiples of each other")
        unit = 10_000
        lengths = np.rint(costs[0] * unit).astype(np.int64).reshape(count, count)
        yield Instance(
            f"{path.name} {number}",
            optimum,
            lambda a=(lengths, root, caps, times): level_problem(*a),  # type: ignore[misc]
            unit,
            frozenset({CURRENTS}),
        )


def level_problem(lengths: Matrix, root: int, caps_ma: list[int], times: list[int]) -> Problem:
    """A wire size for each level: the most it carries, and its price."""
    limits = roomy_limits(
        lugs_per_stud=len(lengths), wire_size_choice="jumper", objective="cheapest", **FREE
    )
    prices = tuple(PER_LENGTH * factor for factor in times)
    problem = posed(console_of(len(lengths)), limits, _between(lengths, root), prices=prices)
    return _with_caps(problem, caps_ma)
