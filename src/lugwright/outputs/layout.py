"""Plain text for terminal and paper: headings, wrapped lines, tables; no wider than a page."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from itertools import zip_longest
from unicodedata import combining, east_asian_width

from lugwright.outputs.words import one_line

WIDTH = 100
_GAP = 2  # between two columns
_WIDE = ("W", "F")
_NO_BREAK = "\u00a0"
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:mm²?|mV|A|B|V|AWG|in|m|min|%|o'clock)(?![^\W_]))")
_HELD = "\ue000"  # stands for such a space while a table is set: a table breaks at any white space


def heading(text: str) -> list[str]:
    """A section's heading, underlined, with an empty line before it."""
    lines = wrapped(text)
    return ["", *lines, "=" * max(map(_columns, lines))]


def short_heading(text: str) -> list[str]:
    """A section's heading in one line, with an empty line before it."""
    return ["", *wrapped(f"== {text} ==")]


def wrapped(text: str, first: str = "") -> list[str]:
    """A sentence wrapped to the page behind ``first``; further lines stand under its words.

    A number and its unit stay on one line, and so do a wire's number and its end.
    """
    lines = textwrap.wrap(
        _BEFORE_UNIT.sub(_NO_BREAK, one_line(text)),
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * len(first),
        break_on_hyphens=False,
    )
    return [line.replace(_NO_BREAK, " ") for line in lines] or [first.rstrip()]


def aligned(
    head: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[int] = ()
) -> list[str]:
    """A table for a terminal, head first: no wider than its cells ask, and nothing is wrapped.

    Columns named in ``right`` are set to the right. Nothing follows the last cell of a line, so
    that long text in it wraps as the terminal likes.
    """
    cells = [[one_line(cell) for cell in row] for row in (head, *rows)]
    widths = [max(map(_columns, column)) for column in zip(*cells, strict=True)]
    flush = [index in right for index in range(len(head))]
    return [_joined(row, widths, flush).rstrip() for row in cells]


def table(columns: Sequence[str], rows: Iterable[Sequence[str | int]]) -> list[str]:
    """A table with a heading; a column whose name starts with ``>`` is set to the right.

    Long cells wrap inside their column, between words; a word is broken only where the page
    could not hold the table otherwise, and nothing is ever left out.
    """
    names = [column.removeprefix(">") for column in columns]
    right = [column.startswith(">") for column in columns]
    body = [[_BEFORE_UNIT.sub(_HELD, one_line(str(cell))) for cell in row] for row in rows]
    widths = _widths([names, *body])
    rule = "-" * (sum(widths) + _GAP * (len(widths) - 1))
    lines = [*_row(names, widths, right, low=True), rule]
    for row in body:
        lines += _row(row, widths, right)
    return [line.replace(_HELD, " ").rstrip() for line in lines]


def _row(
    cells: Sequence[str], widths: Sequence[int], right: Sequence[bool], *, low: bool = False
) -> list[str]:
    """One row of a table; a cell that its column cannot hold goes on in the lines below.

    A heading stands ``low``, on the rule under it.
    """
    held = [_in_lines(cell, width) for cell, width in zip(cells, widths, strict=True)]
    if low:
        most = max(map(len, held))
        held = [[""] * (most - len(lines)) + lines for lines in held]
    return [_joined(lines, widths, right) for lines in zip_longest(*held, fillvalue="")]


def _joined(cells: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> str:
    """One line of a table."""
    each = zip(cells, widths, right, strict=True)
    return (" " * _GAP).join(_set(cell, width, flush) for cell, width, flush in each)


def _set(text: str, width: int, flush_right: bool) -> str:
    blanks = " " * (width - _columns(text))
    return blanks + text if flush_right else text + blanks


def _in_lines(text: str, width: int) -> list[str]:
    """A text in lines of a column. The library that wraps is loaded where one must be wrapped."""
    if _columns(text) <= width:
        return [text]
    from rich.console import Console
    from rich.text import Text

    console = Console(width=width, _environ={})
    return [line.plain.rstrip() for line in Text(text).wrap(console, width, overflow="fold")]


def _columns(text: str) -> int:
    """Columns a text takes: two for a wide letter, none for a mark that stands on another.

    Unicode Standard Annex 11, "East Asian Width"; nothing is loaded for it.
    """
    if text.isascii():
        return len(text)
    return sum(0 if combining(x) else 2 if east_asian_width(x) in _WIDE else 1 for x in text)


def _widths(cells: Sequence[Sequence[str]]) -> list[int]:
    """Column widths that fit the page: natural ones, the widest shrunk first.

    A column is taken below its longest word only when every column stands at its longest.
    """
    columns = list(zip(*cells, strict=True))
    widths = [max(map(_columns, column)) for column in columns]
    floors = [
        max(_columns(w) for cell in column for w in cell.split() or [""]) for column in columns
    ]
    room = WIDTH - _GAP * (len(columns) - 1)
    while sum(widths) > room:
        loose = [i for i, width in enumerate(widths) if width > floors[i]]
        widest = max(loose or range(len(widths)), key=lambda i: widths[i])
        widths[widest] -= 1
    return widths
