"""A first plan within seconds on a large console: one likely hub, near jumpers only.

Nothing is proved here. Bounds of many joints take a while to come by; until then this is what
there is to build from.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

from lugwright.model.ask import Answer, Ask, join
from lugwright.model.found import Candidate
from lugwright.model.solve import WORKERS, solve_ask, solve_kept
from lugwright.model.split import Trial
from lugwright.model.variables import ArcKey
from lugwright.problem.schema import CircuitQuestion, Edge, Problem

if TYPE_CHECKING:
    from lugwright.model.search import Search

LARGE = 4_000  # ways of one circuit between two joints: below that, bounds are there as soon
NEAR = 6  # jumpers to or from a joint
WORK = 0.6  # deterministic work units of the solver for a circuit
MOST_TRIALS = 3


def early_plan(search: Search, trials: list[Trial]) -> None:
    """Offer a plan of one of the likeliest trials, where the console is large."""
    problem = search.problem
    if max((len(circuit.edges) for circuit in problem.circuits), default=0) < LARGE:
        return
    for trial in heapq.nsmallest(MOST_TRIALS, trials, key=lambda each: _reach(problem, each)):
        parts = search.parts(trial)
        with ThreadPoolExecutor(WORKERS) as pool:
            found = list(pool.map(lambda part: _answer(search, part), parts))
        answers = [answer for answer in found if answer is not None]
        if len(answers) == len(parts):
            search.offer_unproved(Candidate(trial, 0), join(answers))
        if search.state.best is not None:
            return


def _reach(problem: Problem, trial: Trial) -> tuple[int, str, Trial]:
    """Extensions, and the shortest jumpers that lead on from where the supplies may land."""
    total = 0
    for name, posts in trial.landings:
        circuit = problem.circuit(name)
        total += min(x.extension_dmm for x in circuit.landings if x.post in posts)
        for each in (circuit, *(problem.circuit(rider) for rider in circuit.riders)):
            edges = (*each.edges, *each.take_off)
            total += min((e.length_dmm for e in edges if e.a in posts or e.b in posts), default=0)
    return total, trial.hub, trial


def _answer(search: Search, part: Ask) -> Answer | None:
    """Of one part, in the first of its sizes that has one."""
    problem, objective, clock = search.problem, search.objective, search.clock
    if not part.circuits:
        return solve_ask(problem, part, objective, clock).answer
    keep = frozenset(
        key
        for name in part.circuits
        for key in _near(problem.circuit(name), part.sizes_of(name), dict(part.landings))
    )
    return solve_kept(problem, part, objective, clock, None, keep, None, WORK).answer


def _near(
    circuit: CircuitQuestion, sizes: Iterable[str], landings: dict[str, tuple[str, ...]]
) -> Iterable[ArcKey]:
    """Both ways along the shortest jumpers of every post, splice points left out."""
    splices = {joint for node in circuit.nodes if node.is_splice for joint in node.joints}
    by_end: dict[str, list[tuple[int, str, str]]] = defaultdict(list)
    for edge in circuit.edges:
        if edge.a not in splices and edge.b not in splices:
            by_end[edge.a].append(_order(edge))
            by_end[edge.b].append(_order(edge))
    started = [post for posts in landings.values() for post in posts]
    for edge in circuit.take_off:
        if edge.a in started and edge.b not in splices:
            by_end[edge.a].append(_order(edge))
    for ends in by_end.values():
        for _, a, b in heapq.nsmallest(NEAR, ends):
            for size in sizes:
                yield circuit.name, a, b, size
                yield circuit.name, b, a, size


def _order(edge: Edge) -> tuple[int, str, str]:
    return edge.length_dmm, edge.a, edge.b
