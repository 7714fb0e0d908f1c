"""Telling a listener how a search stands."""

from __future__ import annotations

from lugwright.model.formulation.objective import Objective
from lugwright.plans.progress import Listener, Progress


class Telling:
    """Tells each better plan, and each rise of the bound. ``told_bound``: the last, folded."""

    def __init__(self, objective: Objective, listener: Listener | None) -> None:
        self._objective, self._listener = objective, listener
        self.told_bound = 0

    def tell(self, text: str, best: int | None, bound: int) -> None:
        """Tell a text, with the cost of the best plan (None: none yet) and the bound, folded."""
        if self._listener is None:
            return
        unfold = self._objective.unfold
        cost = None if best is None else unfold(best)
        low = unfold(bound if best is None else min(bound, best))
        self._listener(Progress(text, self._objective.levels, cost, low))

    def tell_rise(self, best: int | None, bound: int) -> None:
        """Tell the bound where it has risen."""
        if bound > self.told_bound:
            self.told_bound = bound
            self.tell("", best, bound)
