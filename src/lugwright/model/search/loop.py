"""The loop of a best-first search, and why its last word is true.

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

from collections.abc import Sequence

from lugwright.model.formulation.ask import Status, join
from lugwright.model.formulation.trials import Trial
from lugwright.model.search.coupled import Coupled
from lugwright.model.search.found import Candidate
from lugwright.model.search.incumbent import Incumbent
from lugwright.model.search.open_trials import OpenTrials
from lugwright.model.search.parts import PartSolver
from lugwright.model.search.telling import Telling
from lugwright.model.solving.solve import WORKERS


class Loop:
    """Takes open trials in turn until none could be better than the incumbent.

    ``any_plan`` stops at the first plan found: enough to know that one exists.
    """

    def __init__(
        self,
        parts: PartSolver,
        coupled: Coupled,
        open_trials: OpenTrials,
        incumbent: Incumbent,
        telling: Telling,
        *,
        any_plan: bool = False,
    ) -> None:
        self.open_trials, self.incumbent = open_trials, incumbent
        self.parts, self._coupled, self._telling = parts, coupled, telling
        self._any_plan = any_plan

    def open(self, trials: Sequence[Trial], *, rough: bool) -> None:
        """Put trials in line by what is known of their parts; ``rough``: at little cost."""
        for trial in trials:
            self._rebound(Candidate(trial, 0, rough=rough))

    def run(self) -> None:
        """Take the open trials lowest bound first until none could be better than the best."""
        while self.open_trials and not self.parts.clock.over:
            best = self.incumbent.value
            if best is not None and (self._any_plan or self.open_trials.lowest > best):
                break
            self._step(self.open_trials.take())
            self.open_trials.done()
            self.tell_rise()

    def tell_rise(self) -> None:
        """Tell the bound where it has risen."""
        self._telling.tell_rise(self.incumbent.value, self.incumbent.bound())

    def try_likely(self, trials: Sequence[Trial]) -> None:
        """A first plan early: the landings the circuits would choose if they were free."""
        liked = {
            (name, post)
            for part in self.parts.free.values()
            if (answer := self.parts.solved[part].answer)
            for name, post in answer.landings.items()
        }

        def likeness(trial: Trial) -> int:
            return sum((name, post) in liked for name, posts in trial.landings for post in posts)

        likely = max(trials, key=likeness)
        answers = [solved.answer for solved in self.parts.solve_many(self.parts.parts(likely))]
        found = [answer for answer in answers if answer is not None]
        if len(found) == len(answers):
            self.incumbent.offer_if_sound(Candidate(likely, 0, settled=True), join(found))

    def _step(self, candidate: Candidate) -> None:
        if candidate.rough:
            candidate.rough = False
            self._rebound(candidate)
        elif not candidate.settled:
            self._settle(candidate)
        elif candidate.answer is None:
            self._together(candidate)
        else:
            self._judge(candidate)

    def _rebound(self, candidate: Candidate) -> None:
        """Sum up what is known of a trial's parts and put it back, unless one has no answer."""
        known = []
        for part in self.parts.parts(candidate.trial):
            solved = self.parts.known(part, rough=candidate.rough)
            if solved.status is Status.NONE:
                return
            known.append(solved)
        candidate.bound = max(candidate.bound, self.parts.sum_of_bounds(known))
        self.open_trials.push(candidate)

    def _settle(self, candidate: Candidate) -> None:
        """Solve the next parts of a trial; once all are solved, their answers joined are exact."""
        parts = self.parts.parts(candidate.trial)
        missing = [part for part in parts if part not in self.parts.solved]
        if missing:
            self.parts.solve_many(missing[:WORKERS])
            self._rebound(candidate)
            return
        solved = [self.parts.solved[part] for part in parts]
        if any(part.status is Status.NONE for part in solved):
            return
        candidate.settled = True
        answers = [part.answer for part in solved if part.answer]
        if all(part.status is Status.BEST for part in solved):
            objective = self.parts.objective
            if objective.tallest:
                answers = self.parts.level_stacks(parts, answers)
            candidate.answer = join(answers)
            candidate.bound = objective.scalar(candidate.answer.sums)
            best = self.incumbent.value
            if best is None or candidate.bound < best:
                self.incumbent.offer_unproved(candidate, candidate.answer)
        else:
            candidate.unfinished = True
            if len(answers) == len(parts):
                self.incumbent.offer_unproved(candidate, join(answers))
        self.open_trials.push(candidate)

    def _judge(self, candidate: Candidate) -> None:
        """A complete answer: take it if it stands, else ask again with what it breaks."""
        if candidate.answer is None:
            return
        posed = candidate.families
        if self.incumbent.offer_if_sound(candidate, candidate.answer):
            return
        if posed and candidate.families == posed:
            raise RuntimeError(f"an answer breaks what it was asked to keep: {sorted(posed)}")
        candidate.answer = None
        self.open_trials.push(candidate)

    def _together(self, candidate: Candidate) -> None:
        """Ask for what the broken families couple in one, the next trials in line alongside."""
        batch = [candidate]
        while len(batch) < WORKERS and self.open_trials and _waits(self.open_trials.first):
            batch.append(self.open_trials.take_beside())
        best = self.incumbent.value
        # A trial that cannot be cheaper is left: equal plans matter where circuits stand apart.
        batch = [each for each in batch if best is None or each.bound < best]
        given_up = [each for each in batch if each.unfinished and not each.families]
        self.open_trials.given_up += [each.bound for each in given_up]
        batch = [each for each in batch if each not in given_up]
        if batch:
            hubs = ", ".join(each.trial.hub for each in batch)
            self.incumbent.tell(f"circuits together, hub {hubs}")
            self._coupled.settle(batch, self.open_trials, self.incumbent)


def _waits(candidate: Candidate) -> bool:
    return candidate.settled and candidate.answer is None
