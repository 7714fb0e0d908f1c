"""Every table of a plan as a pandas frame: the rows of the build list, figures as numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from lugwright.outputs.csv_tables import TABLES
from lugwright.outputs.rows import Rows

if TYPE_CHECKING:
    from pandas import DataFrame

_FIGURES = ("_mm", "_mm2", "_a", "_mv", "cost")
"""Ends of the names of columns that hold a plain decimal, or nothing."""
_KINDS = {part: kind for _, part, kind in TABLES}


class Tables(Mapping[str, "DataFrame"]):
    """The tables of one plan by name: ``plan.tables["cut"]``. Each frame is made when asked for.

    Columns are named as in the CSV tables, units in the names. Where every cell of a column is a
    figure or empty it is a column of numbers, empty cells NaN.
    """

    def __init__(self, rows: Rows) -> None:
        self._rows = rows

    def __getitem__(self, name: str) -> DataFrame:
        """The table of that name. Raises KeyError, with the names there are."""
        if name not in _KINDS:
            raise KeyError(f"there is no table {name!r}; there are: {', '.join(_KINDS)}")
        return _frame(_KINDS[name], getattr(self._rows, name))

    def __iter__(self) -> Iterator[str]:
        return iter(_KINDS)

    def __len__(self) -> int:
        return len(_KINDS)

    def __repr__(self) -> str:
        return f"tables: {', '.join(_KINDS)}"

    def _ipython_key_completions_(self) -> list[str]:
        """What a notebook offers after ``tables["``."""
        return list(_KINDS)


def _frame(kind: type[Any], rows: tuple[Any, ...]) -> DataFrame:
    """A frame of rows of one kind; its columns stand even where it has no row."""
    import pandas

    columns = [field.name for field in fields(kind)]
    frame = pandas.DataFrame(
        [[getattr(row, name) for name in columns] for row in rows], columns=columns
    )
    for name in columns:
        if name.endswith(_FIGURES) and all(map(_is_figure, frame[name])):
            frame[name] = pandas.to_numeric(frame[name].replace("", None))
    return frame


def _is_figure(cell: object) -> bool:
    """Whether a cell holds one plain decimal, or nothing."""
    text = str(cell).removeprefix("-")
    return text == "" or (text.replace(".", "", 1).isdigit() and text.isascii())
