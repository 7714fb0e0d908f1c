"""Cautions and waivers on printed paper: inside a page, or on pages of their own.

A caution is never left out and never shortened: what does not fit is refused.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.paper.fonts import BOLD, SANS
from lugwright.outputs.paper.frame import Area, Head, Page, page_area
from lugwright.outputs.paper.lettering import LEADING, TEXT_MM, wrapped_to, write
from lugwright.outputs.paper_size import Paper

_BULLET = "•"
_INDENT_MM = 3.5


@dataclass(frozen=True)
class _Line:
    """One line of the block; the first of a caution has a bullet."""

    text: str
    font: str = SANS
    indent: float = _INDENT_MM
    bullet: bool = False


def cautions_height(head: Head, width: float, size: float = TEXT_MM) -> float:
    """Height the block needs at a width, mm."""
    return len(_lines(head, width, size)) * size * LEADING


def draw_cautions(canvas: Canvas, head: Head, area: Area, size: float = TEXT_MM) -> float:
    """Cautions and waivers, hanging from the top of ``area``; returns the y below them, mm.

    Raises ValueError when they do not fit (``cautions_height`` says beforehand).
    """
    lines = _lines(head, area.width, size)
    if len(lines) * size * LEADING > area.height:
        raise ValueError("cautions and waivers do not fit the place given to them")
    return _write(canvas, lines, area, size)


def cautions_pages(head: Head, paper: Paper, landscape: bool = False) -> list[Page]:
    """Cautions and waivers on pages of their own, as many as they need."""
    area = page_area(paper, landscape)
    lines = _lines(head, area.width, TEXT_MM)
    most = int(area.height / (TEXT_MM * LEADING))
    return [
        Page(partial(_draw_part, lines=lines[first : first + most]), landscape=landscape)
        for first in range(0, len(lines), most)
    ]


def _draw_part(canvas: Canvas, area: Area, lines: Sequence[_Line]) -> None:
    """One page of the block."""
    _write(canvas, lines, area, TEXT_MM)


def _lines(head: Head, width: float, size: float) -> list[_Line]:
    """Every line of the block: the whole title, then each caution and each waiver."""
    lines = [_Line(text, BOLD, 0) for text in wrapped_to(head.title, size, width, BOLD)]
    for caution in (*head.cautions, *head.waivers):
        first, *more = wrapped_to(caution, size, width - _INDENT_MM)
        lines += [_Line(first, bullet=True), *map(_Line, more)]
    return lines


def _write(canvas: Canvas, lines: Sequence[_Line], area: Area, size: float) -> float:
    """The lines one under another; returns the y below the last."""
    y = area.top
    for line in lines:
        write(canvas, area.x + line.indent, y - size, line.text, size, line.font)
        if line.bullet:
            write(canvas, area.x, y - size, _BULLET, size, BOLD)
        y -= size * LEADING
    return y
