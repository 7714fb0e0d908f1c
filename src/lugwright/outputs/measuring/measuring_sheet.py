"""The measuring sheet: for each distinct dial a back view, and boxes for what callipers say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.before import Before
from lugwright.outputs.measuring import fields
from lugwright.outputs.measuring.boxes import box_rows
from lugwright.outputs.measuring.dials import (
    Dial,
    dials_of,
    known_body,
    known_hole,
    known_loads,
    known_place,
    known_plate,
    known_post,
    known_rim,
    known_screws,
    known_wire,
)
from lugwright.outputs.measuring.pictures import PICTURE_MM, draw_back, draw_side
from lugwright.outputs.paper.cautions import cautions_height, draw_cautions
from lugwright.outputs.paper.flow import Block, flow_pages, gap, words
from lugwright.outputs.paper.fonts import BOLD
from lugwright.outputs.paper.frame import Area, Head, head_of, page_area, sheet_pdf
from lugwright.outputs.paper.lettering import SMALL_MM
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.panel import Panel

FILE = "measuring-sheet.pdf"
_SHEET = "Measuring sheet"
_FRONT, _BACK = "plate from the FRONT", "dials from the BACK"
_HEADING_MM = 4.0
_BLANK_POSTS = 8
_BLANK_RINGS = 4
_BLANK_HOLES = 2
_BLANK_SCREWS = 2
_BLANK_LOADS = 2
_NOTHING: Mapping[str, str] = {}
_FILE_WORDS = (
    "Small figures in a box: what the file says now. Write beside them what you measure. Places of "
    "posts are shown as the dial sits in the plate: of a turned dial they are turned as well."
)


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The measuring sheet of a plan's panel."""
    head = head_of(shown, _SHEET)
    return {FILE: _panel_pdf(head, shown.plan.panel, paper)}


def panel_files(before: Before, paper: Paper) -> dict[str, bytes]:
    """The measuring sheet before planning, for the person with callipers and no data."""
    told = (before.title, paper, before.cautions, before.rule_set)
    return {FILE: measuring_sheet(before.panel, *told)}


def measuring_sheet(
    panel: Panel, title: str, paper: Paper, cautions: Sequence[str], rule_set: str
) -> bytes:
    """The measuring sheet of a panel that is not planned yet, as PDF."""
    return _panel_pdf(Head(title, _SHEET, rule_set, "", tuple(cautions)), panel, paper)


def blank_measuring_sheet(
    paper: Paper, cautions: Sequence[str] = (), rule_set: str = "none chosen yet"
) -> bytes:
    """A sheet for an instrument that stands in no file, as PDF."""
    head = Head("An instrument that is not in the file", _SHEET, rule_set, "", tuple(cautions))
    width = page_area(paper).width
    blank = [("", _NOTHING)] * _BLANK_RINGS
    first = [*_how_to(head, width), *_wires(blank, width), *_rings([""] * _BLANK_RINGS, width)]
    dial = flow_pages(_blank_dial(width), paper, side=_BACK)
    return sheet_pdf(head, paper, [*flow_pages(first, paper), *dial])


def _panel_pdf(head: Head, panel: Panel, paper: Paper) -> bytes:
    """How to measure and the plate first, then each dial on a page of its own, a blank one last."""
    width = page_area(paper).width
    first = [
        *_how_to(head, width, [_FILE_WORDS]),
        *_plate(panel, width),
        *_holes(panel, width),
        *_wires([(one.wire, known_wire(panel, one)) for one in panel.entries], width),
        *_rings(_ring_rows(panel), width),
    ]
    dials = [*(_dial(dial, panel, width) for dial in dials_of(panel)), _blank_dial(width)]
    pages = [page for dial in dials for page in flow_pages(dial, paper, side=_BACK)]
    return sheet_pdf(head, paper, [*flow_pages(first, paper, side=_FRONT), *pages])


def _how_to(head: Head, width: float, more: Sequence[str] = ()) -> list[Block]:
    """Cautions, units, sides."""
    height = cautions_height(head, width)
    cautions = Block(height, partial(_draw_cautions, head=head))
    told = (fields.SIDES, fields.UNITS, fields.OUT_OF_THE_PLATE, *more)
    return [
        cautions,
        gap(3),
        *(line for text in told for line in (*words(text, width), gap(1))),
        gap(2),
    ]


def _draw_cautions(canvas: Canvas, area: Area, head: Head) -> None:
    draw_cautions(canvas, head, area)


def _meanings(asked: Sequence[fields.Field], width: float) -> list[Block]:
    """What each key means, from which datum."""
    told = [f"{field.key}: {field.how}." for field in asked]
    return [line for text in told for line in words(text, width, size=SMALL_MM)]


def _heading(text: str, width: float) -> list[Block]:
    """A heading over its part."""
    return [gap(2), *words(text, width, BOLD, _HEADING_MM), gap(1)]


def _plate(panel: Panel, width: float) -> list[Block]:
    """The plate, and where each dial sits in it."""
    plate = [*_heading("The plate, seen from the FRONT", width), *_meanings(fields.PLATE, width)]
    places = [(one.name, known_place(panel, one)) for one in panel.instruments]
    how = [gap(3), *_meanings(fields.PLACE, width)]
    return [
        *box_rows("plate", fields.PLATE, [("the plate", known_plate(panel))], width, plate),
        *box_rows("dial", fields.PLACE, places, width, how),
    ]


def _holes(panel: Panel, width: float) -> list[Block]:
    """The plate's own holes, and room for more."""
    told = "Holes of the plate itself: grommets, mounting screws"
    above = [*_heading(told, width), *_meanings(fields.HOLE, width)]
    known = [(f"hole {n}", known_hole(panel, hole)) for n, hole in enumerate(panel.holes, 1)]
    rows = [*known, *((f"hole {len(known) + n}", _NOTHING) for n in range(1, _BLANK_HOLES + 1))]
    return box_rows("hole", fields.HOLE, rows, width, above)


def _wires(rows: Sequence[tuple[str, Mapping[str, str]]], width: float) -> list[Block]:
    """Pigtails, and boat wires whose entry is stated."""
    above = [*_heading("Wires of the harness", width), *_meanings(fields.PIGTAIL, width)]
    blank = [("", _NOTHING)] * _BLANK_RINGS
    return box_rows("wire", fields.PIGTAIL, rows or blank, width, above)


def _ring_rows(panel: Panel) -> list[str]:
    """Wires from outside, any of which may bring its own ring."""
    return sorted({entry.wire for entry in panel.entries}) or [""] * _BLANK_RINGS


def _rings(names: Sequence[str], width: float) -> list[Block]:
    """Rings that are already on a wire."""
    told = "Rings already crimped on a wire (leave empty where the wire is bare)"
    above = [*_heading(told, width), *_meanings(fields.RING, width)]
    return box_rows("ring of", fields.RING, [(name, _NOTHING) for name in names], width, above)


def _dial(dial: Dial, panel: Panel, width: float) -> list[Block]:
    """One distinct dial: pictures, body, posts, what is not round, screws, loads."""
    posts = [
        (f"{number} {post.name}", known_post(dial, post))
        for number, post in enumerate(dial.posts, start=1)
    ]
    return [
        *_heading(dial.title, width),
        *_pictures(dial, width),
        *_boxes([("body", known_body(dial.example))], posts, width),
        *_rest(
            known_rim(dial.example),
            known_screws(dial.example),
            known_loads(panel, dial.example),
            width,
        ),
    ]


def _blank_dial(width: float) -> list[Block]:
    """A dial that stands in no file: draw and number its posts."""
    posts = [(f"{number}", _NOTHING) for number in range(1, _BLANK_POSTS + 1)]
    return [
        *_heading("A dial that is not in the file: name it, draw its posts, number them", width),
        *_pictures(None, width),
        *_boxes([("body", _NOTHING)], posts, width),
        *_rest(_NOTHING, [], [], width),
    ]


def _rest(
    rim: Mapping[str, str],
    screws: Sequence[Mapping[str, str]],
    loads: Sequence[tuple[str, Mapping[str, str]]],
    width: float,
) -> list[Block]:
    """What is not round, the screws, and what it draws; room for more of each."""
    held = [*screws, *([_NOTHING] * (_BLANK_SCREWS if not screws else 0))]
    rows = [(f"screw {number}", known) for number, known in enumerate(held, 1)]
    return [
        gap(3),
        *box_rows("rectangle", fields.RIM, [("rim", rim)], width),
        gap(1),
        *_meanings(fields.RIM, width),
        gap(3),
        *box_rows("screws", fields.SCREW, rows, width),
        gap(1),
        *_meanings(fields.SCREW, width),
        gap(3),
        *box_rows("load", fields.LOAD, loads or [("", _NOTHING)] * _BLANK_LOADS, width),
        gap(1),
        *_meanings(fields.LOAD, width),
    ]


def _boxes(
    body: Sequence[tuple[str, Mapping[str, str]]],
    posts: Sequence[tuple[str, Mapping[str, str]]],
    width: float,
) -> list[Block]:
    """Body and posts, each with what its keys mean."""
    return [
        *box_rows("", fields.BODY, body, width),
        gap(1),
        *_meanings(fields.BODY, width),
        gap(3),
        *box_rows("post", fields.POST, posts, width),
        gap(1),
        *_meanings(fields.POST, width),
    ]


def _pictures(dial: Dial | None, width: float) -> list[Block]:
    """The dial from the back and, beside it, how heights run."""
    return [Block(PICTURE_MM, partial(_draw_pictures, dial=dial)), gap(2)]


def _draw_pictures(canvas: Canvas, area: Area, dial: Dial | None) -> None:
    half = area.width * 0.42
    draw_back(canvas, Area(area.x, area.y, half, area.height), dial)
    draw_side(canvas, Area(area.x + half, area.y, area.width - half, area.height))
