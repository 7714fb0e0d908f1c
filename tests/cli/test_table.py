"""Plain aligned tables."""

from __future__ import annotations

import click

from lugwright.cli.table import table


def plain(*args: object, **kwargs: object) -> list[str]:
    """The table's lines without the head's emphasis."""
    return click.unstyle(table(*args, **kwargs)).splitlines()  # type: ignore[arg-type]


def test_columns_stand_under_their_heads() -> None:
    """Columns are as wide as their widest cell, numbers flush right, no blanks at the end."""
    lines = plain(("wire", "A", "note"), [("red", "10", "x"), ("yellow", "5", "")], right=(1,))
    assert lines == ["wire     A  note", "red     10  x", "yellow   5"]


def test_wide_characters_take_two_columns() -> None:
    """A name in full-width letters does not push its row out of line."""
    lines = plain(("name", "n"), [("燃料", "1"), ("ab", "2")])
    assert lines == ["name  n", "燃料  1", "ab    2"]


def test_a_cell_stays_on_its_line() -> None:
    """Line breaks, tabs and control characters inside a cell become blanks."""
    assert plain(("a", "b"), [("x\ny\t\x1b[2Jz", "1")])[1] == "x y [2Jz  1"
