"""An ask as a CP-SAT model: built, started from an answer known, and read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lugwright.model import solver as cp_model
from lugwright.model.formulation.ask import Answer, Ask
from lugwright.model.formulation.costs import CostTerms, cost_terms
from lugwright.model.formulation.electrics import add_electrics
from lugwright.model.formulation.joints import add_joints
from lugwright.model.formulation.leaves import add_ends
from lugwright.model.formulation.lug_currents import add_lug_currents
from lugwright.model.formulation.objective import Objective, Sums
from lugwright.model.formulation.trees import Cut, add_cut, add_trees, add_ways, likely_cuts
from lugwright.model.formulation.variables import Arc, ArcKey, Variables, make_variables, total
from lugwright.plans.choice import ChosenJumper
from lugwright.problem.schema import Problem
from lugwright.problem.settings import SEED


@dataclass
class Posed:
    """A built model and what is needed to read an answer out of it."""

    v: Variables
    terms: CostTerms
    model: cp_model.CpModel
    solver: cp_model.CpSolver


def pose(
    problem: Problem,
    ask: Ask,
    objective: Objective,
    keep: frozenset[ArcKey] | None = None,
    cuts: Sequence[Cut] | None = None,
    *,
    linear: bool = False,
) -> Posed:
    """Build the model of an ask, its objective not yet set.

    ``keep``: with these jumpers only. ``cuts``: known beforehand, else some likely ones.
    ``linear``: only its linear rows are wanted.
    """
    model = cp_model.CpModel()
    v = make_variables(problem, ask, model, keep, linear=linear)
    if objective.tallest or ask.most_tall is not None:
        most = 100 if ask.most_tall is None else ask.most_tall
        v.tallest = model.new_int_var(0, most, "tallest stack")
    add_trees(v)
    for circuit in v.circuits:
        likely = likely_cuts(circuit) if cuts is None else ()
        own = [(names, unit) for name, names, unit in cuts or () if name == circuit.name]
        for names, unit in (*((names, 0) for names in likely), *own):
            if unit:
                add_ways(v, circuit, names, unit)
            else:
                add_cut(v, circuit, names)
    add_joints(v)
    add_ends(v)
    add_electrics(v)
    add_lug_currents(v)
    if ask.most_stacked is not None:
        model.add(total(v.stacked) <= ask.most_stacked)
    terms = cost_terms(v)
    if ask.most_wire_dmm is not None:
        model.add(terms.wire <= ask.most_wire_dmm)
    return Posed(v, terms, model, new_solver())


def new_solver(*, plain: bool = False) -> cp_model.CpSolver:
    """A solver of one worker, as every solve here has it; ``plain``: as different as may be."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.linearization_level = 2
    solver.parameters.catch_sigint_signal = False
    # Probing, symmetry search and repeated presolve cost more than these small solves do.
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.symmetry_level = 0
    solver.parameters.max_presolve_iterations = 1
    if plain:
        solver.parameters.cp_model_presolve = False
        solver.parameters.linearization_level = 0
        solver.parameters.random_seed = SEED + 1
    return solver


def hint_answer(posed: Posed, answer: Answer) -> None:
    """Start the next solve from an answer's jumpers."""
    taken = {(j.circuit, j.a, j.b, j.wire_size) for j in answer.jumpers}
    for arc in posed.v.arcs:
        posed.model.add_hint(arc.use, (arc.circuit, arc.a, arc.b, arc.choice.size) in taken)


def hint_all(posed: Posed) -> None:
    """Start the next solve from the answer of the last."""
    model = posed.model
    every = [model.get_int_var_from_proto_index(i) for i in range(len(model.proto.variables))]
    values = [posed.solver.value(variable) for variable in every]
    model.clear_hints()
    for variable, value in zip(every, values, strict=True):
        model.add_hint(variable, value)


def chosen(posed: Posed) -> list[Arc]:
    """The jumpers of the answer, as arcs."""
    return [arc for arc in posed.v.arcs if posed.solver.boolean_value(arc.use)]


def read_answer(posed: Posed) -> Answer:
    """The chosen jumpers, landings and options, and what they add up to."""
    solver, v = posed.solver, posed.v
    landings, extensions = {}, {}
    for source in v.sources:
        if solver.boolean_value(source.use):
            landings[source.circuit] = source.landing.post
            if source.extension:
                extensions[source.circuit] = source.extension.size
    for circuit in v.circuits:
        if circuit.root:
            posts = v.ask.landing_posts(circuit.name)
            landings[circuit.name] = next(p for p in posts if solver.value(v.landed_at(circuit, p)))
    picks = {
        key: next(option for option, use in choices if solver.boolean_value(use))
        for key, choices in sorted(v.picks.items())
    }
    jumpers = tuple(sorted(ChosenJumper(a.circuit, a.a, a.b, a.choice.size) for a in chosen(posed)))
    value = solver.value
    terms = posed.terms
    lugs = [value(number) for number in v.lugs.values()]
    sums = Sums(
        value(terms.wire),
        sum(max(0, number - 1) for number in lugs),
        max(lugs, default=0),
        value(terms.fittings),
        value(terms.money),
        value(terms.changes),
        value(terms.folds),
        value(terms.margin),
    )
    return Answer(landings, jumpers, extensions, picks, sums)
