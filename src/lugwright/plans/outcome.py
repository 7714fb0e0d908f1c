"""How a planning run can end, in our own words (never the solver's)."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from lugwright.plans.choice import Choice

TIE_RULE = (
    "circuits each at their own best before circuits that had to give "
    "way to each other, then fewest wires folded back, then less money, then more margin in the "
    "barrels, then the hub first by name, then the smallest sum of lots drawn from the jumpers' "
    "names"
)
"""How plans of equal cost are told apart by the search."""

UNSEARCHED_TIE_RULE = "equal cost: less money first, then names"
"""The same of a choice that nobody searched for."""

EDITED = "edited by hand"
"""The note of a plan that a person has changed: nobody searched for it."""


class Ending(Enum):
    """The four ways a search can end."""

    PROVED = "proved best"
    WITHIN_BOUND = "planned, not proved best in the time given"
    IMPOSSIBLE = "no plan exists"
    NO_ANSWER = "no answer in time"


@dataclass(frozen=True)
class Reason:
    """Why no plan exists, or one thing that stands in the way: in the trade's words.

    ``measured`` and ``limit`` are readable values; ``origin`` is where the limit comes from.
    """

    rule: str
    place: str
    text: str
    measured: str = ""
    limit: str = ""
    origin: str = ""

    def __str__(self) -> str:
        return f"{self.place}: {self.text}" + (
            f" [limit from {self.origin}]" if self.origin else ""
        )


@dataclass(frozen=True)
class Outcome:
    """What the search found. ``cost`` and ``bound`` are vectors over ``levels``, best first.

    ``held`` says what was fixed beforehand, in words. ``met`` names the electrical rules that
    stood in the way of some answer on the way: none, and the search never saw their limits.
    """

    ending: Ending
    levels: tuple[str, ...]
    choice: Choice | None = None
    cost: tuple[int, ...] = ()
    bound: tuple[int, ...] = ()
    reasons: tuple[Reason, ...] = ()
    interrupted: bool = False
    note: str = ""
    tie_rule: str = ""
    held: tuple[str, ...] = ()
    met: tuple[str, ...] = ()
