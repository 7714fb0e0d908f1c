"""The queue of a best-first search: trials still open, lowest bound first."""

from __future__ import annotations

import heapq
import itertools

from lugwright.model.formulation.ask import Ask
from lugwright.model.search.found import Candidate


class OpenTrials:
    """Open trials by bound, and the bounds of those given up on.

    ``complete``: all trials are there, so that the least of their bounds is one of all plans.
    ``refused``: asks that were said to have no answer, to be confirmed in the end.
    """

    def __init__(self, *, complete: bool = True) -> None:
        self.complete = complete
        self.given_up: list[int] = []
        self.refused: list[Ask] = []
        self._heap: list[tuple[int, int, int, Candidate]] = []
        self._counter = itertools.count()
        self._working: int | None = None

    def __bool__(self) -> bool:
        return bool(self._heap)

    def push(self, candidate: Candidate) -> None:
        """Put a trial in line by its bound; of equal bounds the one further on comes first."""
        order = (candidate.bound, len(candidate.families) + (candidate.answer is None))
        heapq.heappush(self._heap, (*order, next(self._counter), candidate))

    @property
    def lowest(self) -> int:
        """The bound of the trial first in line. Raises IndexError when none is."""
        return self._heap[0][0]

    @property
    def first(self) -> Candidate:
        """The trial first in line. Raises IndexError when none is."""
        return self._heap[0][3]

    def take(self) -> Candidate:
        """Take the first trial out of line, to be worked on until ``done``."""
        self._working = self.lowest
        return self.take_beside()

    def take_beside(self) -> Candidate:
        """Take the first trial out of line, to be worked on beside another."""
        return heapq.heappop(self._heap)[3]

    def done(self) -> None:
        """The trial taken is back in line, or settled."""
        self._working = None

    def nearest(self, most: int) -> list[Candidate]:
        """The trials with the least bounds, left in line."""
        return [item[3] for item in heapq.nsmallest(most, self._heap)]

    def bound(self) -> int | None:
        """What no plan still open costs less than; None where nothing is open."""
        if not self.complete:
            return 0
        bounds = [item[0] for item in self._heap] + self.given_up
        if self._working is not None:
            bounds.append(self._working)
        return min(bounds, default=None)
