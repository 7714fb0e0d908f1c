"""What a limit is: one row each for its name, unit, meaning, range and safer direction.

The rows themselves stand in ``spec_rows.py``; values and their sources in ``rule_sets/*.toml``.
Every limit has one plain name, the same in every file and on the command line. In a file it
may stand under its group (``[lengths] slack = "5 %"``) or plainly (``slack = "5 %"``); a limit
with parts is written with dots (``minutes_landing.ring.aboard``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Literal

GROUPS = ("lengths", "hub", "barrels", "studs", "electricity", "money", "objective")


class Unit(Enum):
    """How a limit is written. The comment names the integer it becomes (``base.scale``)."""

    LENGTH = "length"  # 0.1 mm
    LENGTHS = "list of lengths"  # 0.1 mm, ascending; empty for none
    SHARE = "share"  # thousandths, written in per cent
    RATIO = "ratio"  # thousandths, written as a plain number
    PITCHES = "thread pitches"  # thousandths of a pitch, written as a plain number
    COUNT = "count"
    FLAG = "yes or no"
    CHOICE = "choice"
    KINDS = "list of kinds"
    TEMPERATURE = "temperature"  # whole degrees Celsius
    RESISTANCE = "resistance"  # micro-ohm
    VOLTS_OR_OFF = "volts, or off"  # millivolt, None when off
    WIRE_SIZE = "wire size"  # its nominal area in square micrometres
    CURRENCY = "currency"
    MONEY_PER_HOUR = "money per hour"  # millionths of the currency
    MINUTES = "minutes"  # 0.01 min


Tighter = Literal["less", "more", "listed", "none"]


@dataclass(frozen=True)
class LimitSpec:
    """One limit.

    ``field`` is the field of ``Limits`` it fills, ``keys`` the place inside it where that is a
    table. ``least`` and ``most`` bound the integer. ``choices`` are the allowed words.
    ``tighter`` tells which value is the stricter one: the ``less``er, the ``more``, the one
    ``listed`` later in ``choices``, or ``none`` where no direction is safer.
    """

    name: str
    group: str
    field: str
    unit: Unit
    meaning: str
    least: int = 0
    most: int = 0
    choices: tuple[str, ...] = ()
    tighter: Tighter = "none"
    keys: tuple[str, ...] = ()

    @property
    def path(self) -> tuple[str, ...]:
        """The key path under the group, as written in a file."""
        return tuple(self.name.split("."))


@dataclass(frozen=True)
class SizeValue:
    """A smallest wire size: as written, and its nominal area (0: no smallest size)."""

    text: str
    area_um2: int


Value = int | bool | str | tuple[str, ...] | tuple[int, ...] | SizeValue | None


def by_name(specs: tuple[LimitSpec, ...]) -> Mapping[str, LimitSpec]:
    """The rows by plain name. Raises ValueError where two rows share one."""
    found: dict[str, LimitSpec] = {}
    for spec in specs:
        if spec.name in found:
            raise ValueError(f"two limits are called {spec.name}")
        found[spec.name] = spec
    return found
