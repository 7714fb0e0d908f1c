"""The build board: the panel's back at 1:1, to be stuck on a board and built on.

Page 1 has the cautions, the board reduced and what to know; then the lists of pegs and of wire;
then the 1:1 pages with every jumper on its path.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM, mm_text
from lugwright.outputs.drawing.frame import Frame
from lugwright.outputs.drawing.lines import drawn_lines
from lugwright.outputs.drawing.placing import Placed
from lugwright.outputs.drawing.runs import entry_places, joint_places, runs_of
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.paper.board_drawing import Board
from lugwright.outputs.paper.board_labels import placed_labels
from lugwright.outputs.paper.board_places import Stubs, stubs_of
from lugwright.outputs.paper.board_words import LETTER_MM
from lugwright.outputs.paper.cautions import caution_blocks
from lugwright.outputs.paper.flow import Block, Column, flow_pages, gap, table_blocks, words
from lugwright.outputs.paper.fonts import BOLD
from lugwright.outputs.paper.frame import Area, Head, head_of, page_area, sheet_pdf
from lugwright.outputs.paper.lettering import LEADING, TITLE_MM, wrapped_to, write_lines
from lugwright.outputs.paper.pegs import peg_text
from lugwright.outputs.paper.plate import MARK_WORDS
from lugwright.outputs.paper.reduced import reduced, side_words
from lugwright.outputs.paper.tiling import (
    BORDER_MM,
    tile_pages,
    tiling,
    why_no_full_size,
)
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows_bench import CutRow, cut_rows
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.sides import side_notes
from lugwright.plans.schema import Plan

BOARD_FILE = "build-board.pdf"
SHEET_NAME = "Build board"
SIDE = "seen from the BACK"
_UNIT_MM = 1.3  # measure of lanes and clearances: wires side by side stand 2 mm apart
_GAP_MM = 4.0
_SMALL_SHARE = 0.42  # of the page's height, at most
_NO_ROOM = "No room was left on the plate for these labels:"
_PEG_COLUMNS = (
    Column("post", 60),
    Column("kind", 28),
    Column("peg", 32),
    Column("x mm", 22, "right"),
    Column("y mm", 22, "right"),
    Column("height mm", 22, "right"),
)
_CUT_COLUMNS = (
    Column("label", 22),
    Column("colour", 30),
    Column("size", 17),
    Column("cut mm", 15, "right"),
    Column("end a at", 35),
    Column("strip a", 13, "right"),
    Column("end b at", 35),
    Column("strip b", 13, "right"),
    Column("stage", 14),
)


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The build board of a plan."""
    plan = shown.plan
    scene = board_scene(plan)
    board = laid_out(scene, paper)
    why_not = why_no_full_size(board.content, paper, plan.panel.full_size_side_dmm)
    factor = _factor(scene, page_area(paper), to_scale=bool(why_not))
    side = side_words(SIDE, factor, bool(why_not))
    head = head_of(shown, SHEET_NAME)
    pages = flow_pages(_front_blocks(head, scene, board, paper, factor, why_not), paper, side)
    if not why_not:
        draw = partial(_draw, scene=scene, board=board)
        pages += tile_pages(board.content, paper, draw, SIDE)
    return {BOARD_FILE: sheet_pdf(head, paper, pages)}


@dataclass(frozen=True)
class Laid:
    """A board with its words: labels in their places, lines for those the plate has no room for.

    ``content`` is all that is drawn, y up from the plate's lower left corner, mm.
    """

    content: Area
    labels: tuple[Placed, ...]
    strays: tuple[str, ...]
    stubs: Stubs


def laid_out(scene: Scene, paper: Paper) -> Laid:
    """The board's words in their places, clear of the register crosses of this paper."""
    content, high = _content(scene), scene.frame.height_mm
    made = not why_no_full_size(content, paper, scene.panel.full_size_side_dmm)
    cut = tiling(content, paper)
    marks = [(x, high - y) for x, y in cut.crosses] if made else []
    stubs = stubs_of(scene)
    labels, left = placed_labels(scene, stubs, marks)
    strays = [
        line
        for label in left
        for line in wrapped_to("; ".join(label.lines), LETTER_MM, scene.frame.width_mm)
    ]
    if strays:
        strays.insert(0, _NO_ROOM)
    below = len(strays) * LETTER_MM * LEADING
    content = Area(content.x, content.y - below, content.width, content.height + below)
    return Laid(content, tuple(labels), tuple(strays), stubs)


def board_scene(plan: Plan) -> Scene:
    """The plan laid out at true size; splices stay at their own places, side by side."""
    panel = plan.panel
    frame = Frame(panel.width_dmm / DMM_PER_MM, panel.height_dmm / DMM_PER_MM, _UNIT_MM)
    places = joint_places(plan, frame)
    entries = entry_places(plan, frame, places)
    runs = runs_of(plan, frame, places, entries)
    posts = [places[post.id] for post in panel.posts]
    lines = drawn_lines(runs, posts, frame.unit_mm)
    return Scene(panel, frame, places, plan, entries, runs, lines)


def _content(scene: Scene) -> Area:
    """The plate and wires that come from beyond it, y up, with a border."""
    wide, high = scene.frame.width_mm, scene.frame.height_mm
    points = [(0.0, 0.0), (wide, high), *(point for line in scene.lines for point in line)]
    x0, x1 = min(x for x, _ in points) - BORDER_MM, max(x for x, _ in points) + BORDER_MM
    y0, y1 = min(y for _, y in points) - BORDER_MM, max(y for _, y in points) + BORDER_MM
    return Area(x0, high - y1, x1 - x0, y1 - y0)


def _draw(canvas: Canvas, view: Area, scene: Scene, board: Laid) -> None:
    """What shows of the board at 1:1 in one view."""
    Board(canvas, scene, view, board.stubs).draw(board.labels)
    top = board.content.y + len(board.strays) * LETTER_MM * LEADING
    write_lines(canvas, 0, top, board.strays, LETTER_MM)


def _front_blocks(
    head: Head, scene: Scene, board: Laid, paper: Paper, factor: float, why_not: str
) -> Iterator[Block]:
    """Cautions, the board reduced, what to know, pegs and wire."""
    plan, area = scene.plan, page_area(paper)
    yield from caution_blocks(head, area.width)
    yield gap(_GAP_MM / 2)
    yield _small(scene, board, factor)
    yield gap(_GAP_MM / 2)
    if why_not:
        yield from words(f"{why_not} Set the pegs out by their table.", area.width)
    for text in _notes(plan):
        yield from words(text, area.width)
    yield gap(_GAP_MM)
    yield from words("Wire, in the order of the cut list", area.width, BOLD, TITLE_MM)
    yield from table_blocks(_CUT_COLUMNS, map(_cut_row, cut_rows(plan)))
    yield gap(_GAP_MM)
    yield from words(
        "Pegs, from the lower left corner seen from the BACK", area.width, BOLD, TITLE_MM
    )
    yield from table_blocks(_PEG_COLUMNS, _peg_rows(plan))


def _notes(plan: Plan) -> Iterator[str]:
    """What the person who builds must know, in sentences."""
    size = f"{mm_text(plan.panel.width_dmm)} × {mm_text(plan.panel.height_dmm)} mm"
    yield f"Plate {size}. You look at the BACK. {MARK_WORDS} Here it is lower right."
    yield from side_notes(plan.panel)
    yield (
        "Set a peg at each post: a stud's peg takes the stud's own lugs. Lay each jumper from "
        "its end a to its end b along its line. Cut to the printed length, not to the drawing: "
        "height, slack and what the ends need are in the length. Dashed wires come aboard."
    )
    yield "Wires that share a path are drawn side by side; on the panel they are one bundle."


def _cut_row(row: CutRow) -> tuple[str, ...]:
    """One line of the wire list."""
    return (
        *(row.label, row.colour, row.wire_size, row.length_mm),
        *(row.from_joint, row.bare_at_a_mm, row.to_joint, row.bare_at_b_mm, row.stage),
    )


def _peg_rows(plan: Plan) -> Iterator[tuple[str, ...]]:
    """One line for each post."""
    for post in plan.panel.posts:
        kind = post.thread if post.kind == "stud" else post.kind
        places = (mm_text(post.x_dmm), mm_text(post.y_dmm), mm_text(post.z_dmm))
        yield (post.id, kind, peg_text(post), *places)


def _factor(scene: Scene, area: Area, *, to_scale: bool) -> float:
    """How far the whole board is reduced to stand on the first page."""
    content = _content(scene)
    room = Area(0, 0, area.width, area.height * _SMALL_SHARE)
    return reduced(content.width, content.height, room, to_scale=to_scale)


def _small(scene: Scene, board: Laid, factor: float) -> Block:
    """The whole board reduced to the page."""
    draw = partial(_draw_small, scene=scene, board=board, factor=factor)
    return Block(_content(scene).height * factor, draw)


def _draw_small(canvas: Canvas, area: Area, scene: Scene, board: Laid, factor: float) -> None:
    """The reduced board, without letters."""
    content = _content(scene)
    canvas.saveState()
    canvas.translate(area.x, area.y)
    canvas.scale(factor, factor)
    canvas.translate(-content.x, -content.y)
    Board(canvas, scene, content, board.stubs).draw(())
    canvas.restoreState()
