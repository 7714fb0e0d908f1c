"""The whole problem as one model: every hub, circuit, wire size and electrical rule at once.

The plain formulation that the search is measured against; it shares the rules' rows with it, and
nothing of how the search splits, bounds and narrows.
"""

from __future__ import annotations

from collections import defaultdict

from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import (
    BUNDLE,
    CURRENTS,
    DROP,
    LUG_CURRENTS,
    Ask,
    Solved,
    Status,
)
from lugwright.model.formulation.objective import objective_of
from lugwright.model.formulation.pose import Posed, pose
from lugwright.model.formulation.trials import (
    Trial,
    hub_landings,
    hub_names,
    landings_anywhere,
    supplied,
)
from lugwright.model.formulation.variables import Linear, total
from lugwright.model.solving.solve import solve_over
from lugwright.problem.schema import Problem

EVERY = frozenset({CURRENTS, DROP, BUNDLE, LUG_CURRENTS})


def ask_for_all(problem: Problem, families: frozenset[str] = EVERY) -> Ask | None:
    """All circuits with every landing and size; None where no supply can land."""
    anywhere = landings_anywhere([Trial(hub, landings) for hub, landings in hub_landings(problem)])
    if anywhere is None:
        return None
    return Ask(
        circuits=tuple(circuit.name for circuit in problem.circuits),
        landings=anywhere.landings,
        sizes=tuple((c.name, tuple(w.size for w in c.choices)) for c in problem.circuits),
        families=families,
        rest=True,
    )


def pose_all(problem: Problem, ask: Ask) -> Posed:
    """The model, with one hub for all circuits that it can have where the limit says so."""
    posed = pose(problem, ask, objective_of(problem))
    if not problem.limits.one_hub:
        return posed
    for harness in sorted({circuit.harness for circuit in supplied(problem)}):
        _one_hub(problem, posed, harness)
    return posed


def _one_hub(problem: Problem, posed: Posed, harness: str) -> None:
    """One hub for the circuits of a harness."""
    names = hub_names(problem, None, harness)
    hubs = {name: posed.model.new_bool_var(f"hub {harness} {name}") for name in names}
    posed.model.add_exactly_one(list(hubs.values()))
    for circuit in (one for one in supplied(problem) if one.harness == harness):
        on: dict[str, list[Linear]] = defaultdict(list)
        for landing in circuit.landings:
            on[landing.instrument].append(posed.v.landed_at(circuit, landing.post))
        for name, use in hubs.items():
            if name in circuit.hubs:
                posed.model.add(total(on[name]) >= use)  # a plain row: other solvers read it too


def solve_all(problem: Problem, seconds: float | None = None) -> Solved:
    """The proved best cost of the whole problem, or that there is none, in time."""
    ask = ask_for_all(problem)
    if ask is None or problem.faults:
        return Solved(Status.NONE)
    return solve_over(pose_all(problem, ask), ask, objective_of(problem), Clock(seconds))
