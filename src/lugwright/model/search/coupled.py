"""Trials whose parts do not stand side by side: the broken families posed, and asked again.

What the families couple is one ask, the rest stay apart. Each trial is asked over few
jumpers first, then over more, the trials in turns: that is quick, raises bounds and gives plans.
Once there is a plan, each is asked over the jumpers with which a plan could still be cheaper.
"""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.formulation.ask import CURRENTS, DROP, Answer, Ask, Solved, Status, join
from lugwright.model.formulation.trials import Trial, parts_of, whole
from lugwright.model.formulation.variables import ArcKey
from lugwright.model.search.coupling import pieces_of, tied_by_drop, with_leaves
from lugwright.model.search.found import Candidate
from lugwright.model.search.incumbent import Incumbent
from lugwright.model.search.open_trials import OpenTrials
from lugwright.model.search.parts import PartSolver
from lugwright.model.solving.over_few import STEPS, Solve, solve_step, solve_within
from lugwright.model.solving.solve import WORKERS, solve_kept
from lugwright.problem.leaves import Leaves

WORK = (0.3, 0.3, 0.5, 1.0, 2.0)  # deterministic work units of the solver at every step of a hunt
MOST_HUNTED = 24  # trials


@dataclass
class Round:
    """A trial, its asks with how each ended, and what a plan must stay under (None: nothing).

    ``work``: no more than this on any ask. ``dearer``: proved that no plan of this trial is
    cheaper than the best so far.
    """

    candidate: Candidate
    asks: list[Ask]
    ended: dict[Ask, Solved]
    under: int | None
    work: float | None = None
    dearer: bool = False

    @property
    def answers(self) -> list[Answer]:
        """The answers there are."""
        return [solved.answer for solved in self.ended.values() if solved.answer is not None]

    @property
    def whole(self) -> bool:
        """Whether every ask has an answer."""
        return len(self.answers) == len(self.asks)


class Coupled:
    """Settles the trials of one search whose families couple circuits."""

    def __init__(self, parts: PartSolver) -> None:
        self._parts = parts
        self._tied = tied_by_drop(parts.problem)
        self._leaves = Leaves(parts.problem)
        self._hunted: set[frozenset[str]] = set()
        # Not among the search's own: those are shared with searches under other drop limits.
        self._solved: dict[Ask, Solved] = {}

    def settle(self, batch: list[Candidate], open_trials: OpenTrials, incumbent: Incumbent) -> None:
        """Solve some trials, one a core, and take in what comes out."""
        if incumbent.best is None and batch[0].families not in self._hunted:
            self._hunted.add(batch[0].families)
            self._hunt(batch[0], open_trials, incumbent)
        rounds = [self._round(candidate, incumbent.value) for candidate in batch]
        self._solve_all(rounds)
        for each in rounds:
            self._take_in(each, open_trials, incumbent)

    def _hunt(self, first: Candidate, open_trials: OpenTrials, incumbent: Incumbent) -> None:
        """Offer a first plan of the trials with the least bounds: it says how far to look.

        Every trial gets a little work over few jumpers, then more over more, till one has a plan.
        """
        hunted = [first, *open_trials.nearest(MOST_HUNTED)]
        for step, work in enumerate(WORK):
            for start in range(0, len(hunted), WORKERS):
                some = hunted[start : start + WORKERS]
                rounds = [
                    self._round(
                        replace(each, families=first.families, step=step), incumbent.value, work
                    )
                    for each in some
                ]
                self._solve_all(rounds)
                for each in rounds:
                    if each.whole:
                        incumbent.offer_unproved(each.candidate, join(each.answers))
                if incumbent.best is not None or self._parts.clock.over:
                    return

    def _solve_all(self, rounds: list[Round]) -> None:
        with ThreadPoolExecutor(WORKERS) as pool:
            list(pool.map(self._solve, rounds))

    def narrow(self, trial: Trial, ask: Ask, sizes: Mapping[str, tuple[str, ...]]) -> Narrow | None:
        """What is known of an ask that families pose; None where nothing is."""
        s = self._parts
        if not s.speed.narrow:
            return None
        parts = [p for p in parts_of(s.problem, trial, sizes) if {*p.circuits} & {*ask.circuits}]
        if DROP in ask.families:
            parts = [with_leaves(self._leaves, part) for part in parts]
        parts = [replace(part, families=ask.families & {CURRENTS}) for part in parts]
        return s.bounds.narrow_together(parts)

    def worth(self, trial: Trial, families: frozenset[str], value: int) -> list[tuple[Ask, int]]:
        """The asks of a plan of that value, in every wire size, and what each of them costs.

        All as one, where it is not known what each costs.
        """
        s = self._parts
        stout = pieces_of(self._leaves, trial, s.sizes.stout, families, self._tied)
        every = pieces_of(self._leaves, trial, s.sizes.every, families, self._tied)
        costs = [solved.value if (solved := self._known(ask)) else None for ask in stout]
        if costs.count(None) > 1:
            return [(whole(s.problem, trial, s.sizes.every, families), value)]
        left = value - sum(cost for cost in costs if cost is not None)
        return [
            (ask, left if cost is None else cost) for ask, cost in zip(every, costs, strict=True)
        ]

    def _round(self, candidate: Candidate, under: int | None, work: float | None = None) -> Round:
        s = self._parts
        trial, families = candidate.trial, candidate.families
        asks = pieces_of(self._leaves, trial, s.sizes.stout, families, self._tied)
        return Round(candidate, asks, {}, under, work)

    def _known(self, ask: Ask) -> Solved | None:
        return self._solved.get(ask) if ask.families else self._parts.solved.get(ask)

    # -- solving -----------------------------------------------------------------------------

    def _solve(self, each: Round) -> None:
        """Small asks first: what they cost is no longer there for the large one."""
        for ask in sorted(each.asks, key=lambda ask: len(ask.circuits)):
            each.ended[ask] = self._known(ask) or self._solve_ask(each, ask)
            if each.dearer or each.ended[ask].status is Status.NONE:
                return

    def _solve_ask(self, each: Round, ask: Ask) -> Solved:
        s = self._parts
        narrow = self.narrow(each.candidate.trial, ask, s.sizes.stout)
        if narrow is None or (len(each.asks) > 1 and ask.families.isdisjoint({DROP})):
            return s.solve_one(ask)
        solve = self._solver(ask, narrow, each.work)
        if each.under is None:
            return solve_step(narrow, solve, each.candidate.step)
        beside = sum(solved.bound for other, solved in each.ended.items() if other is not ask)
        found = solve_within(narrow, solve, each.under - 1 - beside)
        each.dearer = found is None
        return found or Solved(Status.UNKNOWN)

    def _solver(self, ask: Ask, narrow: Narrow, work: float | None) -> Solve:
        s = self._parts

        def solve(keep: frozenset[ArcKey] | None, known: Answer | None) -> Solved:
            return solve_kept(s.problem, ask, s.objective, s.clock, narrow.cuts, keep, known, work)

        return solve

    # -- what came out -----------------------------------------------------------------------

    def _take_in(self, each: Round, open_trials: OpenTrials, incumbent: Incumbent) -> None:
        candidate = each.candidate
        proved = {
            ask: solved
            for ask, solved in each.ended.items()
            if solved.status in (Status.BEST, Status.NONE)
        }
        self._solved.update(proved)
        refused = [ask for ask, solved in proved.items() if solved.status is Status.NONE]
        if refused:
            open_trials.refused += refused
        elif each.whole and len(proved) == len(each.asks):
            candidate.answer = join(each.answers)
            value = self._parts.objective.scalar(candidate.answer.sums)
            candidate.bound = max(candidate.bound, value)
            open_trials.push(candidate)
        elif not each.dearer:
            self._take_unproved(each, open_trials, incumbent)

    def _take_unproved(self, each: Round, open_trials: OpenTrials, incumbent: Incumbent) -> None:
        """Offer what was found; where there is more to look at, the trial stays open."""
        candidate = each.candidate
        if each.whole:
            incumbent.offer_unproved(candidate, join(each.answers))
        if len(each.ended) == len(each.asks):
            candidate.bound = max(candidate.bound, sum(x.bound for x in each.ended.values()))
        if each.under is not None or candidate.step >= len(STEPS):
            open_trials.given_up.append(candidate.bound)
        else:
            candidate.step += 1
            open_trials.push(candidate)
