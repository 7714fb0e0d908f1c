"""The incumbent: the best plan so far, and what it takes to become it."""

from __future__ import annotations

from dataclasses import replace

from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.formulation.ask import Answer
from lugwright.model.formulation.objective import Objective
from lugwright.model.search.found import Best, Candidate
from lugwright.model.search.open_trials import OpenTrials
from lugwright.model.search.telling import Telling
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import in_other_wire


class Incumbent:
    """Takes in what is offered: the best so far, and other trials' plans of equal cost."""

    def __init__(
        self,
        judge: Judge,
        sizes: SizeSets,
        objective: Objective,
        open_trials: OpenTrials,
        telling: Telling,
    ) -> None:
        self.best: Best | None = None
        self.equal: list[Best] = []
        self._judge, self._sizes, self._objective = judge, sizes, objective
        self._open_trials, self._telling = open_trials, telling

    @property
    def value(self) -> int | None:
        """What the best plan so far costs, folded; None without one."""
        return None if self.best is None else self.best.value

    def bound(self) -> int:
        """The bound of all plans still open; the best plan's cost where none is."""
        bound = self._open_trials.bound()
        return bound if bound is not None else self.value or 0

    def tell(self, text: str) -> None:
        """Tell how the search stands."""
        self._telling.tell(text, self.value, self.bound())

    def offer(self, candidate: Candidate, answer: Answer) -> None:
        """Offer an answer that passes the judge."""
        value = self._objective.scalar(answer.sums)
        offered = Best(answer, value, candidate.trial, candidate.families)
        if self.best is None or value < self.best.value:
            self.best = offered
            self.equal = [offered]
            self.tell(f"a plan with hub {candidate.trial.hub}")
        elif value == self.best.value and all(e.trial != offered.trial for e in self.equal):
            self.equal.append(offered)

    def offer_if_sound(self, candidate: Candidate, answer: Answer) -> bool:
        """Offer an answer that passes the judge, as it is or in other wire of equal cost.

        The candidate is told the families that the answer breaks.
        """
        broken = self._judge.broken(answer)
        if not broken:
            self.offer(candidate, answer)
            return True
        posed = candidate.families
        candidate.families |= broken
        problem = self._judge.problem
        other = in_other_wire(problem, answer, self._sizes, self._judge, self._objective)
        if other is not None:
            # What the wire alone mends has not to be posed.
            self.offer(replace(candidate, families=posed or broken), other)
        return other is not None

    def offer_unproved(self, candidate: Candidate, answer: Answer) -> None:
        """The same for an answer that is not known to be its trial's best."""
        self.offer_if_sound(replace(candidate), answer)
