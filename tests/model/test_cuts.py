"""Cuts kept as sets of nodes, and prices on them: against the same rows written out."""

from __future__ import annotations

from itertools import product
from random import Random

import highspy
import networkx as nx
import numpy as np
import pytest
from brute.random_consoles import random_case
from instances import capacity_problem
from ortools.sat.python import cp_model

from lugwright.model.bounds.directed_cuts import NONE, Cuts
from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.bounds.farkas import refuses
from lugwright.model.bounds.linear_program import Linear
from lugwright.model.bounds.rows import Row, Rows
from lugwright.model.bounds.weak_duality import WeakDuality
from lugwright.model.formulation.ask import CURRENTS, Ask
from lugwright.model.formulation.objective import objective_of
from lugwright.model.formulation.pose import pose
from lugwright.model.formulation.trials import Trial, hub_landings, landings_anywhere, parts_of
from lugwright.model.formulation.variables import Variables
from lugwright.problem.build import build_problem

SEEDS = range(100, 108)


def variables_of(seed: int) -> Variables:
    """The first part of a small random console, landing wherever it may."""
    case = random_case(seed)
    problem = build_problem(case.brief, case.routes())
    trials = [Trial(hub, landings) for hub, landings in hub_landings(problem)]
    anywhere = landings_anywhere(trials)
    if anywhere is None:
        pytest.skip("no supply lands anywhere")
    part = parts_of(problem, anywhere, SizeSets(problem, objective_of(problem)).thin)[0]
    posed = pose(problem, part, objective_of(problem), cuts=(), linear=True)
    posed.model.minimize(posed.terms.scalar(objective_of(problem)))
    return posed.v


def written_out(cuts: Cuts) -> list[Row]:
    """Every cut as a row over columns."""
    rows = []
    for cut in cuts.rows:
        columns, numbers = (each.tolist() for each in cuts.into(cut))
        if cut.wanted != NONE:
            columns, numbers = [*columns, cut.wanted], [*numbers, -1]
        rows.append(Row(columns, numbers, cut.least, None))
    return rows


@pytest.mark.parametrize("seed", SEEDS)
def test_prices_on_cuts_come_to_what_their_rows_say(seed: int) -> None:
    """What columns pay, and the bound, are those of the same rows written out one by one."""
    v, random = variables_of(seed), Random(seed)
    rows, plain = Rows(v.model), Rows(v.model)
    cuts = Cuts(v)
    for _ in range(4):
        cuts.add_broken(np.array([random.random() / 3 for _ in rows.cost]))
    plain.rows += written_out(cuts)
    prices = np.array([random.uniform(0, 40) for _ in plain.rows])
    paid = cuts.paid_by(prices[len(rows.rows) :], len(rows.cost))
    expected = np.zeros(len(rows.cost))
    for row, price in zip(plain.rows[len(rows.rows) :], prices[len(rows.rows) :], strict=True):
        np.add.at(expected, list(row.columns), price * np.array(row.numbers))
    assert np.allclose(paid, expected)
    compact, full = (
        WeakDuality(rows, cuts).bound(prices, rows.high),
        WeakDuality(plain).bound(prices, rows.high),
    )
    assert compact is not None
    assert full is not None
    assert compact[0] == full[0]
    assert (compact[1] == full[1]).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_entries_of_new_columns_are_those_of_the_rows(seed: int) -> None:
    """Columns handed over late find themselves in the cuts that lead into their nodes."""
    v, random = variables_of(seed), Random(seed)
    cuts = Cuts(v)
    cuts.add_broken(np.array([random.random() / 3 for _ in Rows(v.model).cost]))
    columns = np.array([arc.use.index for arc in v.arcs[::2]])
    numbers, places, ways = (each.tolist() for each in cuts.entries_of(columns))
    found = set(zip(numbers, places, strict=True))
    assert set(ways) <= {1}
    wanted = set(columns.tolist())
    expected = {
        (number, column)
        for number, cut in enumerate(cuts.rows)
        for column in cuts.into(cut)[0].tolist()
        if column in wanted
    }
    assert found == expected


class _NoNets(Cuts):
    """No cuts of no circuits."""

    def __init__(self) -> None:
        self.nets, self.rows, self._matrices = [], [], {}


def small(least: int) -> Rows:
    """Two switches of which so many must be on, each at a cost of 1."""
    model = cp_model.CpModel()
    switches = [model.new_bool_var("a"), model.new_bool_var("b")]
    model.add(sum(switches) >= least)
    model.minimize(sum(switches))
    return Rows(model)


def test_a_refusal_is_proved_in_whole_numbers() -> None:
    """Three of two cannot be on: HiGHS says so, and its prices prove it; of two no prices do."""
    rows = small(3)
    linear = Linear(rows, _NoNets(), np.ones(2, dtype=bool))
    assert linear.solve(None) is None
    assert linear.refusal is not None
    worth = WeakDuality(rows, _NoNets())
    assert any(refuses(worth, sign * linear.refusal, rows.high) for sign in (1, -1))
    assert worth.beyond == 3
    possible = WeakDuality(small(2), _NoNets())
    random = Random(1)
    for _ in range(50):
        assert not refuses(possible, np.array([random.gauss(0, 10)]), rows.high)


def test_another_solver_in_the_process_does_not_stop_ours() -> None:
    """HiGHS keeps one set of threads a process; whoever asked for how many, ours is solved."""
    other = highspy.Highs()
    other.setOptionValue("output_flag", False)
    other.setOptionValue("threads", 2)
    other.addCol(1.0, 0.0, 1.0, 0, [], [])
    other.run()
    solved = Linear(small(2), _NoNets(), np.ones(2, dtype=bool)).solve(None)
    assert solved is not None
    assert solved[0].tolist() == [1.0, 1.0]


def test_prices_that_are_no_numbers_refuse_nothing() -> None:
    """An unfinished solve may hand over anything."""
    rows = small(3)
    for price in (np.nan, np.inf, 0.0):
        assert not refuses(WeakDuality(rows, _NoNets()), np.array([price]), rows.high)


def capacitated(capacity: int) -> Variables:
    """A circuit of seven posts, each drawing 1 mA, in a wire that carries so much."""
    matrix = np.array(
        [[abs(a - b) * 10 + (a * b) % 7 for b in range(7)] for a in range(7)], dtype=np.int64
    )
    problem = capacity_problem(matrix, 0, capacity)
    (circuit,) = problem.circuits
    landings = ((circuit.name, tuple(landing.post for landing in circuit.landings)),)
    sizes = ((circuit.name, tuple(choice.size for choice in circuit.choices)),)
    ask = Ask((circuit.name,), landings, sizes, frozenset({CURRENTS}))
    posed = pose(problem, ask, objective_of(problem), cuts=(), linear=True)
    posed.model.minimize(posed.terms.scalar(objective_of(problem)))
    return posed.v


@pytest.mark.parametrize("capacity", [2, 3])
def test_ways_are_counted_by_what_they_carry(capacity: int) -> None:
    """Every row that is found holds for every tree whose branches keep the capacity: all trees on
    the landing and six posts are tried."""
    v = capacitated(capacity)
    cuts, random = Cuts(v, caps=True), Random(capacity)
    (net,) = cuts.nets
    for _ in range(6):
        cuts.add_broken(np.array([random.random() / 4 for _ in Rows(v.model).cost]))
    rows = [row for row in cuts.rows if row.unit]
    assert rows
    root = net.names.index(v.node_of[net.circuit.name, v.sources[0].landing.post].name)
    others = [node for node in range(1, len(net.names)) if node != root]
    kept = 0
    for tree in (nx.from_prufer_sequence(list(s)) for s in product(range(7), repeat=5)):
        directed = nx.bfs_tree(tree, 0)
        below = {n: 1 + sum(1 for _ in nx.descendants(directed, n)) for n in range(1, 7)}
        if max(below.values()) > capacity:
            continue
        kept += 1
        number = dict(zip(range(7), [root, *others], strict=True))
        arcs = [(number[a], number[b]) for a, b in directed.edges]
        for row in rows:
            into = sum(row.inside[b] and not row.inside[a] for a, b in arcs)
            into += 6 * bool(row.inside[root])
            assert into >= row.least
    assert kept > 10
