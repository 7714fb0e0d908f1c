"""Numbers of cut wires within their circuit; the same part has the same number in a family."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable


class PartNumbers:
    """Hands out 1, 2, 3 … for each series (a circuit, or a block of boat wires).

    ``family`` True: one of these is shared by the plans of a family, and a part that was numbered
    before keeps its number in every further plan.
    """

    def __init__(self, *, family: bool = False) -> None:
        self.family = family
        self._last: Counter[str] = Counter()
        self._known: dict[tuple[str, Hashable], int] = {}

    def number(self, series: str, part: Hashable) -> int:
        """The number of a part in its series; ``part`` says what makes it the same."""
        if self.family and (series, part) in self._known:
            return self._known[series, part]
        self._last[series] += 1
        self._known[series, part] = self._last[series]
        return self._last[series]
