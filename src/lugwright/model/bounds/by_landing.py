"""Bounds of the parts of a search: one relaxation a part, asked for every landing."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import product
from typing import TypeVar

from lugwright.base.identity import JointId
from lugwright.model.bounds.reduced_costs import Narrow, joined, least
from lugwright.model.bounds.relaxation import Landings, Relaxed
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import CURRENTS, Ask, Leaves
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.pose import pose
from lugwright.model.formulation.trials import Trial, landings_anywhere
from lugwright.problem.schema import Problem

T = TypeVar("T")
Sizes = tuple[tuple[str, tuple[str, ...]], ...]


class Bounds:
    """Answers for parts of trials; each relaxation is made when it is first asked."""

    def __init__(self, problem: Problem, objective: Objective, clock: Clock) -> None:
        self._problem, self._objective, self._clock = problem, objective, clock
        self._landings: dict[str, tuple[JointId, ...]] = {}
        self._relaxed: dict[tuple[tuple[str, ...], Sizes, Leaves, bool], Relaxed] = {}
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

    def prepare(self, parts: Iterable[Ask]) -> None:
        """Make the relaxations of parts ahead of the first question."""
        for part in parts:
            self.rough(part)

    def rough(self, part: Ask) -> int:
        """What no answer to a part can cost less than, at little cost; 0 where nothing is known."""
        return self._least(part, Relaxed.rough)

    def bound(self, part: Ask) -> int:
        """The same, as near as a relaxation comes."""
        return self._least(part, Relaxed.bound)

    def narrow(self, part: Ask) -> Narrow | None:
        """What is known of a part and of each jumper in it; None where nothing is."""
        if not self._is_known(part):
            return None
        with self._lock:
            found = [self._read(alone, part, Relaxed.narrow) for alone in self._one_size(part)]
            known = [narrow for narrow in found if narrow is not None]
            if len(known) < len(found):
                return self._read(part, part, Relaxed.narrow)
        return least(known)

    def narrow_together(self, parts: Iterable[Ask]) -> Narrow | None:
        """The same of several parts asked for together."""
        found = [self.narrow(part) for part in parts]
        known = [narrow for narrow in found if narrow is not None]
        return joined(known) if known and len(known) == len(found) else None

    def _least(self, part: Ask, read: Callable[[Relaxed, Landings], int | None]) -> int:
        if not self._is_known(part):
            return 0
        with self._lock:
            found = [self._read(alone, part, read) for alone in self._one_size(part)]
            known = [bound for bound in found if bound is not None]
            if len(known) < len(found):
                return self._read(part, part, read) or 0
        return min(known)

    def _read(self, ask: Ask, part: Ask, read: Callable[[Relaxed, Landings], T | None]) -> T | None:
        """What a relaxation says of a part's landings; None where time is up before it is made."""
        relaxed = self._of(ask)
        return None if relaxed is None else read(relaxed, part.landings)

    def _one_size(self, part: Ask) -> list[Ask]:
        """The part in every one of its circuits' sizes alone, where one size serves a circuit.

        A relaxation of them all would mix sizes, a little of each; the least of theirs does not.
        """
        if self._problem.limits.wire_size_choice == "jumper":
            return [part]
        own = [name for name, _ in part.sizes if name in part.circuits]
        guests = tuple((name, sizes) for name, sizes in part.sizes if name not in part.circuits)
        found = []
        for each in product(*(part.sizes_of(name) for name in own)):
            chosen = tuple(zip(own, each, strict=True))
            leaves = tuple((key, number) for key, number in part.leaves if key in chosen)
            sizes = (*((name, (size,)) for name, size in chosen), *guests)
            found.append(replace(part, sizes=sizes, leaves=leaves))
        return found or [part]

    def _is_known(self, part: Ask) -> bool:
        landed = all(name in self._landings for name, _ in part.landings)
        return self.apply and bool(part.circuits) and landed

    def _of(self, part: Ask) -> Relaxed | None:
        key = (part.circuits, part.sizes, part.leaves, CURRENTS in part.families)
        if key not in self._relaxed:
            if self._clock.over:
                return None
            free = tuple((name, self._landings[name]) for name, _ in part.landings)
            ask = Ask(part.circuits, free, part.sizes, leaves=part.leaves)
            posed = pose(self._problem, ask, self._objective, cuts=(), linear=True)
            posed.model.minimize(posed.terms.scalar(self._objective))
            caps = CURRENTS in part.families
            self._relaxed[key] = Relaxed(posed.v, self._clock, caps=caps)
        return self._relaxed[key]
