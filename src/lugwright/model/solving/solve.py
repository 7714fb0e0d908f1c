"""One ask put to CP-SAT: build, solve, cut off what is not joined, solve again.

One worker and a fixed seed: the same ask gives the same answer. Time only decides whether an
answer is proved; what the clock decided is said in the outcome.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from lugwright.model import solver as cp_model
from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Solved, Status
from lugwright.model.formulation.costs import CostTerms
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.pose import (
    Posed,
    chosen,
    hint_all,
    hint_answer,
    new_solver,
    pose,
    read_answer,
)
from lugwright.model.formulation.trees import (
    Cut,
    add_cut,
    unreached,
)
from lugwright.model.formulation.variables import (
    ArcKey,
    Linear,
)
from lugwright.model.solving.over_few import solve_narrow
from lugwright.problem.schema import Problem

WORKERS = 2  # solves at a time, one core each

Stage = tuple[int, Linear]
"""One level to bring down: its weight in the folded objective, and what it sums."""


def _stages(terms: CostTerms, ask: Ask, objective: Objective) -> list[Stage]:
    """Levels solved one after the other. Stacks first come by themselves: they are few and quick
    to prove, and the wire under them is then a smaller question than both folded together."""
    if not objective.tallest:
        return [(1, terms.scalar(objective))]
    stages: list[Stage] = [(objective.stacked, terms.stacked)]
    if ask.price_tall:
        stages.append((objective.tallest, terms.tallest))
    stages.append((1, objective.wire * terms.wire + objective.fittings * terms.fittings))
    return stages


def solve_ask(
    problem: Problem,
    ask: Ask,
    objective: Objective,
    clock: Clock,
    narrow: Narrow | None = None,
) -> Solved:
    """The best answer to an ask, or that there is none; ``narrow``: what is known of it."""
    if narrow is None:
        return solve_over(pose(problem, ask, objective), ask, objective, clock)

    def solve(keep: frozenset[ArcKey] | None, known: Answer | None) -> Solved:
        return solve_kept(problem, ask, objective, clock, narrow.cuts, keep, known)

    return solve_narrow(narrow, solve)


def solve_kept(
    problem: Problem,
    ask: Ask,
    objective: Objective,
    clock: Clock,
    cuts: Sequence[Cut] | None,
    keep: frozenset[ArcKey] | None,
    known: Answer | None,
    work: float | None = None,
) -> Solved:
    """The best answer over some jumpers (None: over all), from an answer known to be one.

    ``work``: no more deterministic work units of the solver than these.
    """
    posed = pose(problem, ask, objective, keep, cuts)
    if work is not None:
        posed.solver.parameters.max_deterministic_time = work
    if known is not None:
        hint_answer(posed, known)
    return solve_over(posed, ask, objective, clock)


def solve_over(posed: Posed, ask: Ask, objective: Objective, clock: Clock) -> Solved:
    """Level by level, each held while the next is brought down."""
    bound = 0
    solved = Solved(Status.UNKNOWN)
    for weight, level in _stages(posed.terms, ask, objective):
        posed.model.minimize(level)
        solved = run(posed, clock)
        if solved.status is not Status.BEST:
            return replace(solved, bound=bound + weight * solved.bound)
        bound += weight * solved.value
        posed.model.add(level <= solved.value)
    return replace(solved, value=bound, bound=bound)


def second_opinion(problem: Problem, ask: Ask, objective: Objective, clock: Clock) -> Status:
    """How a second, plainly different solve ends that only looks for any answer at all."""
    posed = pose(problem, ask, objective)
    posed.solver = new_solver(plain=True)
    return run(posed, clock).status


def run(posed: Posed, clock: Clock) -> Solved:
    """Solve for the level set and add cuts until everything hangs together."""
    bound = 0
    while True:
        status = clock.run(posed.solver, posed.model)
        if status == cp_model.INFEASIBLE:
            return Solved(Status.NONE)
        if status == cp_model.MODEL_INVALID:
            raise RuntimeError(f"the model is not valid: {posed.model.validate()}")
        bound = max(bound, _bound(posed.solver))
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Solved(Status.UNKNOWN, bound=bound)
        if not cut_apart(posed):
            answer = read_answer(posed)
            value = round(posed.solver.objective_value) if posed.model.has_objective() else 0
            if status == cp_model.OPTIMAL:
                return Solved(Status.BEST, answer, value, value)
            return Solved(Status.SOME, answer, value, bound)
        if clock.over:
            return Solved(Status.UNKNOWN, bound=bound)
        hint_all(posed)


def _bound(solver: cp_model.CpSolver) -> int:
    """The proved bound, rounded up to a whole number with room for the float it comes as."""
    bound = solver.best_objective_bound
    return max(0, round(bound) if abs(bound - round(bound)) < 1e-3 else int(bound // 1))


def cut_apart(posed: Posed) -> bool:
    """Add a cut for every set of nodes the supply does not reach; whether there was one."""
    arcs = chosen(posed)
    found = False
    for circuit in posed.v.circuits:
        own = [arc for arc in arcs if arc.circuit == circuit.name]
        starts = [arc.b for arc in own if arc.take_off]
        starts += [
            source.landing.post
            for source in posed.v.sources
            if source.circuit == circuit.name and posed.solver.boolean_value(source.use)
        ]
        starts += [circuit.root] if circuit.root else []
        joined = [(arc.a, arc.b) for arc in own if not arc.take_off]
        for names in unreached(circuit, starts, joined):
            add_cut(posed.v, circuit, names)
            found = True
    return found
