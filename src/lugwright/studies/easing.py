"""What can be taken away, and the ladder of steps towards it.

An easing is one limit, or one fact of the scenario or the stock that a person can change.
``off`` takes it away wholly: only for asking, never suggested. ``values`` are the steps a person
can take, from the nearest to the present value onwards; none lies outside the limit's published
range. A step may be taken at some ``places`` only.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from functools import reduce
from typing import Any, Literal

from lugwright.scenario.brief import Brief

Kind = Literal["limit", "scenario", "stock", "hold"]
Value = Hashable
Places = frozenset[str]


@dataclass(frozen=True)
class Easing:
    """One thing that can be eased.

    ``name`` is a limit's plain name, or what the fact is called. ``at`` gives the question with
    a step taken at some places; ``say`` words a step at one place, or "" where it has none ("5
    lugs on a stud"). ``climbs``: whatever a step allows the next one allows too. ``single``: each
    step names its one place itself.
    """

    name: str
    kind: Kind
    off: Callable[[Brief], Brief]
    values: tuple[Any, ...]
    at: Callable[[Brief, Any, Places], Brief]
    say: Callable[[Brief, Any, str], str]
    places: tuple[str, ...] = ()
    climbs: bool = True
    single: bool = False

    def step(self, brief: Brief, value: Any, places: Places | None = None) -> Brief:
        """The question with one step taken, at every place unless some are named."""
        return self.at(brief, value, frozenset(self.places) if places is None else places)


def all_off(brief: Brief, easings: Iterable[Easing]) -> Brief:
    """The question with all of these taken away."""
    return reduce(lambda so_far, easing: easing.off(so_far), easings, brief)
