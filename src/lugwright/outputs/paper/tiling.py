"""A drawing at 1:1 that is larger than the paper, cut into pages that are put together again.

Each page has a window onto the drawing. Neighbours share at least OVERLAP_MM; register crosses
stand in the shared strips and show on both pages. The printer's own error is taken out by drawing
``paper.scale_x`` and ``paper.scale_y`` times as large: then a printed ruler reads 100 mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import pairwise, product
from math import ceil, hypot

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM, mm_text
from lugwright.outputs.paper.frame import Area, Page, page_area
from lugwright.outputs.paper.rulers import (
    BELOW_MM,
    LEFT_MM,
    draw_cross,
    draw_key_map,
    draw_rulers,
)
from lugwright.outputs.paper_size import Paper

Draw = Callable[[Canvas, Area], None]
"""Draws what shows in a part of the drawing, in the drawing's own millimetres."""

OVERLAP_MM = 12.0
BORDER_MM = 4.0  # paper round a drawing, so that its outline is whole on the page
MOST_PAGES = 400  # more paper than anybody pastes together; keeps time and memory bounded
_SLACK = 1e-6  # a drawing that fits to the micrometre needs no further page
_CROSS_PLACES = (0.2, 0.8)  # along a shared strip, of its length
_APART_MM = 15.0  # two crosses nearer than this cannot be told apart
_FRAME_MM = 0.12
_DASH_MM = (3.0, 1.5)


@dataclass(frozen=True)
class Tile:
    """One page of the drawing: row 1 is the top one. ``view`` is what it shows, drawing's mm."""

    row: int
    column: int
    view: Area


@dataclass(frozen=True)
class Tiling:
    """How a drawing is cut. ``window`` is where a tile stands on its page, mm on the paper."""

    content: Area
    paper: Paper
    landscape: bool
    window: Area
    columns: int
    rows: int

    @property
    def scale(self) -> tuple[float, float]:
        """Drawn length over true length, in x and y."""
        return float(self.paper.scale_x), float(self.paper.scale_y)

    @property
    def view_size(self) -> tuple[float, float]:
        """Width and height of the drawing that one page shows, drawing's mm."""
        scale_x, scale_y = self.scale
        return self.window.width / scale_x, self.window.height / scale_y

    def tiles(self) -> Iterator[Tile]:
        """The pages in reading order."""
        width, height = self.view_size
        lefts = _starts(self.content.x, self.content.width, width, self.columns)
        lows = _starts(self.content.y, self.content.height, height, self.rows)
        for (row, low), (column, left) in product(
            enumerate(reversed(lows), 1), enumerate(lefts, 1)
        ):
            yield Tile(row, column, Area(left, low, width, height))

    @cached_property
    def crosses(self) -> tuple[tuple[float, float], ...]:
        """Places of the register crosses, in the middle of each shared strip, drawing's mm.

        Where strips meet, one cross serves all pages that show it.
        """
        tiles = list(self.tiles())
        width, height = self.view_size
        lefts = sorted({tile.view.x for tile in tiles})
        lows = sorted({tile.view.y for tile in tiles}, reverse=True)
        upright = [
            ((left + width + right) / 2, low + height * place)
            for left, right in pairwise(lefts)
            for low, place in product(lows, reversed(_CROSS_PLACES))
        ]
        lying = [
            (left + width * place, (low + height + high) / 2)
            for high, low in pairwise(lows)
            for left, place in product(lefts, _CROSS_PLACES)
        ]
        places: list[tuple[float, float]] = []
        for x, y in upright + lying:
            if all(hypot(x - near_x, y - near_y) > _APART_MM for near_x, near_y in places):
                places.append((x, y))
        return tuple(places)


def _starts(start: float, length: float, shown: float, count: int) -> list[float]:
    """Where each of ``count`` windows begins: evenly spread, one alone stands in the middle."""
    if count == 1:
        return [start - (shown - length) / 2]
    return [start + (length - shown) * n / (count - 1) for n in range(count)]


def tiling(content: Area, paper: Paper) -> Tiling:
    """The cut that needs fewer pages: upright, or lying."""
    upright, lying = (_tiling(content, paper, landscape) for landscape in (False, True))
    pages_upright, pages_lying = (cut.rows * cut.columns for cut in (upright, lying))
    return lying if pages_lying < pages_upright else upright


def _tiling(content: Area, paper: Paper, landscape: bool) -> Tiling:
    """The cut for pages that stand one way."""
    area = page_area(paper, landscape)
    window = Area(area.x + LEFT_MM, area.y + BELOW_MM, area.width - LEFT_MM, area.height - BELOW_MM)
    width, height = window.width / float(paper.scale_x), window.height / float(paper.scale_y)
    columns, rows = _count(content.width, width), _count(content.height, height)
    return Tiling(content, paper, landscape, window, columns, rows)


def _count(length: float, shown: float) -> int:
    """Windows needed for a length, with the overlap between two."""
    return max(1, ceil((length - OVERLAP_MM) / (shown - OVERLAP_MM) - _SLACK))


def tile_pages(content: Area, paper: Paper, draw: Draw, side: str) -> list[Page]:
    """The pages of a 1:1 drawing. What lies outside a page's view need not be drawn for it."""
    cut = tiling(content, paper)
    return [
        Page(
            partial(_draw_tile, cut=cut, tile=tile, draw=draw),
            side=side,
            note=_note(cut, tile),
            landscape=cut.landscape,
        )
        for tile in cut.tiles()
    ]


def why_no_full_size(content: Area, paper: Paper, most_side_dmm: int) -> str:
    """Why a drawing gets no pages at 1:1, in a sentence; "" where it does.

    ``most_side_dmm`` is the limit ``full_size_side``, 0.1 mm; paper that is asked to be full size
    is held by MOST_PAGES alone.
    """
    cut = tiling(content, paper)
    pages = cut.rows * cut.columns
    if pages > MOST_PAGES:
        return (
            f"At 1:1 this takes {pages} pages of {paper.page}, more than the {MOST_PAGES} that are "
            "ever made: it is drawn reduced alone."
        )
    # the border round a plate is paper, not plate
    longest_mm = max(content.width, content.height) - 2 * BORDER_MM
    if paper.full_size or longest_mm * DMM_PER_MM <= most_side_dmm + _SLACK:
        return ""
    return (
        f"Longer than {mm_text(most_side_dmm)} mm (limit full_size_side), so drawn reduced alone. "
        f"--full-size makes the {pages} pages at 1:1."
    )


def _note(cut: Tiling, tile: Tile) -> str:
    """What a tile says of its place."""
    if cut.rows * cut.columns == 1:
        return "1:1, whole on this page. Print at 100 %."
    return (
        f"1:1, row {tile.row} of {cut.rows} from the top, column {tile.column} of {cut.columns}. "
        "Print at 100 %. Trim left and above to the frame, lay on the dashed line, cross on cross."
    )


def _draw_tile(canvas: Canvas, area: Area, cut: Tiling, tile: Tile, draw: Draw) -> None:
    """One page: the drawing through its window, rulers below and left, the key map."""
    window, view = cut.window, tile.view
    canvas.saveState()
    clip = canvas.beginPath()
    clip.rect(window.x, window.y, window.width, window.height)
    canvas.clipPath(clip, stroke=0, fill=0)
    canvas.translate(window.x, window.y)
    canvas.scale(*cut.scale)
    canvas.translate(-view.x, -view.y)
    draw(canvas, view)
    for number, (x, y) in enumerate(cut.crosses, start=1):
        if view.x <= x <= view.right and view.y <= y <= view.top:
            draw_cross(canvas, x, y, number)
    _draw_paste_lines(canvas, cut, tile)
    canvas.restoreState()
    canvas.saveState()
    canvas.setLineWidth(_FRAME_MM)
    canvas.rect(window.x, window.y, window.width, window.height)
    canvas.restoreState()
    draw_rulers(canvas, area, cut.scale)
    draw_key_map(canvas, area, (cut.rows, cut.columns), (tile.row, tile.column))


def _draw_paste_lines(canvas: Canvas, cut: Tiling, tile: Tile) -> None:
    """Dashed: where the page to the right and the page below begin on this one."""
    canvas.saveState()
    canvas.setDash(*_DASH_MM)
    for other in cut.tiles():
        if (other.row, other.column) == (tile.row, tile.column + 1):
            canvas.line(other.view.x, tile.view.y, other.view.x, tile.view.top)
        if (other.row, other.column) == (tile.row + 1, tile.column):
            canvas.line(tile.view.x, other.view.top, tile.view.right, other.view.top)
    canvas.restoreState()
