"""The label sheet: how to use it, then labels to wrap round the ends, then a tag for each wire."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TypeVar

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.csv_text import csv_text
from lugwright.outputs.labels import tag, wrap
from lugwright.outputs.labels.label_text import WireLabel, wire_labels
from lugwright.outputs.paper.cautions import cautions_height, cautions_pages, draw_cautions
from lugwright.outputs.paper.fonts import NO_GLYPH
from lugwright.outputs.paper.frame import Area, Head, Page, head_of, page_area, sheet_pdf
from lugwright.outputs.paper.lettering import TEXT_MM, plain, wrapped_to, write_lines
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan

PDF_FILE, CSV_FILE = "wire-labels.pdf", "wire-labels.csv"
_GAP_MM = 1.0
_PARAGRAPH_MM = 2.0
_T = TypeVar("_T")
_Draw = Callable[[Canvas, float, float, _T], None]


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The labels as PDF and as CSV."""
    labels = wire_labels(shown.plan, shown.digest)
    return {
        PDF_FILE: _pdf(head_of(shown, "Wire labels"), labels, paper),
        CSV_FILE: csv_text(WireLabel, labels).encode(),
    }


def _pdf(head: Head, labels: Sequence[WireLabel], paper: Paper) -> bytes:
    """First page on plain paper, the rest on label stock."""
    tags = [label for label in labels if label.end != "b"]  # one for each wire
    draw_tag = partial(tag.draw_tag, digest=head.digest)
    return sheet_pdf(
        head,
        paper,
        [
            *_first_pages(head, labels, paper),
            *_grid(labels, wrap.draw_wrap, (wrap.WIDTH_MM, wrap.HEIGHT_MM), "wrap-around", paper),
            *_grid(tags, draw_tag, (tag.WIDTH_MM, tag.HEIGHT_MM), "tags", paper),
        ],
    )


def _grid(
    items: Sequence[_T], draw: _Draw[_T], size: tuple[float, float], note: str, paper: Paper
) -> list[Page]:
    """Pages full of equal labels, row by row."""
    area = page_area(paper)
    columns = int((area.width + _GAP_MM) / (size[0] + _GAP_MM))
    rows = int((area.height + _GAP_MM) / (size[1] + _GAP_MM))
    a_page = columns * rows
    return [
        Page(
            partial(_draw_cells, items=items[first : first + a_page], draw=draw, size=size,
                    columns=columns),
            note=f"{note}: cut along the dashes; print on label stock at 100 %",
        )
        for first in range(0, len(items), a_page)
    ]  # fmt: skip


def _draw_cells(
    canvas: Canvas, area: Area, items: Sequence[_T], draw: _Draw[_T],
    size: tuple[float, float], columns: int,
) -> None:  # fmt: skip
    """One page of them."""
    for index, item in enumerate(items):
        row, column = divmod(index, columns)
        x = area.x + column * (size[0] + _GAP_MM)
        draw(canvas, x, area.top - row * (size[1] + _GAP_MM), item)


def _first_pages(head: Head, labels: Sequence[WireLabel], paper: Paper) -> list[Page]:
    """What the labels are and how they go on, with the cautions on the same page if they fit."""
    area = page_area(paper)
    words = _how_to(labels)
    used = sum(_height(text, area) for text in words) + _PARAGRAPH_MM
    fits = used + cautions_height(head, area.width) <= area.height
    first = Page(partial(_draw_first, head=head if fits else None, words=words), note="plain paper")
    return [*([] if fits else cautions_pages(head, paper)), first]


def _draw_first(canvas: Canvas, area: Area, head: Head | None, words: Sequence[str]) -> None:
    """How to use the labels, and the cautions below."""
    y = area.top
    for text in words:
        y = write_lines(canvas, area.x, y, wrapped_to(text, TEXT_MM, area.width), TEXT_MM)
        y -= _PARAGRAPH_MM
    if head:
        y -= _PARAGRAPH_MM
        draw_cautions(canvas, head, Area(area.x, area.y, area.width, y - area.y))


def _height(text: str, area: Area) -> float:
    """Height of one paragraph, mm."""
    return len(wrapped_to(text, TEXT_MM, area.width)) * TEXT_MM * 1.3 + _PARAGRAPH_MM


def _how_to(labels: Sequence[WireLabel]) -> list[str]:
    """The first page in words."""
    cut = sum(1 for label in labels if label.end == "a")
    as_is = sum(1 for label in labels if not label.end)
    return [
        f"{len(labels)} wrap-around labels: both ends of {cut} pieces cut here, and the panel end "
        f"of {as_is} wires that come as they are. Then one tag for each wire.",
        f"A wrap-around label is {wrap.WIDTH_MM:g} mm along the wire. Its printed zone of "
        f"{wrap.ZONE_MM:g} mm goes once round a wire of up to {wrap.FITS_MM:g} mm over the "
        f"insulation (measure yours); below the two ticks a blank tail of {wrap.TAIL_MM:g} mm.",
        "On stock with a clear tail: print first, then wrap the tail over it. On paper "
        "stock: wrap the blank tail first, print outside, clear tape over it. Put it close behind "
        "the barrel, so that it can be read with the lug on its stud.",
        "Names say circuit, number and end (end a is the one towards the supply). "
        "The joint in bold is where this end goes. A name too long for its line is shortened; the "
        "CSV file has it whole.",
        "The code on a tag holds the wire's name and, after #, the plan it belongs to. Hang the "
        "tag on the cut piece or its bag.",
        *_lacking(labels),
    ]


def _lacking(labels: Sequence[WireLabel]) -> list[str]:
    """What stands for letters the printed face does not have, where a label holds one."""
    names = "".join(f"{one.wire}{one.from_joint}{one.to_joint}" for one in labels)
    if NO_GLYPH not in plain(names):
        return []
    return [f"{NO_GLYPH} stands for a letter the printed face lacks; the CSV file has the names."]
