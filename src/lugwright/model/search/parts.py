"""The parts of trials: each bounded and solved once, and kept for every trial it stands in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import product

from lugwright.model.bounds.by_landing import Bounds
from lugwright.model.bounds.dominance import SizeSets
from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Solved, Status
from lugwright.model.formulation.objective import Objective, objective_of
from lugwright.model.formulation.trials import Trial, parts_of, takers_together
from lugwright.model.search.speed import FAST, PLAIN, Speed
from lugwright.model.solving.solve import WORKERS, second_opinion, solve_ask
from lugwright.problem.schema import Problem


class PartSolver:
    """Bounds and solves parts of one problem's trials.

    ``speed`` says which short ways to take (for tests). ``objective`` stands in for the limits'
    own. ``known``: of an earlier search of the same problem but for electrical limits; what it
    knows of parts holds here too. ``disagreed``: two solves differed on whether some part has an
    answer. ``unconfirmed``: a second solve did not come to an end.
    """

    def __init__(
        self,
        problem: Problem,
        clock: Clock,
        *,
        speed: Speed = FAST,
        objective: Objective | None = None,
        known: PartSolver | None = None,
    ) -> None:
        self.problem = problem
        self.clock = clock
        self.objective: Objective = objective or objective_of(problem)
        # A piece that is built may be kept in wire, and over ways, that a new one never takes.
        self.speed = PLAIN if problem.built else speed
        self.sizes = SizeSets(problem, self.objective, shortcuts=self.speed.sizes)
        own = Bounds(problem, self.objective, clock)
        self.bounds: Bounds = own if known is None else known.bounds
        self.solved: dict[Ask, Solved] = {} if known is None else known.solved
        self.free: dict[tuple[str, ...], Ask] = {}
        self.disagreed = False
        self.unconfirmed = False

    @property
    def by_bounds(self) -> bool:
        """Whether parts are bounded by a relaxation before they are solved."""
        return self.speed.bounds and self.bounds.apply

    def parts(self, trial: Trial) -> list[Ask]:
        """The asks a trial falls into, in the thinnest wire that may be."""
        return parts_of(self.problem, trial, self.sizes.thin)

    def parts_of_equals(
        self, trial: Trial, sizes: Mapping[str, tuple[str, ...]]
    ) -> list[list[Ask]]:
        """The parts of a trial in some sizes, to tell equal plans apart.

        The wire of a taker asked for by itself also ends on the stud it is taken from, in another
        part: so one list for each choice of such takers' sizes.
        """
        problem = self.problem
        apart = not takers_together(problem)
        takers = [c.name for c in problem.circuits if c.taken_from and apart]
        return [
            parts_of(problem, trial, {**sizes, **{n: (s,) for n, s in zip(takers, v, strict=True)}})
            for v in product(*(sizes[name] for name in takers))
        ]

    # -- bounds ------------------------------------------------------------------------------

    def solve_free(self, anywhere: Trial) -> None:
        """Solve every part with its landing left free: a bound of the part wherever it lands."""
        for part in self.parts(anywhere):
            self.free[part.circuits] = part
        self.solve_many(self.free.values())

    def known(self, part: Ask, *, rough: bool) -> Solved:
        """What is known of a part, solved or not; ``rough``: a bound that costs little will do."""
        if part in self.solved:
            return self.solved[part]
        if not self.by_bounds and part.circuits in self.free:
            return self.solved[self.free[part.circuits]]
        bound = self.bounds.rough(part) if rough else self.bounds.bound(part)
        return Solved(Status.UNKNOWN, bound=bound)

    def narrow(self, part: Ask) -> Narrow | None:
        """What bounds say of a part's jumpers; None where nothing is known."""
        return self.bounds.narrow(part) if self.speed.narrow else None

    def sum_of_bounds(self, solved: list[Solved]) -> int:
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

    # -- solving -----------------------------------------------------------------------------

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
        """Solve a part, and have it confirmed where it has no answer; nothing is kept."""
        if self.clock.over:
            return Solved(Status.UNKNOWN)
        solved = solve_ask(self.problem, part, self.objective, self.clock, self.narrow(part))
        if solved.status is Status.NONE:
            self.confirm(part)
        return solved

    def confirm(self, ask: Ask) -> None:
        """Have a second, plainly different solve agree that there is no answer."""
        second = second_opinion(self.problem, ask, self.objective, self.clock)
        self.disagreed = self.disagreed or second in (Status.BEST, Status.SOME)
        self.unconfirmed = self.unconfirmed or second is Status.UNKNOWN

    def level_stacks(self, parts: list[Ask], answers: list[Answer]) -> list[Answer]:
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
