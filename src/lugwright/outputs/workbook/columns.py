"""What stands over a column and how its cells are kept: as numbers or as text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from typing import Any

from lugwright.outputs.words import one_line

# last word of a field's name to the unit shown in the heading
UNITS = {"mm": "mm", "mm2": "mm²", "mv": "mV", "min": "min"}
MONEY = ("cost", "money")
# Fields of bare numbers that stand under no unit.
NUMBERED = ("amps", "crimp", "crimp_at_a", "crimp_at_b", "a_month")
# A field whose rows count different things: each cell keeps its own decimals.
MIXED = "value"
_PLAIN_DECIMAL = re.compile(r"-?\d{1,12}(?:\.(\d{1,6}))?")
NARROWEST, WIDEST = 6, 60  # widths of columns, in characters


@dataclass(frozen=True)
class Cell:
    """A number with the decimals it is shown with, or clean text."""

    value: int | float | str
    decimals: int = 0

    @property
    def shown(self) -> str:
        """The cell as it is read."""
        return self.value if isinstance(self.value, str) else f"{self.value:.{self.decimals}f}"


@dataclass(frozen=True)
class Column:
    """One column. ``width`` counts characters; text wider than WIDEST is wrapped."""

    heading: str
    cells: tuple[Cell, ...]
    width: int


def heading_of(name: str, money: str = "") -> str:
    """A field's name in words with its unit: ``tongue_mm`` stands as ``tongue, mm``."""
    words, _, last = name.rpartition("_")
    if words and last in UNITS:
        return f"{words.replace('_', ' ')}, {UNITS[last]}"
    plain = name.replace("_", " ")
    return f"{plain}, {money}" if money and last in MONEY else plain


def columns_of(kind: type[Any], rows: Sequence[Any], money: str = "") -> tuple[Column, ...]:
    """The columns of a table, one for each field of its kind of row, in their order.

    ``money`` names the currency of columns that hold money.
    """
    return tuple(
        _column(field.name, [getattr(row, field.name) for row in rows], money)
        for field in fields(kind)
    )


def _column(name: str, values: Iterable[object], money: str) -> Column:
    """One column from its values."""
    last = name.rpartition("_")[2]
    counted = last in UNITS or last in MONEY or name == MIXED or name in NUMBERED
    cells = [_cell(value, counted=counted) for value in values]
    if name != MIXED:
        places = max((cell.decimals for cell in cells), default=0)
        cells = [Cell(cell.value, places) for cell in cells]
    heading = heading_of(name, money)
    longest = max((len(cell.shown) for cell in cells), default=0)
    width = min(WIDEST, max(NARROWEST, longest, *map(len, heading.split())))
    return Column(heading, tuple(cells), width)


def _cell(value: object, *, counted: bool) -> Cell:
    """A number only where the field holds numbers and this is one."""
    if isinstance(value, int):
        return Cell(value)
    text = one_line(str(value))
    found = _PLAIN_DECIMAL.fullmatch(text) if counted else None
    if found is None:
        return Cell(text)
    return Cell(float(text), len(found[1])) if found[1] else Cell(int(text))
