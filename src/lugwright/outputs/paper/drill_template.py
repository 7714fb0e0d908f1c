"""The drilling template: the plate seen from the front at 1:1, ready to be stuck on and drilled.

Page 1 shows the whole plate reduced, with a table of every hole to check before anything is cut;
then come the 1:1 pages. Nothing here decides: the panel says where each hole is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM, mm_text
from lugwright.outputs.before import Before
from lugwright.outputs.drawing.frame import Box, box_at, distance
from lugwright.outputs.drawing.placing import leader_of
from lugwright.outputs.paper.boxes import Boxes
from lugwright.outputs.paper.drill_overview import overview_pages
from lugwright.outputs.paper.fonts import BOLD, SANS, text_width
from lugwright.outputs.paper.frame import Area, Head, head_of, sheet_pdf
from lugwright.outputs.paper.holes import Hole, draw_outline, edge_distances_dmm, holes_of
from lugwright.outputs.paper.lettering import LEADING, clipped, plain, write
from lugwright.outputs.paper.plate import MARK_MM, draw_mark, draw_plate, plate_size
from lugwright.outputs.paper.tiling import BORDER_MM, tile_pages, why_no_full_size
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.panel import Panel

DRILL_FILE = "drill-template.pdf"
SHEET_NAME = "Drilling template"
SIDE = "seen from the FRONT"
_LETTERS_MM = (4.0, 3.4, 2.8, 2.3, 1.9)
_SMALL_MM = 2.3  # letters that had to be cut short or put beside
_LEAST_WIDE_MM, _BESIDE_WIDE_MM = 30.0, 60.0
_CENTRE_MM = 5.0  # arm of a centre mark
_DOT_MM = 0.8
_INSIDE = 0.82  # of a hole's width is used by letters


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The drilling template of a plan."""
    return {DRILL_FILE: drill_template(shown.plan.panel, head_of(shown, SHEET_NAME), paper)}


def panel_files(before: Before, paper: Paper) -> dict[str, bytes]:
    """The drilling template before planning: a panel is enough to drill."""
    head = Head(before.title, SHEET_NAME, before.rule_set, "", before.cautions)
    return {DRILL_FILE: drill_template(before.panel, head, paper)}


def drill_template(panel: Panel, head: Head, paper: Paper) -> bytes:
    """The template as PDF."""
    holes = holes_of(panel)
    size = plate_size(panel)
    content = Area(-BORDER_MM, -BORDER_MM, size.width + 2 * BORDER_MM, size.height + 2 * BORDER_MM)
    why_not = why_no_full_size(content, paper, panel.full_size_side_dmm)
    pages = overview_pages(panel, holes, head, paper, why_not)
    if not why_not:
        draw = partial(_draw, panel=panel, written=_written(holes, size.inside))
        pages += tile_pages(content, paper, draw, SIDE)
    return sheet_pdf(head, paper, pages)


@dataclass(frozen=True)
class _Written:
    """The letters of a hole: their size, and the place beside it where they do not go inside."""

    hole: Hole
    lines: tuple[str, ...]
    letter: float
    beside: Box | None

    @property
    def reach(self) -> Box:
        """All that is drawn of the hole and its letters."""
        box = box_at(self.hole.centre, *self.hole.extent)
        return box.joined(self.beside) if self.beside else box


def _draw(canvas: Canvas, view: Area, panel: Panel, written: tuple[_Written, ...]) -> None:
    """What shows of the plate at 1:1 in one view."""
    size = plate_size(panel)
    draw_plate(canvas, size)
    if view.shows(0, 0, MARK_MM, MARK_MM):
        draw_mark(canvas, size, front=True)
    for one in written:
        reach = one.reach
        if view.shows(reach.x0, reach.y0, reach.x1, reach.y1):
            _draw_hole(canvas, one.hole)
            _draw_letters(canvas, one)
    _draw_edge_distances(canvas, view, panel, [one.hole for one in written])


def _draw_hole(canvas: Canvas, hole: Hole) -> None:
    """Cut line, bezel and centre mark."""
    draw_outline(canvas, hole)
    if not hole.cut:
        return
    x, y = hole.centre
    canvas.saveState()
    canvas.setLineWidth(0.15)
    arm = min(_CENTRE_MM, hole.radius * 0.6)
    canvas.line(x - arm, y, x + arm, y)
    canvas.line(x, y - arm, x, y + arm)
    canvas.circle(x, y, min(_DOT_MM, hole.radius * 0.4))
    canvas.restoreState()


def letters_of(hole: Hole) -> tuple[str, ...]:
    """What is written at a hole: its name, its saw, its place. Of a screw only its drill."""
    if hole.letter:
        return (f"{hole.mark}  {hole.size_text}",)
    place = f"x {mm_text(hole.x_dmm)}  y {mm_text(hole.y_dmm)} mm"
    if hole.turn_text:
        place += f", {hole.turn_text}"
    size = f"hole {hole.size_text}" if hole.cut else "on standoffs: no hole"
    return f"{hole.mark}  {plain(hole.name)}", size, place


def _written(holes: tuple[Hole, ...], inside: Box) -> tuple[_Written, ...]:
    """Letters inside a hole where they fit, since that disc is thrown away; else beside it."""
    taken = Boxes(box_at(hole.centre, *hole.extent) for hole in holes)
    found = []
    for hole in holes:
        lines = letters_of(hole)
        width, height = _inside_mm(hole)
        letter = next((one for one in _LETTERS_MM if _fits(lines, one, width, height)), 0.0)
        if not letter:
            lines = _cut_short(lines, width if width > _LEAST_WIDE_MM else _BESIDE_WIDE_MM)
            letter = _SMALL_MM if _fits(lines, _SMALL_MM, width, height) else 0.0
        beside = None
        if not letter:
            letter = _SMALL_MM
            wide = max(text_width(line, letter, BOLD) for line in lines) + 1
            high = len(lines) * letter * LEADING + 0.6
            near = box_at(hole.centre, *hole.extent)
            beside = taken.take_near(near, wide, high, inside)
        found.append(_Written(hole, lines, letter, beside))
    return tuple(found)


def _cut_short(lines: tuple[str, ...], width: float) -> tuple[str, ...]:
    """Lines no wider than a place; the table on page 1 has the whole of them."""
    return tuple(clipped(line, _SMALL_MM, width, BOLD) for line in lines)


def _draw_letters(canvas: Canvas, one: _Written) -> None:
    """The letters in their place."""
    (x, y), letter, lines = one.hole.centre, one.letter, one.lines
    if one.beside:
        _draw_beside(canvas, one, one.beside)
        return
    write(canvas, x, y + max(letter * 1.4, _CENTRE_MM), lines[0], letter, BOLD, "centre")
    below = y - max(letter * 0.8, _CENTRE_MM) - letter
    write(canvas, x, below, lines[1], letter, SANS, "centre")
    write(canvas, x, below - letter * LEADING, lines[2], letter, SANS, "centre")


def _inside_mm(hole: Hole) -> tuple[float, float]:
    """Room for letters inside a hole or an outline, mm."""
    if hole.letter:
        return 0.0, 0.0  # a screw's is written beside it
    if hole.cut and hole.cut.is_upright and not hole.is_round:
        width, height = (float(2 * side) / DMM_PER_MM for side in hole.cut.reach)
        return width * 0.9, height
    if hole.cut:
        return 2 * hole.radius * _INSIDE, 2 * hole.radius
    width, height = hole.extent
    return width * 0.9, height


def _fits(lines: tuple[str, ...], letter: float, width: float, height: float) -> bool:
    """True when all lines fit a disc or box, with the centre mark left free."""
    widest = max(text_width(line, letter, BOLD) for line in lines)
    return widest <= width and 2 * (_CENTRE_MM + 3.2 * letter) <= height


def _draw_beside(canvas: Canvas, one: _Written, box: Box) -> None:
    """The letters beside a hole, with a thin line to its rim."""
    line = leader_of(box, one.hole.centre)
    if line and distance(*line) > one.hole.radius:
        (to_x, to_y), (x, y) = line
        share = one.hole.radius / distance(*line)
        canvas.saveState()
        canvas.setLineWidth(0.12)
        canvas.line(x + (to_x - x) * share, y + (to_y - y) * share, to_x, to_y)
        canvas.restoreState()
    for count, words in enumerate(one.lines):
        down = box.y1 - one.letter * (1 + LEADING * count)
        write(canvas, box.x0 + 0.5, down, words, one.letter, SANS if count else BOLD)


def _draw_edge_distances(canvas: Canvas, view: Area, panel: Panel, holes: Sequence[Hole]) -> None:
    """For each edge of the plate, the distance of the hole that comes nearest to it."""
    distances = {hole: edge_distances_dmm(hole, panel) for hole in holes if hole.cut}
    for edge, (dx, dy) in _EDGES.items() if distances else ():
        hole = min(distances, key=lambda one: (distances[one][edge], one.number, one.letter))
        rim = hole.rim_point(edge)
        length = distances[hole][edge]
        end = (rim[0] + dx * length / DMM_PER_MM, rim[1] + dy * length / DMM_PER_MM)
        if view.shows(*map(min, rim, end), *map(max, rim, end)):
            _draw_distance(canvas, rim, end, mm_text(length))


_EDGES = {"left": (-1, 0), "right": (1, 0), "below": (0, -1), "above": (0, 1)}


def _draw_distance(
    canvas: Canvas, start: tuple[float, float], end: tuple[float, float], text: str
) -> None:
    """A distance line with ticks across its ends and its length beside it."""
    (x0, y0), (x1, y1) = start, end
    canvas.saveState()
    canvas.setLineWidth(0.15)
    canvas.line(x0, y0, x1, y1)
    across = (0.0, 1.2) if y0 == y1 else (1.2, 0.0)
    for x, y in (start, end):
        canvas.line(x - across[0], y - across[1], x + across[0], y + across[1])
    if y0 == y1:
        write(canvas, (x0 + x1) / 2, y0 + 0.8, text, 2.3, SANS, "centre")
    else:
        write(canvas, x0 + 0.8, (y0 + y1) / 2 - 0.8, text, 2.3, SANS)
    canvas.restoreState()
