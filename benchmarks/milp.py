"""The whole problem as one MILP: the rows of the one model, and a flow that joins every tree.

Electrical rules are left out; where none binds, the optimum is that of the problem.
"""

from __future__ import annotations

import time
from collections import defaultdict
from dataclasses import dataclass

import highspy
import numpy as np
from one_model import ask_for_all, pose_all
from pyscipopt import Model, quicksum

from lugwright.model.bounds.rows import Row, Rows
from lugwright.model.formulation.objective import objective_of
from lugwright.model.formulation.variables import Variables
from lugwright.problem.schema import Problem


@dataclass(frozen=True)
class Ended:
    """Cost and bound (folded integers; None where there is none) and the CPU seconds it took."""

    cost: int | None
    bound: int | None
    cpu_s: float

    @property
    def proved(self) -> bool:
        """Whether they meet."""
        return self.cost is not None and self.cost == self.bound


@dataclass(frozen=True)
class Milp:
    """Rows over whole columns, then over ``flows`` more columns that are not whole."""

    rows: Rows
    more: list[Row]
    flows: int


def milp_of(problem: Problem) -> Milp:
    """The rows, with a flow from every supply that each node reached takes one of."""
    ask = ask_for_all(problem, frozenset())
    if ask is None:
        raise ValueError("no supply can land anywhere")
    posed = pose_all(problem, ask)
    posed.model.minimize(posed.terms.scalar(objective_of(problem)))
    rows = Rows(posed.model)
    more = flow_rows(problem, posed.v, len(rows.cost))
    return Milp(rows, more, len(posed.v.arcs))


def flow_rows(problem: Problem, v: Variables, first: int) -> list[Row]:
    """A flow along every jumper, in columns from ``first`` on, of which each node takes one."""
    more = list[Row]()
    into, out = defaultdict(list), defaultdict(list)
    for number, arc in enumerate(v.arcs):
        flow = first + number
        nodes = len(problem.circuit(arc.circuit).nodes)
        more.append(Row([flow, arc.use.index], [1, -nodes], None, 0))
        into[v.node_of[arc.circuit, arc.b].name, arc.circuit].append(flow)
        if not arc.take_off:
            out[v.node_of[arc.circuit, arc.a].name, arc.circuit].append(flow)
    for circuit in v.circuits:
        for node in circuit.nodes:
            key = node.name, circuit.name
            columns = [*into[key], *out[key]]
            numbers = [1] * len(into[key]) + [-1] * len(out[key])
            uses = [s.use.index for j in node.joints for s in v.sources_at[circuit.name, j]]
            columns, numbers = columns + uses, numbers + [len(circuit.nodes)] * len(uses)
            if node.name == circuit.root_node:
                continue  # what a way supplies starts here: its flow is as large as need be
            if node.needed:
                more.append(Row(columns, numbers, 1, None))
            else:
                more.append(Row([*columns, v.used[node.name].index], [*numbers, -1], 0, None))
    return more


def by_highs(milp: Milp, seconds: float) -> Ended:
    """HiGHS, one thread; the threads that another solver of this process began are ended first."""
    highspy.Highs.resetGlobalScheduler(True)
    rows, solver, started = milp.rows, highspy.Highs(), time.process_time()
    for name, value in (("output_flag", False), ("threads", 1), ("time_limit", seconds)):
        solver.setOptionValue(name, value)
    solver.setOptionValue("mip_rel_gap", 0.0)
    whole = len(rows.cost)
    for low, high, cost in zip(rows.low, rows.high, rows.cost, strict=True):
        solver.addCol(float(cost), float(low), float(high), 0, [], [])
    for _ in range(milp.flows):
        solver.addCol(0.0, 0.0, highspy.kHighsInf, 0, [], [])
    kinds = [highspy.HighsVarType.kInteger] * whole
    solver.changeColsIntegrality(whole, np.arange(whole, dtype=np.int32), kinds)
    far = highspy.kHighsInf
    for row in [*rows.rows, *milp.more]:
        low = -far if row.low is None else float(row.low)
        high = far if row.high is None else float(row.high)
        index, numbers = np.array(row.columns, dtype=np.int32), np.array(row.numbers, dtype=float)
        solver.addRow(low, high, len(index), index, numbers)
    solver.run()
    info = solver.getInfo()
    found = info.primal_solution_status == 2
    cost = round(info.objective_function_value) + rows.offset if found else None
    bound = info.mip_dual_bound
    known = None if abs(bound) > 1e15 else int(-(-(bound - 1e-4) // 1)) + rows.offset
    return Ended(cost, known, round(time.process_time() - started, 2))


def by_scip(milp: Milp, seconds: float) -> Ended:
    """SCIP, one thread."""
    rows, model, started = milp.rows, Model(), time.process_time()
    model.hideOutput()
    model.setParam("limits/time", seconds)
    columns = [
        model.addVar(vtype="I", lb=int(low), ub=int(high), obj=int(cost))
        for low, high, cost in zip(rows.low, rows.high, rows.cost, strict=True)
    ]
    columns += [model.addVar(vtype="C", lb=0) for _ in range(milp.flows)]
    for row in [*rows.rows, *milp.more]:
        if not row.columns:
            continue
        pairs = zip(row.numbers, row.columns, strict=True)
        summed = quicksum(number * columns[column] for number, column in pairs)
        if row.low is not None:
            model.addCons(summed >= row.low)
        if row.high is not None:
            model.addCons(summed <= row.high)
    model.optimize()
    cost = round(model.getObjVal()) + rows.offset if model.getNSols() else None
    bound = model.getDualbound()
    known = None if abs(bound) > 1e15 else int(-(-(bound - 1e-4) // 1)) + rows.offset
    return Ended(cost, known, round(time.process_time() - started, 2))
