"""Bounds of the parts of a search: one relaxation a part, asked for every landing."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Mapping

from lugwright.model.ask import Ask
from lugwright.model.clock import Clock
from lugwright.model.narrow import Narrow, joined
from lugwright.model.objective import Objective
from lugwright.model.relaxed import Relaxed
from lugwright.model.solve import pose
from lugwright.model.split import Trial, landings_anywhere, parts_of
from lugwright.problem.schema import Problem

Sizes = tuple[tuple[str, tuple[str, ...]], ...]


class Bounds:
    """Answers for parts of trials; each relaxation is made when it is first asked."""

    def __init__(self, problem: Problem, objective: Objective, clock: Clock) -> None:
        self._problem, self._objective, self._clock = problem, objective, clock
        self._landings: dict[str, tuple[str, ...]] = {}
        self._relaxed: dict[tuple[tuple[str, ...], Sizes], Relaxed] = {}
        self._lock = threading.Lock()

    @property
    def apply(self) -> bool:
        """Whether the objective is one sum: a tallest stack is none."""
        return not self._objective.tallest

    def land_on(self, trials: Iterable[Trial]) -> None:
        """The trials that will be asked about."""
        anywhere = landings_anywhere(list(trials))
        landings = {} if anywhere is None else dict(anywhere.landings)
        if landings != self._landings:
            self._landings, self._relaxed = landings, {}

    def bound(self, part: Ask) -> int:
        """What no answer to a part can cost less than; 0 where nothing is known."""
        if not self._is_known(part):
            return 0
        with self._lock:
            return self._of(part).bound(part.landings)

    def narrow(self, part: Ask) -> Narrow | None:
        """What is known of a part and of each jumper in it; None where nothing is."""
        if not self._is_known(part):
            return None
        with self._lock:
            return self._of(part).narrow(part.landings)

    def narrow_whole(self, trial: Trial, sizes: Mapping[str, tuple[str, ...]]) -> Narrow | None:
        """The same of all parts of a trial together, in given sizes."""
        found = []
        for part in parts_of(self._problem, trial, sizes):
            narrow = self.narrow(part)
            if part.circuits and narrow is None:
                return None
            if narrow is not None:
                found.append(narrow)
        return joined(found) if found else None

    def _is_known(self, part: Ask) -> bool:
        landed = all(name in self._landings for name, _ in part.landings)
        return self.apply and bool(part.circuits) and landed

    def _of(self, part: Ask) -> Relaxed:
        key = (part.circuits, part.sizes)
        if key not in self._relaxed:
            free = tuple((name, self._landings[name]) for name, _ in part.landings)
            ask = Ask(part.circuits, free, part.sizes)
            posed = pose(self._problem, ask, self._objective, cuts=())
            posed.model.minimize(posed.terms.scalar(self._objective))
            self._relaxed[key] = Relaxed(posed.v, self._clock)
        return self._relaxed[key]
