"""Plain aligned tables for standard output: the same bytes on a terminal and in a pipe."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from unicodedata import east_asian_width

import click

from lugwright.outputs.words import one_line

GAP = "  "
_WIDE = ("W", "F")


def table(head: Sequence[str], rows: Iterable[Sequence[str]], *, right: Sequence[int] = ()) -> str:
    """Columns under a head, two blanks apart; columns named in ``right`` are flush right.

    The last column is never padded, so that long text in it wraps as the terminal likes.
    """
    cells = [[one_line(cell) for cell in row] for row in (head, *rows)]
    widths = [max(_width(row[column]) for row in cells) for column in range(len(head))]
    lines = [_line(row, widths, right) for row in cells]
    return "\n".join((click.style(lines[0], bold=True), *lines[1:]))


def _line(row: Sequence[str], widths: Sequence[int], right: Sequence[int]) -> str:
    padded = []
    for column, cell in enumerate(row):
        blanks = " " * (widths[column] - _width(cell))
        padded.append(blanks + cell if column in right else cell + blanks)
    return GAP.join(padded).rstrip()


def _width(text: str) -> int:
    """Columns a terminal needs for the text."""
    return sum(2 if east_asian_width(char) in _WIDE else 1 for char in text)
