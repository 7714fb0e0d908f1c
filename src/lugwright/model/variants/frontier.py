"""Two things at once: every plan that no other plan beats in both.

Wire or money (the value) is set against stacked lugs or wire (what is capped). For each cap, from
none downwards, the least value is found and proved; the next cap is one less than that plan has,
so no point is missed and none is said twice.

Given a trial, all of these are sums over its parts. So each part is solved to its own frontier
once, and the least sum under a cap is found by putting these together: a lower bound of the trial
under that cap, and exact where the joined answer passes the judge. Where it does not, all circuits
of the trial are asked for at once, with the cap and the broken families posed.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from lugwright.model.choose import choice_of, run_aside
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Status
from lugwright.model.formulation.objective import objective_of, quantity_of
from lugwright.model.formulation.trials import Trial, hub_landings, whole
from lugwright.model.search.parts import PartSolver
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import in_other_wire
from lugwright.model.solving.solve import WORKERS, solve_ask
from lugwright.model.variants.trade import (
    NO_CAP,
    WIRE_AGAINST_LUGS,
    Trade,
    capped_quantity,
    folded,
)
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener, Progress
from lugwright.problem.schema import Problem
from lugwright.trade.objective import Quantity


@dataclass(frozen=True)
class Frontier:
    """The frontier, most stacked lugs first, each point with its choice and its cost proved.

    ``complete`` False: time ran out, and points with fewer stacked lugs may be missing.
    """

    points: tuple[Outcome, ...]
    complete: bool
    interrupted: bool = False
    note: str = ""


@dataclass(frozen=True)
class Reached:
    """The least value under a cap; ``answer`` None: nothing keeps the cap."""

    value: int
    capped: int
    answer: Answer | None


Curve = tuple[Reached, ...]
"""A frontier, most of what is capped (and least value) first."""


class _OutOfTime(Exception):
    """The clock ended before something was proved."""


def frontier(
    problem: Problem,
    trade: Trade = WIRE_AGAINST_LUGS,
    *,
    time_limit_s: float | None = None,
    hubs: Iterable[str] | None = None,
    listener: Listener | None = None,
) -> Frontier:
    """The exact frontier of a problem. ``time_limit_s`` in seconds, None for none.

    The problem's own objective is put aside for the trade's. Raises ValueError for a trade whose
    second side is the worst drop: that is ``against_drop``'s.
    """
    problem = replace(problem, limits=replace(problem.limits, objective=trade.objective))
    if problem.faults:
        return Frontier((), True)
    solver = PartSolver(problem, Clock(time_limit_s), objective=folded(problem, trade))
    ways = _Ways(solver, capped_quantity(trade), hubs, listener)
    (found, complete), interrupted = run_aside(solver.clock, ways.all)
    if solver.disagreed:
        return Frontier((), False, interrupted, "two solves disagree: nothing is claimed")
    points = tuple(point_of(problem, trade.held(cap), answer) for cap, answer in found)
    return Frontier(points, complete and not solver.unconfirmed, interrupted)


def point_of(problem: Problem, held: tuple[str, ...], answer: Answer) -> Outcome:
    """One point as an outcome, in the levels of the objective that the trade's plans are made by.

    ``held`` says under which cap it is best.
    """
    objective = objective_of(problem)
    cost = objective.vector(answer.sums)
    choice = choice_of(problem, answer)
    return Outcome(Ending.PROVED, objective.levels, choice=choice, cost=cost, bound=cost, held=held)


class _Ways:
    """What each part, and each trial, can do under a cap."""

    def __init__(
        self,
        solver: PartSolver,
        capped: Quantity,
        hubs: Iterable[str] | None,
        listener: Listener | None,
    ) -> None:
        self.solver, self.judge = solver, Judge(solver.problem)
        self.capped = capped
        self.hubs = None if hubs is None else frozenset(hubs)
        self.listener = listener
        self.curves: dict[Ask, Curve] = {}
        self.joined: dict[Trial, Curve] = {}
        self.sound: dict[tuple[Trial, int], Answer | None] = {}
        self.together: dict[Trial, list[tuple[int, Reached]]] = {}
        self.families: dict[Trial, frozenset[str]] = {}

    def all(self) -> tuple[list[tuple[int, Answer]], bool]:
        """Every point with the cap it was found under; and whether that is all of them."""
        found: list[tuple[int, Answer]] = []
        problem = self.solver.problem
        one_hub = problem.limits.one_hub or self.hubs is not None
        every = hub_landings(problem, one_hub=one_hub, held=self.hubs)
        trials = [Trial(hub, landings) for hub, landings in every]
        self.solver.bounds.land_on(trials)
        try:
            self._solve_curves(trials)
            cap = NO_CAP
            while cap >= 0:
                best = self._least(trials, cap)
                if best is None:
                    return found, True
                if found and self._value(best) == self._value(found[-1][1]):
                    found.pop()  # as good in the one and better in the other
                found.append((cap, best))
                self._tell(best)
                cap = quantity_of(best.sums, self.capped) - 1
        except _OutOfTime:
            return found, False
        return found, True

    def _value(self, answer: Answer) -> int:
        """The side that is minimised, without what only parts plans equal in it."""
        return self.solver.objective.vector(answer.sums)[0]

    def _with_cap(self, ask: Ask, cap: int) -> Ask:
        if cap == NO_CAP:
            return ask
        if self.capped == "stacked":
            return replace(ask, most_stacked=cap)
        return replace(ask, most_wire_dmm=cap)

    def _tell(self, best: Answer) -> None:
        if self.listener is not None:
            cost = self.solver.objective.vector(best.sums)
            levels = self.solver.objective.levels
            self.listener(Progress("one point of the frontier", levels, cost, cost))

    # -- parts -----------------------------------------------------------------------------------

    def _solve_curves(self, trials: list[Trial]) -> None:
        """The frontiers of all parts, two at a time; joined trial by trial."""
        parts = {trial: self.solver.parts(trial) for trial in trials}
        wanted = list(dict.fromkeys(part for own in parts.values() for part in own))
        with ThreadPoolExecutor(WORKERS) as pool:
            curves = list(pool.map(self._curve, wanted))
        for part, curve in zip(wanted, curves, strict=True):
            if curve is None:
                raise _OutOfTime
            self.curves[part] = curve
        for trial in trials:
            self.joined[trial] = _convolved([self.curves[part] for part in parts[trial]])

    def _curve(self, part: Ask) -> Curve | None:
        """One part's frontier; None when time ran out."""
        found: list[Reached] = []
        ask = part
        while True:
            solved = self.solver.solve_one(ask)
            if solved.status is Status.NONE:
                return tuple(found)
            if solved.status is not Status.BEST or solved.answer is None:
                return None
            reached = quantity_of(solved.answer.sums, self.capped)
            found.append(Reached(solved.value, reached, solved.answer))
            if reached == 0:
                return tuple(found)
            ask = self._with_cap(part, reached - 1)

    # -- trials under a cap ----------------------------------------------------------------------

    def _least(self, trials: list[Trial], cap: int) -> Answer | None:
        """The least wire over all trials under a cap; None: no plan keeps it."""
        heap: list[tuple[int, int, bool]] = []
        exact: dict[int, Answer] = {}
        for index, trial in enumerate(trials):
            reached = _under(self.joined[trial], cap)
            if reached is not None:
                heapq.heappush(heap, (reached.value, index, False))
        while heap:
            _, index, is_exact = heapq.heappop(heap)
            if is_exact:
                return exact[index]
            reached = self._exact(trials[index], cap)
            if reached.answer is not None:
                exact[index] = reached.answer
                heapq.heappush(heap, (reached.value, index, True))
        return None

    def _exact(self, trial: Trial, cap: int) -> Reached:
        """A trial's least value under a cap, with an answer that stands."""
        bound = _under(self.joined[trial], cap)
        if bound is None or bound.answer is None:
            return Reached(0, 0, None)
        key = (trial, bound.capped)
        if key not in self.sound:
            self.sound[key] = self._standing(trial, bound.answer)
        answer = self.sound[key]
        if answer is not None:
            return replace(bound, answer=answer)
        known = self.together.setdefault(trial, [])
        for asked, reached in known:
            if cap <= asked and (reached.answer is None or reached.capped <= cap):
                return reached
        reached = self._ask_together(trial, cap)
        known.append((cap, reached))
        return reached

    def _standing(self, trial: Trial, answer: Answer) -> Answer | None:
        """The answer if it passes the judge, as it is or in other wire; else None."""
        solver = self.solver
        broken = self.judge.broken(answer)
        if not broken:
            return answer
        self.families[trial] = self.families.get(trial, frozenset()) | broken
        return in_other_wire(solver.problem, answer, solver.sizes, self.judge, solver.objective)

    def _ask_together(self, trial: Trial, cap: int) -> Reached:
        solver = self.solver
        while True:
            if solver.clock.over:
                raise _OutOfTime
            families = self.families.get(trial, frozenset())
            ask = whole(solver.problem, trial, solver.sizes.stout, families)
            ask = self._with_cap(ask, cap)
            solved = solve_ask(solver.problem, ask, solver.objective, solver.clock)
            if solved.status is Status.NONE:
                solver.confirm(ask)
                return Reached(0, 0, None)
            if solved.status is not Status.BEST or solved.answer is None:
                raise _OutOfTime
            standing = self._standing(trial, solved.answer)
            if standing is not None:
                capped = quantity_of(standing.sums, self.capped)
                return Reached(solved.value, capped, standing)


def _under(curve: Curve, cap: int) -> Reached | None:
    """The least value of a curve under a cap."""
    return next((point for point in curve if point.capped <= cap), None)


def _convolved(curves: list[Curve]) -> Curve:
    """The frontier of parts together: for every sum of what is capped the least sum of values."""
    total: dict[int, Reached] | None = None
    for curve in curves:
        if total is None:
            total = {point.capped: point for point in curve}
            continue
        merged: dict[int, Reached] = {}
        for one in total.values():
            for other in curve:
                capped, value = one.capped + other.capped, one.value + other.value
                if capped not in merged or value < merged[capped].value:
                    if one.answer is None or other.answer is None:
                        continue
                    merged[capped] = Reached(value, capped, one.answer.joined(other.answer))
        total = {point.capped: point for point in _undominated(merged.values())}
    return _undominated((total or {}).values())


def _undominated(points: Iterable[Reached]) -> Curve:
    """Points that none beats in both, most of what is capped first."""
    least: list[Reached] = []
    for point in sorted(points, key=lambda each: each.capped):
        if not least or point.value < least[-1].value:
            least.append(point)
    return tuple(reversed(least))
