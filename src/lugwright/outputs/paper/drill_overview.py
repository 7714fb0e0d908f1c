"""Page 1 of the drilling template: the whole plate reduced, every hole in a table, cautions.

Read it against the panel before the first cut. It is not to scale and says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import mm_text
from lugwright.outputs.paper.cautions import caution_blocks
from lugwright.outputs.paper.flow import Block, Column, flow_pages, gap, table_blocks, words
from lugwright.outputs.paper.fonts import BOLD, SANS, text_width
from lugwright.outputs.paper.frame import Area, Head, Page, page_area
from lugwright.outputs.paper.holes import (
    Hole,
    draw_outline,
    edge_distances_dmm,
    inch_text,
    rectangles,
    saws,
    sides_text,
)
from lugwright.outputs.paper.lettering import SMALL_MM, plain, write
from lugwright.outputs.paper.plate import (
    MARK_WORDS,
    PlateSize,
    draw_mark,
    draw_plate,
    plate_size,
)
from lugwright.outputs.paper.reduced import reduced, side_words
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.sides import side_notes
from lugwright.plans.panel import Panel

_DRAWING_SHARE = 0.36  # of the page's height, at most
_GAP_MM = 4.0
_NAME_MM = 2.1
# Together no wider than the narrower page.
_COLUMNS = (
    Column("no", 9, "right"),
    Column("instrument", 55),
    Column("hole ⌀ mm", 22, "right"),
    Column("saw in", 20, "right"),
    Column("x mm", 20, "right"),
    Column("y mm", 20, "right"),
    Column("nearest edge", 46),
)

_COLUMNS_OF_ANY = (
    *_COLUMNS[:2],
    Column("hole ⌀, or w × h mm", 27, "right"),
    Column("saw in, or corners", 22, "right"),
    *_COLUMNS[4:6],
    Column("nearest edge", 39),
)
_LEGEND = (
    "Thick circle: cut here. Thin circle: the bezel. Dashed: stands behind the plate, no hole."
)
_LEGEND_OF_ANY = (
    "Thick line: cut here. Thin line: the bezel, or the front part of what is put in from behind. "
    "Dashed: stands behind the plate."
)


def overview_pages(
    panel: Panel, holes: tuple[Hole, ...], head: Head, paper: Paper, why_not: str = ""
) -> list[Page]:
    """The cautions, the reduced plate, what to know before cutting, the table of holes.

    ``why_not`` says why no pages at 1:1 follow; then the plate is reduced to a round scale.
    """
    area = page_area(paper)
    size = plate_size(panel)
    factor = reduced(size.width, size.height, _room(area), to_scale=bool(why_not))
    blocks = [*caution_blocks(head, area.width), gap(_GAP_MM / 2)]
    blocks += [_drawing(size, holes, factor), gap(_GAP_MM)]
    for text in _notes(panel, holes, why_not):
        blocks += words(text, area.width)
    blocks.append(gap(_GAP_MM / 2))
    columns = _COLUMNS if _is_plain(holes) else _COLUMNS_OF_ANY
    blocks += table_blocks(columns, (_row(hole, panel) for hole in holes))
    return flow_pages(blocks, paper, side_words("seen from the FRONT", factor, bool(why_not)))


def _room(area: Area) -> Area:
    """Where on a page the reduced plate may stand, its sizes beside it."""
    return Area(0, 0, area.width - 3 * SMALL_MM, area.height * _DRAWING_SHARE)


def _notes(panel: Panel, holes: tuple[Hole, ...], why_not: str) -> Iterator[str]:
    """What a person with a saw must know, in sentences."""
    plate = f"{mm_text(panel.width_dmm)} × {mm_text(panel.height_dmm)} mm"
    yield f"Plate {plate}, {mm_text(panel.thickness_dmm)} mm thick. {MARK_WORDS}"
    yield from side_notes(panel, "front")
    own = [hole for hole in holes if hole.rim]
    yield f"Hole saws: {', '.join(saws(own)) or 'none'}."
    if others := saws([hole for hole in holes if not hole.rim]):
        yield f"Holes for screws, grommets and the like: {', '.join(others)}."
    if sides := rectangles(holes):
        yield (
            f"Rectangular cut-outs, width × height before turning: {'; '.join(sides)}. Drill the "
            "corners first, each within its arc, then saw and file to the line."
        )
    if behind := [hole.name for hole in holes if hole.cut and hole.behind]:
        yield f"Put in from behind, the flange stays there: {', '.join(behind)}."
    yield (
        "Places are from the plate's lower left corner seen from the front, x to the right, y up. "
        f"No hole comes nearer than {mm_text(panel.edge_margin_dmm)} mm to an edge by the rule set."
    )
    if why_not:
        yield f"{why_not} Mark each hole out on the plate itself by the table."
    yield (
        f"{_LEGEND if _is_plain(holes) else _LEGEND_OF_ANY} "
        "Measure both rulers of every 1:1 page, and each instrument, before the first cut."
    )


def _is_plain(holes: tuple[Hole, ...]) -> bool:
    """True where every hole is a round cut-out of an instrument."""
    return all(hole.cut is None or (hole.is_round and hole.rim) for hole in holes) and not any(
        hole.cut and hole.behind for hole in holes
    )


def _row(hole: Hole, panel: Panel) -> tuple[str, ...]:
    """One line of the table."""
    place = (mm_text(hole.x_dmm), mm_text(hole.y_dmm))
    if not hole.cut:
        return hole.mark, hole.name, "no hole", "", *place, ""
    distances = edge_distances_dmm(hole, panel)
    edge = min(distances, key=lambda name: distances[name])
    nearest = f"{mm_text(distances[edge])} mm {edge}"
    if hole.is_round:
        size, saw = mm_text(hole.diameter_dmm), inch_text(hole.diameter_dmm)
    else:
        size, _, saw = sides_text(hole.cut).replace(" mm", "").partition(", ")
    name = f"{hole.name} ({hole.turn_text})" if hole.turn_text else hole.name
    return hole.mark, name, size, saw, *place, nearest


def _drawing(size: PlateSize, holes: tuple[Hole, ...], factor: float) -> Block:
    """The whole plate, so many times its size, with the sizes of the plate."""
    height = size.height * factor + 2 * SMALL_MM
    return Block(height, partial(_draw_small, size=size, holes=holes, factor=factor))


def _draw_small(
    canvas: Canvas, area: Area, size: PlateSize, holes: tuple[Hole, ...], factor: float
) -> None:
    """The reduced plate: holes with numbers, width below, height at the right."""
    canvas.saveState()
    canvas.translate(area.x, area.y + 2 * SMALL_MM)
    canvas.saveState()
    canvas.scale(factor, factor)
    draw_plate(canvas, size)
    draw_mark(canvas, size, front=True)
    for hole in holes:
        draw_outline(canvas, hole)
    canvas.restoreState()
    for hole in holes:
        x, y = (side * factor for side in hole.centre)
        width = hole.extent[0] * factor - 1
        if hole.letter:
            continue  # its number is that of what it holds
        if width < text_width(hole.mark, SMALL_MM, BOLD):
            write(canvas, x + width / 2 + 1, y + 0.4, hole.mark, SMALL_MM, BOLD)
            continue
        write(canvas, x, y + 0.2, hole.mark, SMALL_MM, BOLD, "centre")
        if text_width(plain(hole.name), _NAME_MM) <= width:  # the table has them all
            write(canvas, x, y - SMALL_MM, hole.name, _NAME_MM, SANS, "centre")
    width, height = size.width * factor, size.height * factor
    wide, high = f"{size.width:g} mm", f"{size.height:g} mm"
    write(canvas, width / 2, -1.4 * SMALL_MM, wide, SMALL_MM, BOLD, "centre")
    canvas.translate(width + 1.4 * SMALL_MM, height / 2)
    canvas.rotate(90)
    write(canvas, 0, 0, high, SMALL_MM, BOLD, "centre")
    canvas.restoreState()
