"""A first plan within seconds on a large console: one likely hub, near jumpers only.

Nothing is proved here. Bounds of many joints take a while to come by; until then this is what
there is to build from. A tree costs least as a chain, and drops least as a star: where the drop
limits ask for flatter trees, resistance · current is given a little worth, then more.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial

from lugwright.model.formulation.ask import CURRENTS, Answer, Ask, join
from lugwright.model.formulation.pose import pose
from lugwright.model.formulation.reach import Reach
from lugwright.model.formulation.trials import Trial, parts_of
from lugwright.model.formulation.variables import ArcKey, Linear, Variables, total
from lugwright.model.search.found import Candidate
from lugwright.model.search.incumbent import Incumbent
from lugwright.model.search.parts import PartSolver
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import resize
from lugwright.model.solving.solve import WORKERS, run, solve_ask
from lugwright.problem.schema import CircuitQuestion, Edge, Problem
from lugwright.trade.demand import circuit_totals

LARGE = 40  # posts of one circuit: below that, bounds are there as soon
NEAR = 6  # jumpers to or from a joint
WORK = 1.0  # deterministic work units of the solver for a circuit
SCALE = 1_000  # keeps small worths whole, and numbers small enough for the solver's arithmetic
GAP = 0.025  # near enough
WORTHS_PERMILLE = (10, 30, 100)  # of the cost of wire, were its circuit's half current in all of it
NOHM_PER_UOHM_DMM = 10_000  # nΩ/mm is so many times µΩ per 0.1 mm


def first_plan(solver: PartSolver, judge: Judge, incumbent: Incumbent, trials: list[Trial]) -> None:
    """Offer a plan of the likeliest trial, where the console is large."""
    problem = solver.problem
    posts = (sum(node.needed for node in circuit.nodes) for circuit in problem.circuits)
    if max(posts, default=0) < LARGE:
        return
    trial = min(trials, key=lambda each: _reach(problem, each))
    parts = parts_of(problem, trial, solver.sizes.stout)
    if not all(sizes for part in parts for _, sizes in part.sizes):
        return
    found: dict[Ask, Answer | None] = {}
    for worth in (0, *WORTHS_PERMILLE):
        asked = [part for part in parts if not worth or _feeds(problem, part)]
        with ThreadPoolExecutor(WORKERS) as pool:
            answers = pool.map(partial(_answer, solver, worth), asked)
            found.update(zip(asked, answers, strict=True))
        known = [answer for answer in found.values() if answer is not None]
        if len(known) < len(parts):
            continue
        standing = _standing(solver, judge, join(known))
        if standing is not None:
            incumbent.offer(Candidate(trial, 0), standing)
            return


def _feeds(problem: Problem, part: Ask) -> bool:
    """Whether a part is more than takers: those carry little, and start where it drops least."""
    return any(not problem.circuit(name).taken_from for name in part.circuits)


def _reach(problem: Problem, trial: Trial) -> tuple[int, str, Trial]:
    """Extensions, and the shortest jumpers that lead on from where the supplies may land."""
    reach = 0
    for name, posts in trial.landings:
        circuit = problem.circuit(name)
        reach += min(x.extension_dmm for x in circuit.landings if x.post in posts)
        for each in (circuit, *(problem.circuit(taker) for taker in circuit.takers)):
            edges = (*each.edges, *each.take_off)
            reach += min((e.length_dmm for e in edges if e.a in posts or e.b in posts), default=0)
    return reach, trial.hub, trial


def _standing(solver: PartSolver, judge: Judge, answer: Answer) -> Answer | None:
    """The answer that stands, in the thinnest wire if it does there, else in the thickest."""
    for sizes in (solver.sizes.thin, solver.sizes.stout):
        chosen = {name: each[0] for name, each in sizes.items() if each}
        resized = resize(solver.problem, answer, chosen)
        if resized is not None and not judge.broken(resized):
            return resized
    return None


def _answer(solver: PartSolver, worth_permille: int, part: Ask) -> Answer | None:
    """Of one part in its first size, resistance · current of so much worth."""
    problem, objective = solver.problem, solver.objective
    if not part.circuits:
        return solve_ask(problem, part, objective, solver.clock).answer
    sizes = tuple((n, each[:1] if n in part.circuits else each) for n, each in part.sizes)
    families = frozenset({CURRENTS}) if worth_permille else frozenset[str]()
    ask = replace(part, sizes=sizes, families=families)
    posed = pose(problem, ask, objective, _keep(problem, ask))
    cost = posed.terms.scalar(objective)
    if worth_permille:
        cost = SCALE * cost + _carried(posed.v, worth_permille, _times(problem, ask))
    posed.model.minimize(cost)
    posed.solver.parameters.max_deterministic_time = WORK
    posed.solver.parameters.relative_gap_limit = GAP
    return run(posed, solver.clock).answer


def _carried(v: Variables, worth_permille: int, times: int) -> Linear:
    """Σ resistance · current of all jumpers, as what it is worth beside ``SCALE`` · cost."""
    (flows,) = v.states[:1]
    reach = Reach(v, flows.demand)
    return total(
        (reach.arc_uohm(arc) * worth_permille * SCALE // (1000 * times)) * flows.flow[index]
        for index, arc in enumerate(v.arcs)
    )


def _times(problem: Problem, ask: Ask) -> int:
    """What half of a circuit's current drops in 0.1 mm of its wire, nV."""
    name = ask.circuits[0]
    nohm = problem.circuit(name).choice(ask.sizes_of(name)[0]).nohm_per_mm
    return max(1, nohm * (circuit_totals(problem.console)[name] // 2) // NOHM_PER_UOHM_DMM)


def _keep(problem: Problem, ask: Ask) -> frozenset[ArcKey]:
    return frozenset(
        key
        for name in ask.circuits
        for key in _near(problem.circuit(name), ask.sizes_of(name), dict(ask.landings))
    )


def _near(
    circuit: CircuitQuestion, sizes: Iterable[str], landings: dict[str, tuple[str, ...]]
) -> Iterable[ArcKey]:
    """Both ways along the shortest jumpers of every post, splice points left out."""
    splices = {joint for node in circuit.nodes if node.is_splice for joint in node.joints}
    by_end: dict[str, list[tuple[int, str, str]]] = defaultdict(list)
    started = {post for posts in landings.values() for post in posts}
    for edge in circuit.edges:
        joints = {edge.a, edge.b}
        if circuit.has_first_jumper and circuit.root in joints and not started & joints:
            continue
        if not splices & joints:
            by_end[edge.a].append(_order(edge))
            by_end[edge.b].append(_order(edge))
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
