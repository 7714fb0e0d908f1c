"""The frame of every printed sheet, and the one way a PDF is written here.

A sheet is a row of pages. Each page gets the plan's title, the sheet's name, the side it shows,
the rule set, the plan's digest and "page n of m"; what is drawn inside is the page's own. The
cautions and waivers are put on a page by ``paper.cautions``. Everything on a page is in
millimetres, origin lower left, y up.
"""

from __future__ import annotations

import io
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from lugwright.base.cautions import ON_PAGE_1
from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.paper.fonts import BOLD, SANS, register_fonts, text_width
from lugwright.outputs.paper.lettering import SMALL_MM, TITLE_MM, clipped, plain, write
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import WaiverUsed

# Desktop printers leave 3 to 6 mm blank at the edges (common practice, no source).
MARGIN_MM = 8.0
HEAD_MM = 11.0
FOOT_MM = 6.0
LINE_MM = 0.25
_GAP_MM = 4.0
_DAY = "SOURCE_DATE_EPOCH"


@dataclass(frozen=True)
class Head:
    """What a sheet says of itself. ``digest`` "" means that nothing is planned yet.

    ``where`` stands on every page and says on which one the cautions are.
    """

    title: str
    sheet: str
    rule_set: str
    digest: str
    cautions: tuple[str, ...]
    waivers: tuple[str, ...] = ()
    where: str = ON_PAGE_1


@dataclass(frozen=True)
class Area:
    """A rectangle in millimetres, from its lower left corner."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width

    @property
    def top(self) -> float:
        """Its upper edge."""
        return self.y + self.height

    def shows(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        """True where some of the rectangle between two corners lies in this one."""
        return x0 <= self.right and self.x <= x1 and y0 <= self.top and self.y <= y1


@dataclass(frozen=True)
class Page:
    """One page: what draws inside the frame, the side shown in words, a note (tile and such)."""

    draw: Callable[[Canvas, Area], None]
    side: str = ""
    note: str = ""
    landscape: bool = False


def head_of(shown: ShownPlan, sheet: str) -> Head:
    """The head of a plan's sheet."""
    plan = shown.plan
    waivers = tuple(waiver_text(waiver) for waiver in plan.waivers)
    return Head(plan.title, sheet, plan.rule_set, shown.digest, plan.cautions, waivers)


def waiver_text(waiver: WaiverUsed) -> str:
    """One waiver in a sentence."""
    return (
        f"Waived: {waiver.limit} at {waiver.place}, {waiver.value}. {waiver.reason} "
        f"({waiver.initials}, {waiver.date}; {waiver.origin})"
    )


def page_mm(paper: Paper, landscape: bool = False) -> tuple[float, float]:
    """Width and height of the page in millimetres."""
    width, height = paper.width_dmm / DMM_PER_MM, paper.height_dmm / DMM_PER_MM
    return (height, width) if landscape else (width, height)


def page_area(paper: Paper, landscape: bool = False) -> Area:
    """Where a page's own drawing may stand, in millimetres."""
    width, height = page_mm(paper, landscape)
    return Area(
        MARGIN_MM,
        MARGIN_MM + FOOT_MM,
        width - 2 * MARGIN_MM,
        height - 2 * MARGIN_MM - HEAD_MM - FOOT_MM,
    )


def sheet_pdf(head: Head, paper: Paper, pages: Sequence[Page]) -> bytes:
    """The whole sheet as PDF; same input, same bytes. It asks not to be scaled in printing."""
    register_fonts()
    out = io.BytesIO()
    # invariant: no clock and no random identifier in the file
    with _no_day_set():
        canvas = Canvas(out, pagesize=_points(paper, False), invariant=1, initialFontName=SANS)
    canvas.setTitle(plain(f"{head.title}: {head.sheet}"))
    canvas.setAuthor("Lugwright")
    canvas.setCreator("Lugwright")
    canvas.setProducer("Lugwright")
    canvas.setSubject(plain(f"{head.sheet}, plan {head.digest}" if head.digest else head.sheet))
    canvas.setViewerPreference("PrintScaling", "None")
    for number, page in enumerate(pages, start=1):
        canvas.setPageSize(_points(paper, page.landscape))
        canvas.scale(mm, mm)
        canvas.setLineWidth(LINE_MM)
        canvas.saveState()
        page.draw(canvas, page_area(paper, page.landscape))
        canvas.restoreState()
        _draw_frame(canvas, head, page, paper, f"page {number} of {len(pages)}")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


@contextmanager
def _no_day_set() -> Iterator[None]:
    """While this lasts, no variable says what day it is: the PDF library would heed it."""
    day = os.environ.pop(_DAY, None)
    try:
        yield
    finally:
        if day is not None:
            os.environ[_DAY] = day


def _points(paper: Paper, landscape: bool) -> tuple[float, float]:
    """Page size in the PDF's own unit."""
    width, height = page_mm(paper, landscape)
    return width * mm, height * mm


def _draw_frame(canvas: Canvas, head: Head, page: Page, paper: Paper, count: str) -> None:
    """Title and sheet above, rule set, digest and page count below."""
    width, height = page_mm(paper, page.landscape)
    right, top = width - MARGIN_MM, height - MARGIN_MM
    side = f"{head.sheet}: {page.side}" if page.side else head.sheet
    write(canvas, right, top - TITLE_MM, side, TITLE_MM, BOLD, "right")
    room = right - MARGIN_MM - text_width(side, TITLE_MM, BOLD) - _GAP_MM
    title = clipped(head.title, TITLE_MM, room, BOLD)
    write(canvas, MARGIN_MM, top - TITLE_MM, title, TITLE_MM, BOLD)
    note = clipped(page.note, SMALL_MM, right - MARGIN_MM)
    write(canvas, MARGIN_MM, top - TITLE_MM - SMALL_MM * 1.5, note, SMALL_MM)
    canvas.line(MARGIN_MM, top - HEAD_MM + 1.5, right, top - HEAD_MM + 1.5)
    canvas.line(MARGIN_MM, MARGIN_MM + FOOT_MM - 1.5, right, MARGIN_MM + FOOT_MM - 1.5)
    write(canvas, right, MARGIN_MM, count, SMALL_MM, BOLD, "right")
    room = right - MARGIN_MM - text_width(count, SMALL_MM, BOLD) - _GAP_MM
    write(canvas, MARGIN_MM, MARGIN_MM, clipped(_foot(head), SMALL_MM, room), SMALL_MM)


def _foot(head: Head) -> str:
    """What stands under every page. The digest first: a long name must not push it off."""
    plan = f"plan {head.digest}" if head.digest else "not planned yet"
    waived = f"  ·  {len(head.waivers)} waived" if head.waivers else ""
    return f"{plan}  ·  rule set {head.rule_set}{waived}  ·  {head.where}"
