"""The search over hubs, and why its last word is true.

Every trial (where the supplies land) has a bound: the sum over its parts of each part's own
proved best (with the landing left free until the part is solved for this trial), electrical
couplings left out and wire sizes as thin as may be. Leaving rules out
only lowers a minimum, sizes are left out only where tables prove they cannot do better, and
given the trial the parts share nothing else; so the sum is a lower bound of the trial, and its
exact cost when the joined answer passes the judge. If it does not, the same trees are tried in
thicker wire that costs the objective nothing; and if that fails too, the whole trial is asked
again with the broken families posed, until an answer passes or none exists. Trials are taken
lowest bound first; the search ends when no open trial's bound is below the best plan's cost.
The least bound of what is open is then a bound of the whole problem.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from lugwright.model.bounds.by_landing import Bounds
from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Solved, Status, join
from lugwright.model.formulation.objective import Objective, objective_of
from lugwright.model.formulation.trials import Trial, hub_landings, landings_anywhere, parts_of
from lugwright.model.search.coupled import Together
from lugwright.model.search.equal_plans import Ties
from lugwright.model.search.first_plan import early_plan
from lugwright.model.search.found import Best, Candidate, Found, State
from lugwright.model.search.speed import FAST, PLAIN, Speed
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import in_other_wire
from lugwright.model.solving.solve import WORKERS, second_opinion, solve_ask
from lugwright.plan.progress import Listener, Progress
from lugwright.problem.schema import Problem


class Search:
    """Searches one problem.

    ``speed`` says which short ways to take (for tests). ``any_plan`` stops at the first plan
    found: enough to know that one exists. ``objective`` stands in for the limits' own;
    ``ties`` False leaves equal plans as they were found. ``known`` is an earlier search of the
    same problem but for electrical limits: what it knows of parts holds here too.
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
        ties: bool = True,
        known: Search | None = None,
    ) -> None:
        self.any_plan = any_plan
        self.break_ties = ties
        self.problem = problem
        self.clock = clock
        self.listener = listener
        self.hubs = None if hubs is None else frozenset(hubs)
        self.objective: Objective = objective or objective_of(problem)
        # A piece that is built may be kept in wire, and over ways, that a new one never takes.
        self.speed = PLAIN if problem.built else speed
        speed = self.speed
        self.sizes = SizeSets(problem, self.objective, shortcuts=speed.sizes)
        own = Bounds(problem, self.objective, clock)
        self.bounds: Bounds = own if known is None else known.bounds
        self.judge = Judge(problem)
        self.solved: dict[Ask, Solved] = {} if known is None else known.solved
        self.ties = Ties(self)
        self.together = Together(self)
        self.free: dict[tuple[str, ...], Ask] = {}
        self.state = State()
        self.counter = itertools.count()
        self.told_bound = 0
        self.disagreed = False
        self.unconfirmed = False
        self.refused: list[Ask] = []

    # -- the loop ----------------------------------------------------------------------------

    def run(self) -> Found:
        """Search until proved, impossible, or out of time."""
        self.state.opened = False
        self._open_trials()
        self.state.opened = True
        self._tell_bound()
        self._loop()
        return self._end()

    def run_each(self, names: Iterable[str]) -> dict[str, Found]:
        """The same for every instrument as the one hub of all circuits.

        Parts that look the same under several hubs are solved once, and those of all hubs are
        handed to the solver together. An instrument on which no supply could land is left out.
        """
        wanted = frozenset(names)
        trials: dict[str, list[Trial]] = {}
        for hub, landings in hub_landings(self.problem, one_hub=True):
            if hub in wanted:
                trials.setdefault(hub, []).append(Trial(hub, landings))
        self.bounds.land_on(trial for own in trials.values() for trial in own)
        self.solve_many(part for hub in trials for t in trials[hub] for part in self.parts(t))
        states: dict[str, tuple[State, list[Ask]]] = {}
        for hub, own in trials.items():
            self.state, self.refused = State(), []
            for trial in own:
                self._rebound(Candidate(trial, 0))
            self._try_likely(own)
            self._loop()
            states[hub] = self.state, self.refused
        equals = [best for state, _ in states.values() for best in state.equal if not best.families]
        self.ties.solve(part for best in equals for part in self.ties.parts(best))
        found = {}
        for hub, (state, refused) in states.items():
            self.state, self.refused = state, refused
            found[hub] = self._end()
        self.state, self.refused = State(), []
        return found

    def _loop(self) -> None:
        """Take the open trials lowest bound first until none could be better than the best."""
        while self.state.heap and not self.clock.over:
            bound, _, _, candidate = self.state.heap[0]
            if self.state.best and (self.any_plan or bound > self.state.best.value):
                break
            heapq.heappop(self.state.heap)
            self.state.working = bound
            if candidate.rough:
                candidate.rough = False
                self._rebound(candidate)
            elif not candidate.settled:
                self._settle(candidate)
            elif candidate.answer is None:
                self._together(candidate)
            else:
                self._judge(candidate)
            self.state.working = None
            self._tell_bound()

    def push(self, candidate: Candidate) -> None:
        order = (candidate.bound, len(candidate.families) + (candidate.answer is None))
        heapq.heappush(self.state.heap, (*order, next(self.counter), candidate))

    def _open_trials(self) -> None:
        """Bound every circuit with its landing left free; every trial starts from their sum."""
        one_hub = self.problem.limits.one_hub or self.hubs is not None
        trials = [
            Trial(hub, landings)
            for hub, landings in hub_landings(self.problem, one_hub=one_hub)
            if self.hubs is None or hub in self.hubs
        ]
        anywhere = landings_anywhere(trials)
        if anywhere is None:
            return
        self.bounds.land_on(trials)
        if not self._by_bounds:
            for part in self.parts(anywhere):
                self.free[part.circuits] = part
            self.solve_many(self.free.values())
        elif self.speed.early:
            with ThreadPoolExecutor(1) as aside:
                early = aside.submit(early_plan, self, trials)
                self.bounds.prepare(self.parts(anywhere))
                early.result()
        for trial in trials:
            self._rebound(Candidate(trial, 0, rough=self._by_bounds))
        if not self._by_bounds:
            self._try_likely(trials)

    @property
    def _by_bounds(self) -> bool:
        return self.speed.bounds and self.bounds.apply

    def _try_likely(self, trials: list[Trial]) -> None:
        """A first plan early: the landings the circuits would choose if they were free."""
        liked = {
            (name, post)
            for part in self.free.values()
            if (answer := self.solved[part].answer)
            for name, post in answer.landings.items()
        }

        def likeness(trial: Trial) -> int:
            return sum((name, post) in liked for name, posts in trial.landings for post in posts)

        likely = max(trials, key=likeness)
        candidate = Candidate(likely, 0, settled=True)
        answers = [solved.answer for solved in self.solve_many(self.parts(likely))]
        found = [answer for answer in answers if answer is not None]
        if len(found) == len(answers):
            self.offer_if_sound(candidate, join(found))

    def offer_if_sound(self, candidate: Candidate, answer: Answer) -> bool:
        """Offer an answer that passes the judge, as it is or in other wire of equal cost."""
        broken = self.judge.broken(answer)
        if not broken:
            self.offer(candidate, answer)
            return True
        posed = candidate.families
        candidate.families |= broken
        other = in_other_wire(self.problem, answer, self.sizes, self.judge, self.objective)
        if other is not None:
            # What the wire alone mends has not to be posed.
            self.offer(replace(candidate, families=posed or broken), other)
        return other is not None

    def parts(self, trial: Trial) -> list[Ask]:
        return parts_of(self.problem, trial, self.sizes.thin)

    def _rebound(self, candidate: Candidate) -> None:
        """Sum up what is known of a trial's parts and put it back, unless one has no answer."""
        known = []
        for part in self.parts(candidate.trial):
            solved = self.solved.get(part) or self._bounded(part, rough=candidate.rough)
            if solved.status is Status.NONE:
                return
            known.append(solved)
        candidate.bound = max(candidate.bound, self._sum_of_bounds(known))
        self.push(candidate)

    def _bounded(self, part: Ask, *, rough: bool) -> Solved:
        """What is known of a part before it is solved."""
        if not self._by_bounds and part.circuits in self.free:
            return self.solved[self.free[part.circuits]]
        bound = self.bounds.rough(part) if rough else self.bounds.bound(part)
        return Solved(Status.UNKNOWN, bound=bound)

    # -- settling a trial part by part ---------------------------------------------------------

    def _settle(self, candidate: Candidate) -> None:
        """Solve the next parts of a trial; once all are solved, their answers joined are exact."""
        parts = self.parts(candidate.trial)
        missing = [part for part in parts if part not in self.solved]
        if missing:
            self.solve_many(missing[:WORKERS])
            self._rebound(candidate)
            return
        solved = [self.solved[part] for part in parts]
        if any(part.status is Status.NONE for part in solved):
            return
        candidate.settled = True
        answers = [part.answer for part in solved if part.answer]
        if all(part.status is Status.BEST for part in solved):
            if self.objective.tallest:
                answers = self._level_stacks(parts, answers)
            candidate.answer = join(answers)
            candidate.bound = self.objective.scalar(candidate.answer.sums)
            if self.state.best is None or candidate.bound < self.state.best.value:
                self.offer_unproved(candidate, candidate.answer)
        else:
            candidate.unfinished = True
            if len(answers) == len(parts):
                self.offer_unproved(candidate, join(answers))
        self.push(candidate)

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

    def _level_stacks(self, parts: list[Ask], answers: list[Answer]) -> list[Answer]:
        """Given the tallest stack any part needs, let the others use it: then they add up."""
        tall = max(answer.sums.tallest for answer in answers)
        levelled = []
        for part, answer in zip(parts, answers, strict=True):
            if answer.sums.tallest == tall:
                levelled.append(answer)
                continue
            again = self.solve_many([replace(part, most_tall=tall, price_tall=False)])[0]
            levelled.append(again.answer if again.answer else answer)
        return levelled

    def solve_many(self, parts: Iterable[Ask]) -> list[Solved]:
        """Solve parts not yet known, two at a time; the answers in the order asked."""
        wanted = list(parts)
        missing = [part for part in dict.fromkeys(wanted) if part not in self.solved]
        if len(missing) > 1:
            with ThreadPoolExecutor(WORKERS) as pool:
                for part, solved in zip(missing, pool.map(self.solve_one, missing), strict=True):
                    self.solved[part] = solved
        for part in missing:
            if part not in self.solved:
                self.solved[part] = self.solve_one(part)
        return [self.solved[part] for part in wanted]

    def solve_one(self, part: Ask) -> Solved:
        if self.clock.over:
            return Solved(Status.UNKNOWN)
        solved = solve_ask(self.problem, part, self.objective, self.clock, self.narrow(part))
        if solved.status is Status.NONE:
            self.confirm(part)
        return solved

    def narrow(self, part: Ask) -> Narrow | None:
        return self.bounds.narrow(part) if self.speed.narrow else None

    def confirm(self, ask: Ask) -> None:
        """Have a second, plainly different solve agree that there is no answer."""
        second = second_opinion(self.problem, ask, self.objective, self.clock)
        self.disagreed = self.disagreed or second in (Status.BEST, Status.SOME)
        self.unconfirmed = self.unconfirmed or second is Status.UNKNOWN

    # -- a whole trial -------------------------------------------------------------------------

    def _judge(self, candidate: Candidate) -> None:
        """A complete answer: take it if it stands, else ask again with what it breaks."""
        if candidate.answer is None:
            return
        posed = candidate.families
        if self.offer_if_sound(candidate, candidate.answer):
            return
        if posed and candidate.families == posed:
            raise RuntimeError(f"an answer breaks what it was asked to keep: {sorted(posed)}")
        candidate.answer = None
        self.push(candidate)

    def _together(self, candidate: Candidate) -> None:
        """Ask for what the broken families couple in one, the next trials in line alongside."""
        batch = [candidate]
        while len(batch) < WORKERS and self.state.heap and self._waits(self.state.heap[0][3]):
            batch.append(heapq.heappop(self.state.heap)[3])
        best = self.state.best
        # A trial that cannot be cheaper is left: ties are for trials whose circuits stand apart.
        batch = [each for each in batch if best is None or each.bound < best.value]
        given_up = [each for each in batch if each.unfinished and not each.families]
        self.state.given_up += [each.bound for each in given_up]
        batch = [each for each in batch if each not in given_up]
        if batch:
            self._tell(f"circuits together, hub {', '.join(each.trial.hub for each in batch)}")
            self.together.settle(batch)

    @staticmethod
    def _waits(candidate: Candidate) -> bool:
        return candidate.settled and candidate.answer is None

    # -- the best so far -------------------------------------------------------------------------

    def offer(self, candidate: Candidate, answer: Answer) -> None:
        value = self.objective.scalar(answer.sums)
        offered = Best(answer, value, candidate.trial, candidate.families)
        best = self.state.best
        if best is None or value < best.value:
            self.state.best = offered
            self.state.equal = [offered]
            self._tell(f"a plan with hub {candidate.trial.hub}")
        elif value == best.value and all(e.trial != offered.trial for e in self.state.equal):
            self.state.equal.append(offered)

    def offer_unproved(self, candidate: Candidate, answer: Answer) -> None:
        self.offer_if_sound(replace(candidate), answer)

    def _tell(self, text: str) -> None:
        if self.listener is None:
            return
        best = self.state.best
        cost = self.objective.unfold(best.value) if best else None
        low = self._open_bound()
        bound = self.objective.unfold(min(low, best.value) if best else low)
        self.listener(Progress(text, self.objective.levels, cost, bound))

    def _tell_bound(self) -> None:
        """Report when the bound has risen."""
        bound = self._open_bound()
        if bound > self.told_bound:
            self.told_bound = bound
            self._tell("")

    def _open_bound(self) -> int:
        if not self.state.opened:
            return 0
        open_bounds = [item[0] for item in self.state.heap] + self.state.given_up
        if self.state.working is not None:
            open_bounds.append(self.state.working)
        if open_bounds:
            return min(open_bounds)
        return self.state.best.value if self.state.best else 0

    def so_far(self) -> Found:
        """The best plan so far, asked for from another thread while the search still runs.

        Its bound is the last that was told: what is open may be half-way from place to place.
        """
        best, bound = self.state.best, self.told_bound
        return Found(best, bound if best is None else min(best.value, bound), ended=False)

    # -- the end -----------------------------------------------------------------------------------

    def _end(self) -> Found:
        best = self.state.best
        left_open = bool(self.state.given_up) or (self.clock.over and bool(self.state.heap))
        if best is None:
            for ask in self.refused:
                self.confirm(ask)
            ended = not left_open and not self.unconfirmed
            return Found(None, self._open_bound(), ended, self.disagreed)
        bound = min(best.value, self._open_bound())
        if self.any_plan or not self.break_ties:
            return Found(best, bound, bound == best.value, self.disagreed)
        chosen, ties_open = self.ties.chosen()
        proved = bound == best.value and not self.disagreed
        return Found(chosen, bound, proved, self.disagreed, ties_open)
