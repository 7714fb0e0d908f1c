"""The search over hubs and wire sizes, and why its last word is true.

Every trial (hub, landing, sizes) has a bound: the sum over its parts of each part's own proved
best, electrical couplings left out. Leaving rules out only lowers a minimum, and given the
trial the parts share nothing else, so the sum is a lower bound of the trial, and its exact
cost when the joined answer passes the judge. If it does not, the whole trial is asked again
with the broken families posed, until an answer passes or none exists. Trials are taken lowest
bound first; the search ends when no open trial's bound is below the best plan's cost. The least
bound of what is open is then a bound of the whole problem.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

from lugwright.model.ask import Answer, Ask, Solved, Status
from lugwright.model.judge import Judge
from lugwright.model.objective import Objective, objective_of
from lugwright.model.solve import Clock, confirm_none, solve_ask
from lugwright.model.split import Dominance, Trial, hub_landings, parts_of, size_choices, whole
from lugwright.plan.progress import Listener, Progress
from lugwright.problem.schema import Problem

WORKERS = 2


@dataclass
class Candidate:
    """A trial under search: its bound so far, and its answer once it has one."""

    trial: Trial
    bound: int
    settled: bool = False
    families: frozenset[str] = frozenset()
    answer: Answer | None = None
    unfinished: bool = False


@dataclass
class Best:
    """The best plan so far, and in how it was reached (apart, or together with families)."""

    answer: Answer
    value: int
    trial: Trial
    families: frozenset[str]


@dataclass(frozen=True)
class Found:
    """What a search ends with. ``bound`` is folded; ``ended`` False: time ran out."""

    best: Best | None
    bound: int
    ended: bool
    confirmed: bool = True
    ties_open: bool = False


@dataclass
class _State:
    heap: list[tuple[int, int, int, Candidate]] = field(default_factory=list)
    best: Best | None = None
    equal: list[Best] = field(default_factory=list)
    given_up: list[int] = field(default_factory=list)


class Search:
    """Searches one problem. ``shortcuts`` False solves every size for itself (for tests)."""

    def __init__(
        self,
        problem: Problem,
        clock: Clock,
        listener: Listener | None = None,
        *,
        hubs: Iterable[str] | None = None,
        shortcuts: bool = True,
    ) -> None:
        self.problem = problem
        self.clock = clock
        self.listener = listener
        self.hubs = None if hubs is None else frozenset(hubs)
        self.shortcuts = shortcuts
        self.objective: Objective = objective_of(problem)
        self.judge = Judge(problem)
        self.dominance = Dominance(problem)
        self.solved: dict[tuple[Ask, bool], Solved] = {}
        self.state = _State()
        self.counter = itertools.count()
        self.closed_unsure = False
        self.refused: list[Ask] = []

    # -- the loop ----------------------------------------------------------------------------

    def run(self) -> Found:
        """Search until proved, impossible, or out of time."""
        self._open_trials()
        while self.state.heap and not self.clock.over:
            bound, _, _, candidate = self.state.heap[0]
            if self.state.best and bound > self.state.best.value:
                break
            heapq.heappop(self.state.heap)
            if not candidate.settled:
                self._settle(candidate)
            elif candidate.answer is None:
                self._together(candidate)
            else:
                self._judge(candidate)
        return self._end()

    def _push(self, candidate: Candidate) -> None:
        order = (candidate.bound, len(candidate.families) + (candidate.answer is None))
        heapq.heappush(self.state.heap, (*order, next(self.counter), candidate))

    def _open_trials(self) -> None:
        """Settle every set of landings in its thinnest wire; thicker wire inherits that bound."""
        groups: dict[object, list[Trial]] = {}
        for hub, landings in hub_landings(self.problem):
            if self.hubs is None or hub in self.hubs:
                sizes = list(size_choices(self.problem))
                groups[hub, landings] = [Trial(hub, landings, each) for each in sizes]
        first = [trials[0] for trials in groups.values()]
        self._solve_many(part for trial in first for part in parts_of(self.problem, trial))
        for thinnest, *thicker in groups.values():
            candidate = Candidate(thinnest, 0)
            self._settle(candidate)
            for trial in thicker:
                if not (self.shortcuts and self._thinner(thinnest, trial)):
                    self._push(Candidate(trial, 0))
                elif candidate.settled:
                    self._push(Candidate(trial, candidate.bound))

    # -- bounds ------------------------------------------------------------------------------

    def _sum_of_bounds(self, solved: list[Solved]) -> int:
        """What parts cannot cost less than together.

        The tallest stack is a maximum and not a sum: there the stacked lugs add up, the tallest
        stack any part needs counts once, and what lies below those levels is left out.
        """
        if not self.objective.tallest:
            return sum(part.bound for part in solved)
        sums = [part.answer.sums for part in solved if part.answer and part.status is Status.BEST]
        stacked = sum(each.stacked for each in sums)
        tallest = max((each.tallest for each in sums), default=0)
        return self.objective.stacked * stacked + self.objective.tallest * tallest

    def _known(self, part: Ask) -> Solved | None:
        """This part solved, or one in thinner wire that covers it."""
        exact = self.solved.get((part, False))
        if exact is not None or not self.shortcuts:
            return exact
        for (other, ties), solved in self.solved.items():
            if not ties and self._covers(other, part):
                return solved
        return None

    def _covers(self, other: Ask, part: Ask) -> bool:
        if (other.circuits, other.landings, other.most_tall, other.rest) != (
            part.circuits,
            part.landings,
            part.most_tall,
            part.rest,
        ):
            return False
        for (name, mine), (_, theirs) in zip(other.sizes, part.sizes, strict=True):
            if len(mine) != 1 or len(theirs) != 1:
                if mine != theirs:
                    return False
            elif not self.dominance.covers(name, mine[0], theirs[0]):
                return False
        return True

    # -- settling a trial part by part ---------------------------------------------------------

    def _settle(self, candidate: Candidate) -> None:
        """Solve every part of a trial exactly; joined, their answers are its bound."""
        if self._can_only_tie(candidate):
            return
        parts = parts_of(self.problem, candidate.trial)
        solved = self._solve_many(parts)
        if any(part.status is Status.NONE for part in solved):
            return
        candidate.settled = True
        answers = [part.answer for part in solved if part.answer]
        if all(part.status is Status.BEST for part in solved):
            if self.objective.tallest:
                answers = self._level_stacks(parts, answers)
            candidate.answer = _join(answers)
            candidate.bound = self.objective.scalar(candidate.answer.sums)
        else:
            candidate.unfinished = True
            candidate.bound = max(candidate.bound, self._sum_of_bounds(solved))
            if len(answers) == len(parts):
                self._offer_unproved(candidate, answers)
        self._push(candidate)

    def _can_only_tie(self, candidate: Candidate) -> bool:
        """Whether an equal plan in thinner wire, landed alike, makes this trial pointless."""
        best = self.state.best
        if not self.shortcuts or best is None or candidate.bound < best.value:
            return False
        return any(
            not equal.families
            and equal.trial.landings == candidate.trial.landings
            and self._thinner(equal.trial, candidate.trial)
            for equal in self.state.equal
        )

    def _thinner(self, one: Trial, other: Trial) -> bool:
        return all(
            mine == theirs
            or (len(mine) == len(theirs) == 1 and self.dominance.covers(name, mine[0], theirs[0]))
            for (name, mine), (_, theirs) in zip(one.sizes, other.sizes, strict=True)
        )

    def _level_stacks(self, parts: list[Ask], answers: list[Answer]) -> list[Answer]:
        """Given the tallest stack any part needs, let the others use it: then they add up."""
        tall = max(answer.sums.tallest for answer in answers)
        levelled = []
        for part, answer in zip(parts, answers, strict=True):
            if answer.sums.tallest == tall:
                levelled.append(answer)
                continue
            again = self._solve_many([replace(part, most_tall=tall, price_tall=False)])[0]
            levelled.append(again.answer if again.answer else answer)
        return levelled

    def _solve_many(self, parts: Iterable[Ask]) -> list[Solved]:
        """Solve parts not yet known, two at a time; the answers in the order asked."""
        wanted = list(parts)
        missing = [part for part in dict.fromkeys(wanted) if (part, False) not in self.solved]
        if len(missing) > 1:
            with ThreadPoolExecutor(WORKERS) as pool:
                for part, solved in zip(missing, pool.map(self._solve_one, missing), strict=True):
                    self.solved[part, False] = solved
        for part in missing:
            if (part, False) not in self.solved:
                self.solved[part, False] = self._solve_one(part)
        return [self.solved[part, False] for part in wanted]

    def _solve_one(self, part: Ask) -> Solved:
        solved = solve_ask(self.problem, part, self.objective, self.clock)
        if solved.status is Status.NONE and not confirm_none(
            self.problem, part, self.objective, self.clock
        ):
            self.closed_unsure = True
        return solved

    # -- a whole trial -------------------------------------------------------------------------

    def _judge(self, candidate: Candidate) -> None:
        """A complete answer: take it if it stands, else ask again with what it breaks."""
        if candidate.answer is None:
            return
        broken = self.judge.broken(candidate.answer)
        if not broken:
            self._offer(candidate, candidate.answer)
            return
        candidate.families |= broken
        candidate.answer = None
        self._push(candidate)

    def _together(self, candidate: Candidate) -> None:
        """Ask for all circuits of a trial at once, with the families its answers broke."""
        if self.state.best and candidate.bound >= self.state.best.value:
            return  # it cannot be cheaper; ties are for trials whose circuits stand apart
        if candidate.unfinished and not candidate.families:
            self.state.given_up.append(candidate.bound)
            return
        ask = whole(self.problem, candidate.trial, candidate.families)
        self._tell(f"circuits together, hub {candidate.trial.hub}")
        solved = solve_ask(self.problem, ask, self.objective, self.clock)
        if solved.status is Status.NONE:
            self.refused.append(ask)
            return
        if solved.status is Status.BEST:
            candidate.bound = max(candidate.bound, solved.value)
            candidate.answer = solved.answer
            self._push(candidate)
            return
        candidate.bound = max(candidate.bound, solved.bound)
        if solved.answer is not None and not self.judge.broken(solved.answer):
            self._offer_unproved(candidate, [solved.answer])
        self.state.given_up.append(candidate.bound)

    # -- the best so far -------------------------------------------------------------------------

    def _offer(self, candidate: Candidate, answer: Answer) -> None:
        value = self.objective.scalar(answer.sums)
        offered = Best(answer, value, candidate.trial, candidate.families)
        best = self.state.best
        if best is None or value < best.value:
            self.state.best = offered
            self.state.equal = [offered]
            self._tell(f"a plan with hub {candidate.trial.hub}")
        elif value == best.value:
            self.state.equal.append(offered)

    def _offer_unproved(self, candidate: Candidate, answers: list[Answer]) -> None:
        answer = _join(answers)
        if not self.judge.broken(answer):
            self._offer(candidate, answer)

    def _tell(self, text: str) -> None:
        if self.listener is None:
            return
        best = self.state.best
        cost = self.objective.unfold(best.value) if best else None
        low = self._open_bound()
        bound = self.objective.unfold(min(low, best.value) if best else low)
        self.listener(Progress(text, self.objective.levels, cost, bound))

    def _open_bound(self) -> int:
        open_bounds = [item[0] for item in self.state.heap] + self.state.given_up
        if open_bounds:
            return min(open_bounds)
        return self.state.best.value if self.state.best else 0

    # -- the end -----------------------------------------------------------------------------------

    def _end(self) -> Found:
        best = self.state.best
        timed_out = bool(self.state.given_up) or (
            self.clock.over
            and bool(self.state.heap)
            and self._open_bound() < (best.value if best else 1 << 62)
        )
        if best is None:
            sure = not self.closed_unsure and all(
                confirm_none(self.problem, ask, self.objective, self.clock) for ask in self.refused
            )
            return Found(None, self._open_bound(), not timed_out, sure)
        bound = min(best.value, self._open_bound())
        chosen, ties_open = self._break_ties()
        return Found(chosen, bound, bound == best.value, not self.closed_unsure, ties_open)

    def _break_ties(self) -> tuple[Best, bool]:
        """Among equal best plans: apart before together, less money, then names."""
        fewest = min(len(best.families) for best in self.state.equal)
        ranked = []
        for best in self.state.equal:
            if len(best.families) == fewest:
                ranked.append(self._least_money(best))
        ranked.sort(key=lambda pair: (pair[0].answer.sums.money_micro, pair[0].trial))
        return ranked[0]

    def _least_money(self, best: Best) -> tuple[Best, bool]:
        """The same trial's answer of the same cost with the least money, then the least lots."""
        if self.clock.over:
            return best, True
        asks = [whole(self.problem, best.trial, best.families)]
        if not best.families:
            asks = parts_of(self.problem, best.trial)
            if self.objective.tallest:
                tall = best.answer.sums.tallest
                asks = [replace(part, most_tall=tall, price_tall=False) for part in asks]
        answers: list[Answer] = []
        for ask in asks:
            key = (ask, True)
            if key not in self.solved:
                self.solved[key] = solve_ask(
                    self.problem, ask, self.objective, self.clock, ties=True
                )
            answer = self.solved[key].answer
            if self.solved[key].status is not Status.BEST or answer is None:
                return best, True
            answers.append(answer)
        joined = _join(answers)
        if self.objective.scalar(joined.sums) != best.value or self.judge.broken(joined):
            return best, False
        return replace_answer(best, joined), False


def replace_answer(best: Best, answer: Answer) -> Best:
    """The same best, reached by another answer of the same cost."""
    return Best(answer, best.value, best.trial, best.families)


def _join(answers: list[Answer]) -> Answer:
    joined = answers[0]
    for answer in answers[1:]:
        joined = joined.joined(answer)
    return joined
