"""Between plans of equal cost: which one it is, whatever the clock and the workers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.formulation.ask import Answer, Ask, Solved, Status, join
from lugwright.model.search.coupled import Coupled
from lugwright.model.search.found import Best
from lugwright.model.search.parts import PartSolver
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.resize import in_other_wire
from lugwright.model.solving.solve import WORKERS
from lugwright.model.solving.tie_breaking_lot import cheapest_equal


class EqualPlans:
    """Settles which of the equal best plans of one search it is."""

    def __init__(self, parts: PartSolver, judge: Judge, coupled: Coupled) -> None:
        self._parts, self._judge, self._coupled = parts, judge, coupled
        self._tied: dict[Ask, Answer | None] = {}

    def chosen(self, equal: Sequence[Best]) -> tuple[Best, bool]:
        """Among equal best plans: apart before together, less money, then names."""
        fewest = min(len(best.families) for best in equal)
        ranked = [self._least_money(best) for best in equal if len(best.families) == fewest]
        ranked.sort(key=lambda pair: (pair[0].answer.sums.money_micro, pair[0].trial))
        return ranked[0]

    def _least_money(self, best: Best) -> tuple[Best, bool]:
        """The same trial's answer of the same cost with the least money, then the least lots."""
        if self._parts.clock.over:
            return best, True
        if best.families:
            return self._least_money_together(best)
        parts = self.parts(best)
        self.solve(parts)
        joined = [answer for part in parts if (answer := self._tied[part]) is not None]
        if len(joined) < len(parts):
            return best, True
        answer = join(joined)
        dearer = self._parts.objective.scalar(answer.sums) != best.value
        if dearer or self._judge.broken(answer):
            return best, False
        return replace(best, answer=answer), False

    def parts(self, best: Best) -> list[Ask]:
        """The parts of a plan, each free to be as tall as the plan is."""
        parts = self._parts.parts(best.trial)
        if not self._parts.objective.tallest:
            return parts
        tall = best.answer.sums.tallest
        return [replace(part, most_tall=tall, price_tall=False) for part in parts]

    def solve(self, parts: Iterable[Ask]) -> None:
        """Find the cheapest equal answer of parts, two at a time; None where it was not settled."""
        wanted = [part for part in dict.fromkeys(parts) if part not in self._tied]
        self._parts.solve_many(wanted)
        with ThreadPoolExecutor(WORKERS) as pool:
            for part, answer in zip(wanted, pool.map(self._tie_one, wanted), strict=True):
                self._tied[part] = answer

    def _tie_one(self, part: Ask) -> Answer | None:
        if self._parts.clock.over:
            return None
        return self._cheapest(part, self._parts.solved[part], self._parts.narrow(part))

    def _cheapest(self, ask: Ask, known: Solved, narrow: Narrow | None) -> Answer | None:
        solver = self._parts
        return cheapest_equal(solver.problem, ask, solver.objective, solver.clock, known, narrow)

    def _least_money_together(self, best: Best) -> tuple[Best, bool]:
        """The same where families couple circuits: every ask its plan falls into by itself."""
        s = self._parts
        other = in_other_wire(s.problem, best.answer, s.sizes, self._judge, s.objective)
        slim = other or best.answer
        found: list[Answer] = []
        for ask, value in self._coupled.worth(best.trial, best.families, best.value):
            known = Solved(Status.BEST, slim, value, value)
            answer = self._cheapest(
                ask, known, self._coupled.narrow(best.trial, ask, s.sizes.every)
            )
            if answer is None:
                return replace(best, answer=slim), True
            found.append(answer)
        answer = join(found)
        if self._judge.broken(answer):
            return replace(best, answer=slim), True
        return replace(best, answer=answer), False
