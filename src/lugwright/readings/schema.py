"""One line of the test sheet, and the sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from lugwright.plans.schema import Plan
from lugwright.readings.bands import Bands
from lugwright.readings.wiring import Wiring

Unit = Literal["ohm", "V", "A", "yes or no"]
Part = Literal[
    "continuity", "far end", "way closed", "way open", "feed to ground", "signal to feed",
    "stop apart", "first current", "powered feed", "feeds apart", "live", "not live",
    "fuse", "setting", "supply", "volts", "does", "alone", "pulled", "key off", "engine",
]  # fmt: skip
# A line is numbered by what the meter is set to; what is only looked at, as seen.
SET_TO: dict[Unit, str] = {"ohm": "ohms", "V": "volts", "A": "amps", "yes or no": "seen"}
EXTRA = "crimp "  # how lines are named that stand on no sheet


@dataclass(frozen=True)
class Line:
    """One thing to measure or see.

    ``start`` and ``at`` are the nodes the meter's tips touch, ``start_words`` and ``at_words`` the
    same for people. ``low`` and ``high`` are the pass band in thousandths of the unit, None where
    it has no end on that side. Where ``of_supply``, both are counted from the measured supply.
    Yes or no: ``yes`` passes. ``loads`` are those that show in it. ``closed`` are the ways, by far
    post, that conduct while it is measured.
    """

    id: str
    part: Part
    circuit: str
    start: str
    at: str
    start_words: str
    at_words: str
    unit: Unit
    low: int | None = None
    high: int | None = None
    of_supply: bool = False
    what: str = ""
    loads: tuple[str, ...] = ()
    closed: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Sheet:
    """All lines of a plan, with the wiring and bands they come from.

    ``extra`` are lines that are measured only when they are asked for: volts at every fitting.
    ``untold`` names the feeds whose loads an ohmmeter cannot tell from a short.
    """

    plan: Plan
    wiring: Wiring
    bands: Bands
    lines: tuple[Line, ...]
    extra: tuple[Line, ...]
    untold: tuple[str, ...] = ()

    @property
    def supply_line(self) -> str:
        """The line by which the volts of others are judged; "" where there is none."""
        return next((line.id for line in self.lines if line.part == "supply"), "")


def numbered(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines, each with its number: ``ohms 3``, ``volts 7``."""
    count: dict[str, int] = {}
    found = []
    for line in lines:
        word = SET_TO[line.unit]
        count[word] = count.get(word, 0) + 1
        found.append(replace(line, id=f"{word} {count[word]}"))
    return tuple(found)
