"""Blocks one under another over as many pages as they need: drawings, words, tables.

A table's heading is drawn again on every page the table goes on to. Nothing is left out: a cell
wraps in its column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.paper.fonts import BOLD, SANS
from lugwright.outputs.paper.frame import Area, Page, page_area
from lugwright.outputs.paper.lettering import LEADING, SMALL_MM, TEXT_MM, wrapped_to, write
from lugwright.outputs.paper_size import Paper

_PAD_MM = 0.7  # above and below a table's row
_COLUMN_GAP_MM = 2.0


@dataclass(frozen=True)
class Block:
    """One thing on a page: its height and what draws it into a place of that height, mm.

    ``again`` is drawn before it where it comes first on a page (a table's heading).
    """

    height: float
    draw: Callable[[Canvas, Area], None]
    again: Block | None = None


@dataclass(frozen=True)
class Column:
    """A table's column: heading, width in mm, and ``left`` or ``right``."""

    name: str
    width: float
    align: str = "left"


def flow_pages(
    blocks: Iterable[Block], paper: Paper, side: str = "", landscape: bool = False
) -> list[Page]:
    """The blocks on pages, in order. A block higher than a page stands alone on one."""
    height = page_area(paper, landscape).height
    pages: list[list[Block]] = [[]]
    left = height
    for block in blocks:
        if pages[-1] and block.height > left:
            pages.append([])
            left = height
        if block.again and not pages[-1]:
            pages[-1].append(block.again)
            left -= block.again.height
        pages[-1].append(block)
        left -= block.height
    return [
        Page(partial(_draw_blocks, blocks=page), side=side, landscape=landscape)
        for page in pages
        if page
    ]


def _draw_blocks(canvas: Canvas, area: Area, blocks: Sequence[Block]) -> None:
    """The blocks of one page, from its top."""
    top = area.top
    for block in blocks:
        block.draw(canvas, Area(area.x, top - block.height, area.width, block.height))
        top -= block.height


def together(blocks: Sequence[Block]) -> Block:
    """Blocks that no page break may part: a heading with the first of what it heads."""
    return Block(sum(block.height for block in blocks), partial(_draw_blocks, blocks=blocks))


def gap(height: float) -> Block:
    """White space."""
    return Block(height, lambda canvas, area: None)


def words(text: str, width: float, font: str = SANS, size: float = TEXT_MM) -> list[Block]:
    """A sentence, wrapped; each line a block."""
    return [
        Block(size * LEADING, partial(_draw_line, text=line, font=font, size=size))
        for line in wrapped_to(text, size, width, font)
    ]


def _draw_line(canvas: Canvas, area: Area, text: str, font: str, size: float) -> None:
    write(canvas, area.x, area.top - size, text, size, font)


def table_blocks(
    columns: Sequence[Column], rows: Iterable[Sequence[str]], size: float = SMALL_MM
) -> list[Block]:
    """A table's heading and its rows, each row a block."""
    heading = _row_block(columns, [column.name for column in columns], size, BOLD, None)
    return [heading, *(_row_block(columns, row, size, SANS, heading) for row in rows)]


def _row_block(
    columns: Sequence[Column], row: Sequence[str], size: float, font: str, again: Block | None
) -> Block:
    """One row, as high as its highest cell."""
    cells = [
        wrapped_to(cell, size, column.width - _COLUMN_GAP_MM, font)
        for column, cell in zip(columns, row, strict=True)
    ]
    height = max(map(len, cells)) * size * LEADING + 2 * _PAD_MM
    draw = partial(_draw_row, columns=columns, cells=cells, size=size, font=font)
    return Block(height, draw, again)


def _draw_row(
    canvas: Canvas,
    area: Area,
    columns: Sequence[Column],
    cells: Sequence[Sequence[str]],
    size: float,
    font: str,
) -> None:
    """A row's cells with a thin rule below."""
    x = area.x
    for column, lines in zip(columns, cells, strict=True):
        right = column.align == "right"
        at = x + column.width - _COLUMN_GAP_MM if right else x
        for count, line in enumerate(lines):
            y = area.top - _PAD_MM - size * (1 + LEADING * count)
            write(canvas, at, y, line, size, font, column.align)
        x += column.width
    canvas.saveState()
    canvas.setLineWidth(0.1)
    canvas.line(area.x, area.y, x - _COLUMN_GAP_MM, area.y)
    canvas.restoreState()
