"""Between plans of equal cost: which one it is, whatever the clock and the workers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
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
from lugwright.model.solving.tie_breaking_lot import FOLDED, cheapest_equal
from lugwright.trade.objective import rank_of_equals

Sizes = Mapping[str, tuple[str, ...]]


class EqualPlans:
    """Settles which of the equal best plans of one search it is."""

    def __init__(self, parts: PartSolver, judge: Judge, coupled: Coupled) -> None:
        self._parts, self._judge, self._coupled = parts, judge, coupled
        self._tied: dict[Ask, Solved] = {}

    def chosen(self, equal: Sequence[Best]) -> tuple[Best, bool]:
        """Among equal best plans: apart before together, then as rule R28 says."""
        fewest = min(len(best.families) for best in equal)
        ranked = [self._first(best) for best in equal if len(best.families) == fewest]
        ranked.sort(key=lambda pair: (rank_of_equals(pair[0].answer.sums), pair[0].trial))
        return ranked[0]

    def _first(self, best: Best) -> tuple[Best, bool]:
        """The first by rule R28 of the same trial's answers of the same cost; whether it is not
        known to be the first."""
        if self._parts.clock.over:
            return best, True
        if best.families:
            return self._first_together(best)
        sizes = self._parts.sizes
        level = self._level(best, sizes.thin)
        if level is not None and sizes.equal_matter(self._fold_for_money(best)):
            level = self._level(best, sizes.equal)
        if not level:
            return best, level is None
        first = min(level, key=lambda answer: rank_of_equals(answer.sums))
        broken = self._judge.broken(first)
        if not broken:
            return replace(best, answer=first), False
        # What tells equal plans apart leans on a rule that the plan itself did not touch.
        together, still_open = self._first_together(replace(best, families=broken))
        return replace(together, families=best.families), still_open

    def _fold_for_money(self, best: Best) -> bool:
        """Whether the least money of a trial in thin sizes, which is solved, is had by a fold."""
        each = self._parts_of(best, self._parts.sizes.thin)
        return any(self._tied[part].extra.get(FOLDED) for parts in each for part in parts)

    def _level(self, best: Best, sizes: Sizes) -> list[Answer] | None:
        """The first answers of a trial in some sizes that cost what the plan does, one for each
        choice of the takers' sizes; None where not all was settled."""
        each = self._parts_of(best, sizes)
        self._solve(part for parts in each for part in parts)
        found: list[Answer] = []
        for parts in each:
            tied = [self._tied[part] for part in parts]
            if any(solved.status is Status.UNKNOWN for solved in tied):
                return None
            answers = [solved.answer for solved in tied if solved.answer is not None]
            if len(answers) == len(parts):
                found.append(join(answers))
        return [a for a in found if self._parts.objective.scalar(a.sums) == best.value]

    def solve_together(self, equal: Iterable[Best]) -> None:
        """Find the first answers of the parts of many equal best plans, two at a time."""
        thin = self._parts.sizes.thin
        alone = [best for best in equal if not best.families]
        each = [parts for best in alone for parts in self._parts_of(best, thin)]
        self._solve(part for parts in each for part in parts)

    def _parts_of(self, best: Best, sizes: Sizes) -> list[list[Ask]]:
        """The parts of a plan, each free to be as tall as the plan is."""
        each = self._parts.parts_of_equals(best.trial, sizes)
        if not self._parts.objective.tallest:
            return each
        tall = best.answer.sums.tallest
        return [
            [replace(part, most_tall=tall, price_tall=False) for part in parts] for parts in each
        ]

    def _solve(self, parts: Iterable[Ask]) -> None:
        """Find the first of the equal answers of parts, two at a time."""
        wanted = [part for part in dict.fromkeys(parts) if part not in self._tied]
        self._parts.solve_many(self._thin(part) for part in wanted)
        with ThreadPoolExecutor(WORKERS) as pool:
            for part, solved in zip(wanted, pool.map(self._tie_one, wanted), strict=True):
                self._tied[part] = solved

    def _thin(self, part: Ask) -> Ask:
        """The same part in the sizes it was bounded in: there its least cost is known."""
        thin = self._parts.sizes.thin
        return replace(part, sizes=tuple((name, thin[name]) for name, _ in part.sizes))

    def _tie_one(self, part: Ask) -> Solved:
        if self._parts.clock.over:
            return Solved(Status.UNKNOWN)
        known = self._parts.solved[self._thin(part)]
        return self._cheapest(part, known, self._parts.narrow(part))

    def _cheapest(self, ask: Ask, known: Solved, narrow: Narrow | None) -> Solved:
        solver = self._parts
        return cheapest_equal(solver.problem, ask, solver.objective, solver.clock, known, narrow)

    def _first_together(self, best: Best) -> tuple[Best, bool]:
        """The same where families couple circuits: every ask its plan falls into by itself."""
        s = self._parts
        other = in_other_wire(s.problem, best.answer, s.sizes, self._judge, s.objective)
        slim = other or best.answer
        found: list[Answer] = []
        for ask, value in self._coupled.worth(best.trial, best.families, best.value):
            known = Solved(Status.BEST, slim, value, value)
            solved = self._cheapest(
                ask, known, self._coupled.narrow(best.trial, ask, s.sizes.every)
            )
            if solved.answer is None:
                return replace(best, answer=slim), True
            found.append(solved.answer)
        answer = join(found)
        broken = self._judge.broken(answer)
        if broken - best.families:
            return self._first_together(replace(best, families=best.families | broken))
        if broken or s.objective.scalar(answer.sums) != best.value:
            return replace(best, answer=slim), True
        return replace(best, answer=answer), False
