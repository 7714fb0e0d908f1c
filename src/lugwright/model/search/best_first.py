"""A best-first search over hubs: its pieces put together, run, and read in the end."""

from __future__ import annotations

from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor

from lugwright.model.clock import Clock
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.trials import APART, Trial, hub_landings, landings_anywhere
from lugwright.model.search.coupled import Coupled
from lugwright.model.search.equal_plans import EqualPlans
from lugwright.model.search.first_plan import first_plan
from lugwright.model.search.found import Best, Found
from lugwright.model.search.incumbent import Incumbent
from lugwright.model.search.loop import Loop
from lugwright.model.search.open_trials import OpenTrials
from lugwright.model.search.parts import PartSolver
from lugwright.model.search.speed import FAST, Speed
from lugwright.model.search.telling import Telling
from lugwright.model.solving.judge import Judge
from lugwright.plans.progress import Listener
from lugwright.problem.schema import Problem


class Search:
    """Searches one problem.

    ``speed`` says which short ways to take (for tests). ``any_plan`` stops at the first plan
    found: enough to know that one exists. ``objective`` stands in for the limits' own;
    ``tell_equal`` False leaves equal plans as they were found. ``known`` is what an earlier
    search of the same problem but for electrical limits knows of parts.
    """

    def __init__(
        self,
        problem: Problem,
        clock: Clock,
        listener: Listener | None = None,
        *,
        hubs: Iterable[str] | None = None,
        speed: Speed = FAST,
        any_plan: bool = False,
        objective: Objective | None = None,
        tell_equal: bool = True,
        known: PartSolver | None = None,
    ) -> None:
        self.parts = PartSolver(problem, clock, speed=speed, objective=objective, known=known)
        self.judge = Judge(problem)
        self._hubs = None if hubs is None else frozenset(hubs)
        self._any_plan, self._tell_equal = any_plan, tell_equal and not any_plan
        self._telling = Telling(self.parts.objective, listener)
        self._coupled = Coupled(self.parts)
        self._equal_plans = EqualPlans(self.parts, self.judge, self._coupled)
        self._loop = self._new_loop(complete=False)
        self._each: dict[str, Loop | None] = {}

    @property
    def objective(self) -> Objective:
        """What is minimised."""
        return self.parts.objective

    def run(self) -> Found:
        """Search until proved, impossible, or out of time."""
        self._loop = self._new_loop(complete=False)
        self._open_trials()
        self._loop.open_trials.complete = True
        self._loop.tell_rise()
        self._loop.run()
        return self._found(self._loop)

    def run_each(self, names: Iterable[str]) -> dict[str, Found]:
        """The same for every instrument as the one hub of all circuits.

        Parts that look the same under several hubs are solved once, and those of all hubs are
        handed to the solver together. An instrument that the rule of hubs does not compare is left
        out, and one on which some supply could not land.
        """
        wanted = frozenset(names)
        trials: dict[str, list[Trial]] = {}
        for hub, landings in hub_landings(self.parts.problem, one_hub=True):
            for name in wanted.intersection(hub.split(APART)):
                trials.setdefault(name, []).append(Trial(hub, landings))
        self._each = dict.fromkeys(trials)
        every = [trial for own in trials.values() for trial in own]
        self.parts.bounds.land_on(every)
        self.parts.solve_many(part for trial in every for part in self.parts.parts(trial))
        loops: dict[str, Loop] = {}
        for hub, own in trials.items():
            loops[hub] = self._each[hub] = self._run_one(own)
        equals = [best for loop in loops.values() for best in loop.incumbent.equal]
        self._equal_plans.solve_together(equals)
        return {hub: self._found(loop) for hub, loop in loops.items()}

    def so_far(self) -> Found:
        """The best plan so far, asked for from another thread while the search still runs.

        Its bound is the last that was told: what is open may be half-way from place to place.
        """
        return self._known(self._loop.incumbent.best, self._telling.told_bound)

    def so_far_each(self) -> dict[str, Found]:
        """The same of ``run_each``: what is settled of the hubs that have had their turn.

        Raises KeyboardInterrupt where it has not come to know which hubs there are.
        """
        if not self._each:
            raise KeyboardInterrupt
        return {
            hub: self._known(None, 0)
            if loop is None
            else self._known(loop.incumbent.best, loop.incumbent.bound())
            for hub, loop in self._each.items()
        }

    def _known(self, best: Best | None, bound: int) -> Found:
        """A plan that was found, of equal ones the first, and a bound that holds."""
        disagreed = self.parts.disagreed
        if best is None:
            return Found(None, bound, False, disagreed)
        bound = min(best.value, bound)
        return Found(best, bound, bound == best.value and not disagreed, disagreed, equal_open=True)

    def _new_loop(self, *, complete: bool) -> Loop:
        open_trials = OpenTrials(complete=complete)
        incumbent = Incumbent(
            self.judge, self.parts.sizes, self.objective, open_trials, self._telling
        )
        return Loop(
            self.parts,
            self._coupled,
            open_trials,
            incumbent,
            self._telling,
            any_plan=self._any_plan,
        )

    def _run_one(self, trials: list[Trial]) -> Loop:
        loop = self._new_loop(complete=True)
        loop.open(trials, rough=False)
        loop.try_likely(trials)
        loop.run()
        return loop

    def _open_trials(self) -> None:
        """Bound every circuit with its landing left free; every trial starts from their sum."""
        problem, parts = self.parts.problem, self.parts
        one_hub = problem.limits.one_hub or self._hubs is not None
        found = hub_landings(problem, one_hub=one_hub, held=self._hubs)
        trials = [Trial(hub, landings) for hub, landings in found]
        anywhere = landings_anywhere(trials)
        if anywhere is None:
            return
        parts.bounds.land_on(trials)
        if not parts.by_bounds:
            parts.solve_free(anywhere)
        elif parts.speed.early:
            with ThreadPoolExecutor(1) as aside:
                early = aside.submit(first_plan, parts, self.judge, self._loop.incumbent, trials)
                parts.bounds.prepare(parts.parts(anywhere))
                early.result()
        self._loop.open(trials, rough=parts.by_bounds)
        if not parts.by_bounds:
            self._loop.try_likely(trials)

    def _found(self, loop: Loop) -> Found:
        """What a loop has come to: the bound, and of equal plans the one the tie rule names."""
        parts, open_trials, best = self.parts, loop.open_trials, loop.incumbent.best
        if best is None:
            left_open = bool(open_trials.given_up) or (parts.clock.over and bool(open_trials))
            for ask in open_trials.refused:
                parts.confirm(ask)
            ended = not left_open and not parts.unconfirmed
            return Found(None, loop.incumbent.bound(), ended, parts.disagreed)
        bound = min(best.value, loop.incumbent.bound())
        if not self._tell_equal:
            return Found(best, bound, bound == best.value, parts.disagreed)
        chosen, equal_open = self._equal_plans.chosen(loop.incumbent.equal)
        proved = bound == best.value and not parts.disagreed
        return Found(chosen, bound, proved, parts.disagreed, equal_open)
