"""Tables of the build list: set as the library of terminal tables would set them."""

from __future__ import annotations

import io

from hypothesis import given, settings
from hypothesis import strategies as st
from rich.box import Box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from lugwright.outputs import layout
from lugwright.outputs.layout import WIDTH, table

PIECES = [*"ab 0.->:,()é漢…²µ", "mm ", "12 V ", "clock", "wire "]
WORDS = st.lists(st.sampled_from(PIECES), max_size=30).map("".join)
HEADS = st.lists(st.sampled_from([*"abcé ", "de"]), min_size=1, max_size=9).map("".join)


@st.composite
def tables(draw: st.DrawFn) -> tuple[list[str], list[list[str]]]:
    """Column names, some flush right, and rows of cells that may need wrapping."""
    count = draw(st.integers(1, 6))
    flush = draw(st.lists(st.sampled_from(["", ">"]), min_size=count, max_size=count))
    names = [f"{sign}{draw(HEADS).strip() or 'x'}" for sign in flush]
    return names, draw(st.lists(st.lists(WORDS, min_size=count, max_size=count), max_size=4))


def by_library(columns: list[str], rows: list[list[str]], widths: list[int]) -> list[str]:
    """The same table by the library, at the same widths; spaces before units stand for others."""
    rule = Box("    \n    \n -- \n    \n    \n    \n    \n    \n", ascii=True)
    grid = Table(box=rule, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0))
    for column, width in zip(columns, widths, strict=True):
        right = "right" if column.startswith(">") else "left"
        name = Text(column.removeprefix(">"))
        grid.add_column(name, justify=right, width=width, overflow="fold")
    for row in rows:
        grid.add_row(*map(Text, row))
    out = io.StringIO()
    Console(file=out, width=WIDTH, color_system=None, legacy_windows=False, _environ={}).print(grid)
    return [line.rstrip() for line in out.getvalue().splitlines()]


@settings(max_examples=150, deadline=None)
@given(tables())
def test_as_the_library_sets_it(asked: tuple[list[str], list[list[str]]]) -> None:
    """Padding, wrapping, wide letters and headings of several lines come out the same."""
    columns, rows = asked
    names = [column.removeprefix(">") for column in columns]
    body = [
        [layout._BEFORE_UNIT.sub(layout._HELD, layout.one_line(x)) for x in row] for row in rows
    ]
    widths = layout._widths([names, *body])
    expected = by_library(columns, body, widths)
    assert table(columns, rows) == [line.replace(layout._HELD, " ") for line in expected]


def test_a_cell_that_is_too_wide_goes_on_below() -> None:
    """Between words where it can; what is beside it stays in its first line."""
    lines = table(["name", ">mm"], [["word " * 30, 12]])
    assert lines[0].split() == ["name", "mm"] and set(lines[1]) == {"-"}
    assert lines[2].endswith("12") and len(lines) == 4
    assert all(len(line) <= WIDTH for line in lines)
