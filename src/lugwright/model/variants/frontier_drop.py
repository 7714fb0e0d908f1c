"""Wire, money or stacked lugs against the worst drop.

The worst drop is no sum over a plan, so for each cap the whole search is run again with every
load's limit brought down to that share of it. What the search knows of single circuits holds
under every cap (drop is none of their rules) and is kept. Each next cap is one thousandth below
the least share that the trees just found can have at the same value, so no point is missed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from lugwright.base.scale import ceil_div
from lugwright.model.choose import run_aside
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer
from lugwright.model.search.best_first import Search
from lugwright.model.search.parts import PartSolver
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import in_other_wire
from lugwright.model.variants.frontier import Frontier, point_of
from lugwright.model.variants.trade import NO_CAP, Trade
from lugwright.plans.outcome import Outcome
from lugwright.plans.progress import Listener, Progress
from lugwright.problem.schema import Problem


def against_drop(
    problem: Problem,
    trade: Trade,
    *,
    time_limit_s: float | None = None,
    hubs: Iterable[str] | None = None,
    listener: Listener | None = None,
) -> Frontier:
    """The exact frontier of a trade against the worst drop, largest drop first.

    ``time_limit_s`` in seconds, None for none. The problem's own objective is put aside.
    """
    problem = replace(problem, limits=replace(problem.limits, objective=trade.objective))
    if problem.faults:
        return Frontier((), True)
    caps = _Caps(problem, trade, Clock(time_limit_s), hubs, listener)
    complete, interrupted = run_aside(caps.clock, caps.run)
    if caps.disagreed:
        return Frontier((), False, interrupted, "two solves disagree: nothing is claimed")
    return Frontier(tuple(caps.points), complete, interrupted)


def worst_share_permille(judge: Judge, answer: Answer) -> int:
    """The largest share of its own limit that a load's drop takes, thousandths, rounded up."""
    shares = judge.drop_shares(judge.walk(answer))
    return max((ceil_div(drop * 1000, max(1, limit)) for drop, limit in shares), default=0)


class _Caps:
    """One search a cap, with what is known of single circuits handed on."""

    def __init__(
        self,
        problem: Problem,
        trade: Trade,
        clock: Clock,
        hubs: Iterable[str] | None,
        listener: Listener | None,
    ) -> None:
        self.problem, self.trade, self.clock, self.listener = problem, trade, clock, listener
        self.hubs = None if hubs is None else frozenset(hubs)
        self.judge = Judge(problem)
        self.points: list[Outcome] = []
        self.disagreed = False

    def run(self) -> bool:
        """Cap after cap; True when every point was found."""
        known: PartSolver | None = None
        cap, last = NO_CAP, None
        while True:
            search = Search(
                self._under(cap), self.clock, hubs=self.hubs, tell_equal=False, known=known
            )
            known = search.parts
            found = search.run()
            self.disagreed = self.disagreed or found.disagreed
            if found.best is None or found.bound != found.best.value:
                return found.best is None and found.ended and not found.disagreed
            answer = self._least_drop(search, found.best.answer)
            value = search.objective.vector(answer.sums)[0]
            if value == last:
                self.points.pop()  # as good in the one and better in the other
            last = value
            point = point_of(self.problem, self.trade.held(cap), answer)
            self.points.append(point)
            if self.listener is not None:
                told = "one point of the frontier"
                self.listener(Progress(told, point.levels, point.cost, point.cost))
            cap = worst_share_permille(self.judge, answer) - 1
            if cap < 0:
                return True

    def _under(self, cap: int) -> Problem:
        """The problem with every load's limit brought down to a share of it."""
        if cap == NO_CAP:
            return self.problem
        drops = tuple(
            replace(path, limit_nv=path.limit_nv * cap // 1000) for path in self.problem.drops
        )
        return replace(self.problem, drops=drops)

    def _least_drop(self, search: Search, answer: Answer) -> Answer:
        """The same trees at the same value in the wire with the least worst drop."""

        def rank(other: Answer) -> tuple[int, int]:
            return worst_share_permille(self.judge, other), other.sums.money_micro

        other = in_other_wire(
            search.parts.problem, answer, search.parts.sizes, search.judge, search.objective, rank
        )
        return other or answer
