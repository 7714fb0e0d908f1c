"""Cautions and waivers on printed paper: inside a page, or flowing over pages of their own.

A caution is never left out and never shortened: what does not fit is refused.
"""

from __future__ import annotations

from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.paper.flow import Block, flow_pages, words
from lugwright.outputs.paper.fonts import BOLD, SANS
from lugwright.outputs.paper.frame import Area, Head, Page, page_area
from lugwright.outputs.paper.lettering import LEADING, TEXT_MM, wrapped_to, write
from lugwright.outputs.paper_size import Paper

_BULLET = "•"
_INDENT_MM = 3.5


def caution_blocks(head: Head, width: float, size: float = TEXT_MM) -> list[Block]:
    """The whole title, then each caution and each waiver behind a bullet; each line a block."""
    blocks = words(head.title, width, BOLD, size)
    for caution in (*head.cautions, *head.waivers):
        for count, line in enumerate(wrapped_to(caution, size, width - _INDENT_MM)):
            draw = partial(_draw_line, text=line, size=size, first=count == 0)
            blocks.append(Block(size * LEADING, draw))
    return blocks


def _draw_line(canvas: Canvas, area: Area, text: str, size: float, first: bool) -> None:
    """One line of a caution; the first has the bullet."""
    write(canvas, area.x + _INDENT_MM, area.top - size, text, size, SANS)
    if first:
        write(canvas, area.x, area.top - size, _BULLET, size, BOLD)


def cautions_height(head: Head, width: float, size: float = TEXT_MM) -> float:
    """Height the block needs at a width, mm."""
    return sum(block.height for block in caution_blocks(head, width, size))


def draw_cautions(canvas: Canvas, head: Head, area: Area, size: float = TEXT_MM) -> float:
    """Cautions and waivers, hanging from the top of ``area``; returns the y below them, mm.

    Raises ValueError when they do not fit (``cautions_height`` says beforehand).
    """
    if cautions_height(head, area.width, size) > area.height:
        raise ValueError("cautions and waivers do not fit the place given to them")
    top = area.top
    for block in caution_blocks(head, area.width, size):
        top -= block.height
        block.draw(canvas, Area(area.x, top, area.width, block.height))
    return top


def cautions_pages(head: Head, paper: Paper, landscape: bool = False) -> list[Page]:
    """Cautions and waivers on pages of their own, as many as they need."""
    blocks = caution_blocks(head, page_area(paper, landscape).width)
    return flow_pages(blocks, paper, landscape=landscape)
