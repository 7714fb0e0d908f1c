"""What an overview is made of: facts, tables of rows, and bars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from lugwright.base.cautions import ALWAYS


@dataclass(frozen=True)
class Fact:
    """One thing said, under its name."""

    name: str
    text: str


@dataclass(frozen=True)
class Part:
    """One table. ``kind`` is its row, a dataclass whose fields are the columns; ``about`` in words.

    ``brief`` names the columns worth a place on terminal and page; none: all of them. A table
    that is not ``told`` is left out on the terminal. ``money`` is the currency of columns that
    hold money.
    """

    name: str
    about: str
    kind: type[Any]
    rows: tuple[Any, ...]
    brief: tuple[str, ...] = ()
    money: str = ""
    told: bool = True


@dataclass(frozen=True)
class Bar:
    """One line of a drawing: its label, its length (any integer scale), and the number in words."""

    label: str
    value: int
    text: str


@dataclass(frozen=True)
class Bars:
    """A drawing of one number per line, with what it shows in words."""

    about: str
    bars: tuple[Bar, ...]


@dataclass(frozen=True)
class Overview:
    """The whole of it: title, what must be known first, drawings, tables, cautions."""

    title: str
    facts: tuple[Fact, ...]
    parts: tuple[Part, ...]
    drawings: tuple[Bars, ...] = ()
    cautions: tuple[str, ...] = ALWAYS
