"""One circuit (or everything) of every variant of a family in one model."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from lugwright.model import solver as cp_model
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Status
from lugwright.model.formulation.costs import cost_terms
from lugwright.model.formulation.electrics import add_electrics
from lugwright.model.formulation.joints import add_joints
from lugwright.model.formulation.lug_currents import add_lug_currents
from lugwright.model.formulation.pose import Posed, hint_all, new_solver, read_answer
from lugwright.model.formulation.trees import add_cut, add_trees, likely_cuts
from lugwright.model.formulation.variables import Linear, Variables, make_variables, total
from lugwright.model.solving.solve import cut_apart
from lugwright.problem.schema import Problem

PartKey = tuple[str, frozenset[str], str, int]
"""A jumper as a part: circuit, the joints at its ends, wire size, cut length (0.1 mm)."""


@dataclass(frozen=True)
class Variant:
    """One variant: its problem, its boats in the mix, and where its splice points lie.

    ``places`` gives a splice point's id the name that means the same place in every variant.
    """

    problem: Problem
    boats: int
    places: Mapping[str, str] = field(default_factory=dict)

    def part(self, circuit: str, a: str, b: str, size: str, length_dmm: int) -> PartKey:
        """The part a jumper between two joints is."""
        ends = frozenset((self.places.get(a, a), self.places.get(b, b)))
        return circuit, ends, size, length_dmm


@dataclass(frozen=True)
class Joined:
    """The end of one joint ask: an answer for each variant that takes part."""

    status: Status
    answers: Mapping[int, Answer] = field(default_factory=dict)
    bound: int = 0


def solve_members(
    members: Sequence[tuple[int, Variant, Ask]], part_micro: int, clock: Clock
) -> Joined:
    """The least of one model that holds an ask of each variant and pays once for each part.

    ``members`` are (number, variant, ask); ``part_micro`` is the price of a distinct jumper.
    """
    model, solver, posed = pose_members(members, part_micro)
    return _run_members(posed, model, solver, clock)


def pose_members(
    members: Sequence[tuple[int, Variant, Ask]], part_micro: int
) -> tuple[cp_model.CpModel, cp_model.CpSolver, dict[int, Posed]]:
    """The model of ``solve_members``, its solver, and each variant's part of it."""
    model, solver = cp_model.CpModel(), new_solver()
    posed: dict[int, Posed] = {}
    money: list[Linear] = []
    uses: dict[PartKey, list[cp_model.IntVar]] = {}
    for at, variant, ask in members:
        v = make_variables(variant.problem, ask, model)
        add_trees(v)
        for circuit in v.circuits:
            for names in likely_cuts(circuit):
                add_cut(v, circuit, names)
        add_joints(v)
        add_electrics(v)
        add_lug_currents(v)
        terms = cost_terms(v)
        posed[at] = Posed(v, terms, model, solver)
        money.append(variant.boats * terms.money)
        for key, own in _uses(variant, v).items():
            uses.setdefault(key, []).extend(own)
    bought = [_bought(model, uses[key]) for key in sorted(uses, key=_part_order)]
    model.minimize(total(money) + part_micro * total(bought))
    return model, solver, posed


def _part_order(key: PartKey) -> tuple[str, tuple[str, ...], str, int]:
    circuit, ends, size, length = key
    return circuit, tuple(sorted(ends)), size, length


def _uses(variant: Variant, v: Variables) -> dict[PartKey, list[cp_model.IntVar]]:
    found: dict[PartKey, list[cp_model.IntVar]] = {}
    for arc in v.arcs:
        key = variant.part(arc.circuit, arc.a, arc.b, arc.choice.size, arc.edge.length_dmm)
        found.setdefault(key, []).append(arc.use)
    return found


def _bought(model: cp_model.CpModel, uses: Sequence[cp_model.IntVar]) -> cp_model.IntVar:
    """Whether any variant uses a part."""
    bought = model.new_bool_var("")
    for use in uses:
        model.add_implication(use, bought)
    return bought


def _run_members(
    posed: Mapping[int, Posed],
    model: cp_model.CpModel,
    solver: cp_model.CpSolver,
    clock: Clock,
) -> Joined:
    """Solve, and add cuts until every variant hangs together."""
    bound = 0
    while True:
        status = clock.run(solver, model)
        if status == cp_model.INFEASIBLE:
            return Joined(Status.NONE)
        if status == cp_model.MODEL_INVALID:
            raise RuntimeError(f"the model is not valid: {model.validate()}")
        bound = max(bound, int(solver.best_objective_bound + 1e-3))
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Joined(Status.UNKNOWN, bound=bound)
        apart = [cut_apart(one) for one in posed.values()]
        if not any(apart):
            answers = {at: read_answer(one) for at, one in posed.items()}
            if status == cp_model.OPTIMAL:
                return Joined(Status.BEST, answers, round(solver.objective_value))
            return Joined(Status.SOME, answers, bound)
        if clock.over:
            return Joined(Status.UNKNOWN, bound=bound)
        hint_all(next(iter(posed.values())))
