"""Plain text for terminal and paper: headings, wrapped lines, tables; no wider than a page."""

from __future__ import annotations

import io
import re
import textwrap
from collections.abc import Iterable, Sequence

from rich.box import Box
from rich.cells import cell_len
from rich.console import Console
from rich.table import Table
from rich.text import Text

from lugwright.outputs.words import one_line

WIDTH = 100
_GAP = 2  # between two columns
_NO_BREAK = "\u00a0"
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:mm²?|mV|A|B|V|AWG|in|m|min|%|o'clock)(?![^\W_]))")
_HELD = "\ue000"  # stands for such a space while a table is set: a table breaks at any white space
# A rule under the heading and nothing else; plain hyphens print everywhere.
_HEAD_RULE = Box("    \n    \n -- \n    \n    \n    \n    \n    \n", ascii=True)


def heading(text: str) -> list[str]:
    """A section's heading, underlined, with an empty line before it."""
    lines = wrapped(text)
    return ["", *lines, "=" * max(map(cell_len, lines))]


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


def table(columns: Sequence[str], rows: Iterable[Sequence[str | int]]) -> list[str]:
    """A table with a heading; a column whose name starts with ``>`` is set to the right.

    Long cells wrap inside their column, between words; a word is broken only where the page
    could not hold the table otherwise, and nothing is ever left out.
    """
    names = [column.removeprefix(">") for column in columns]
    body = [[_BEFORE_UNIT.sub(_HELD, one_line(str(cell))) for cell in row] for row in rows]
    widths = _widths([names, *body])
    grid = Table(box=_HEAD_RULE, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0))
    for column, name, width in zip(columns, names, widths, strict=True):
        right = column.startswith(">")
        grid.add_column(
            Text(name), justify="right" if right else "left", width=width, overflow="fold"
        )
    for row in body:
        grid.add_row(*map(Text, row))
    return [line.replace(_HELD, " ") for line in _printed(grid)]


def _widths(cells: Sequence[Sequence[str]]) -> list[int]:
    """Column widths that fit the page: natural ones, the widest shrunk first.

    A column is taken below its longest word only when every column stands at its longest.
    """
    columns = list(zip(*cells, strict=True))
    widths = [max(map(cell_len, column)) for column in columns]
    floors = [
        max(cell_len(w) for cell in column for w in cell.split() or [""]) for column in columns
    ]
    room = WIDTH - _GAP * (len(columns) - 1)
    while sum(widths) > room:
        loose = [i for i, width in enumerate(widths) if width > floors[i]]
        widest = max(loose or range(len(widths)), key=lambda i: widths[i])
        widths[widest] -= 1
    return widths


def _printed(grid: Table) -> list[str]:
    """The table as lines, whatever the terminal, the environment or the locale."""
    out = io.StringIO()
    console = Console(
        file=out,
        width=WIDTH,
        force_terminal=False,
        force_jupyter=False,
        color_system=None,
        legacy_windows=False,
        emoji=False,
        markup=False,
        highlight=False,
        _environ={},
    )
    console.print(grid)
    return [line.rstrip() for line in out.getvalue().splitlines()]
