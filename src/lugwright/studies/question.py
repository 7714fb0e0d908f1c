"""One question put to the planner: is there any plan at all?

A probe stops at the first plan it meets. Whether a plan exists does not depend on the objective;
probes ask for little wire and few stacked lugs all the same, since short jumpers drop little and
the bounds on wire leave most jumpers out: that finds a plan many times sooner than asking for
any, and the plan is fit to be looked at.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace
from enum import Enum
from types import MappingProxyType

from lugwright.model.choose import best_choice
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.progress import Listener, Progress
from lugwright.problem.build import build_problem
from lugwright.problem.held import hold_in
from lugwright.problem.schema import Problem
from lugwright.routes.build import build_routes
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief

WORTH = MappingProxyType({"length": 1, "stacked": 400, "fittings": 250, "money": 0})

RouteMaker = Callable[[Brief], Routes]


class Verdict(Enum):
    """How a probe ended. ``UNDECIDED`` is never read as impossible."""

    POSSIBLE = "possible"
    IMPOSSIBLE = "impossible"
    UNDECIDED = "undecided"


@dataclass(frozen=True)
class Probe:
    """One probe: what was asked, how it ended, and what it ended with."""

    brief: Brief
    routes: Routes
    problem: Problem
    outcome: Outcome

    @property
    def verdict(self) -> Verdict:
        """Whether a plan exists, as far as this probe knows."""
        if self.outcome.choice is not None:
            return Verdict.POSSIBLE
        if self.outcome.ending is Ending.IMPOSSIBLE and not self.outcome.interrupted:
            return Verdict.IMPOSSIBLE
        return Verdict.UNDECIDED


class Prober:
    """Asks questions within a time limit (seconds, None for none), each only once.

    A probe may take at most a third of what is left, so that one hard question does not eat up
    all others. ``route`` makes routes (tests give straight ones).
    """

    def __init__(
        self,
        time_limit_s: float | None = None,
        listener: Listener | None = None,
        route: RouteMaker = build_routes,
    ) -> None:
        self.probes = 0
        self.interrupted = False
        self._deadline = None if time_limit_s is None else time.monotonic() + time_limit_s
        self._listener = listener
        self._route = route
        self._routes: dict[Hashable, Routes] = {}
        self._known: dict[Hashable, Probe] = {}

    def left_s(self) -> float | None:
        """Seconds left; None where there is no limit, 0 once interrupted."""
        if self.interrupted:
            return 0.0
        return None if self._deadline is None else max(0.0, self._deadline - time.monotonic())

    @property
    def out_of_time(self) -> bool:
        """Whether nothing more can be asked."""
        left_s = self.left_s()
        return left_s is not None and left_s <= 0

    def ask(self, brief: Brief, key: Hashable, told: str = "") -> Probe | None:
        """The probe of a question, known by ``key``; None when time is up."""
        known = self._known.get(key)
        if known is not None:
            return known
        if self.out_of_time:
            return None
        try:
            probe = self._probe(brief, told)
        except KeyboardInterrupt:  # while the question is still being put together
            self.interrupted = True
            return None
        if probe.verdict is not Verdict.UNDECIDED:
            self._known[key] = probe
        return probe

    def _probe(self, brief: Brief, told: str) -> Probe:
        self.probes += 1
        if self._listener is not None:
            self._listener(Progress(f"why not, question {self.probes}: {told}", ()))
        limits = replace(brief.limits, objective="weights", weights=WORTH)
        routes = self._routes_of(brief)
        problem = build_problem(replace(brief, limits=limits), routes)
        problem = hold_in(problem, brief.holds)
        left_s = self.left_s()
        outcome = best_choice(
            problem,
            time_limit_s=None if left_s is None else left_s / 3,
            hubs=(brief.holds.hub,) if brief.holds.hub else None,
            any_plan=True,
        )
        self.interrupted = self.interrupted or outcome.interrupted
        return Probe(brief, routes, problem, outcome)

    def _routes_of(self, brief: Brief) -> Routes:
        """Routes, kept while nothing changes that they are made from: no step moves a thing."""
        limits = brief.limits
        key = (
            limits.clearance_dmm,
            limits.nut_driver_room_dmm,
            limits.splices,
            limits.dress_height_dmm,
            limits.splice_neighbours,
            limits.splice_to_post_dmm,
            brief.stock.hardware,
            limits.re_termination_dmm,
            tuple(post.lead_length_dmm for post in brief.console.posts),
        )
        if key not in self._routes:
            self._routes[key] = self._route(brief)
        return self._routes[key]
