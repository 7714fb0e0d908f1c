"""A label wrapped round a wire: its text again and again, so that one copy faces the reader.

The printed zone goes once round the wire; below it a clear tail goes round over the print. The
plan does not say how thick a wire's insulation is, so the sizes are stated, not computed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.labels.fitting import Fitted, fitted
from lugwright.outputs.labels.label_text import WireLabel
from lugwright.outputs.paper.fonts import BOLD, SANS, text_width
from lugwright.outputs.paper.lettering import write

WIDTH_MM = 30.0  # along the wire
ZONE_MM = 13.2  # printed, round the wire
TAIL_MM = 25.0  # clear, round the wire over the print
HEIGHT_MM = ZONE_MM + TAIL_MM
# The thickest wire the printed zone goes round once, to a tenth down.
FITS_MM = int(ZONE_MM / pi * 10) / 10
_PITCH_MM = 2.15  # two lines are half way round a wire of 2.8 mm: the name is always in sight
_NAME_MM, _TEXT_MM = 1.9, 1.65
_INSIDE_MM = 1.0
_ROOM_MM = WIDTH_MM - 2 * _INSIDE_MM


@dataclass(frozen=True)
class _Word:
    """A part of a line: its text as it fits, and its face."""

    text: Fitted
    font: str


_Line = Sequence[_Word]


def draw_wrap(canvas: Canvas, x: float, top: float, label: WireLabel) -> None:
    """The label with its upper left corner at (x, top), mm; the tail stays blank."""
    _draw_edges(canvas, x, top)
    for index, line in enumerate(_lines(label)):
        at = x + _INSIDE_MM
        for word in line:
            y = top - (index + 0.85) * _PITCH_MM
            write(canvas, at, y, word.text.text, word.text.size, word.font)
            at += text_width(f"{word.text.text} ", word.text.size, word.font)


def _lines(label: WireLabel) -> tuple[_Line, ...]:
    """The six lines; a route too long for one line takes two, once instead of twice."""
    head, tail = label.name
    name = [_Word(fitted(head, _NAME_MM, _ROOM_MM, BOLD, keep=tail), BOLD)]
    details = [_Word(fitted(label.details, _TEXT_MM, _ROOM_MM), SANS)]
    if label.note:
        note = [_Word(fitted(label.note, _TEXT_MM, _ROOM_MM, BOLD), BOLD)]
        return name, note, name, details, name, note
    ends = [_end(label, joint) for joint in (label.from_joint, label.to_joint) if joint]
    if len(ends) == 1:
        return name, ends[0], name, details, name, ends[0]
    arrow = _Word(Fitted("→", _TEXT_MM), SANS)
    route = [*ends[0], arrow, *ends[1]]
    wide = sum(text_width(f"{word.text.text} ", word.text.size, word.font) for word in route)
    if wide <= _ROOM_MM:
        return name, route, name, details, name, route
    return name, ends[0], _end(label, label.to_joint, "→ "), name, details, name


def _end(label: WireLabel, joint: str, before: str = "") -> _Line:
    """A joint of the route; that of this end is in bold."""
    font = BOLD if joint == label.here else SANS
    return [_Word(fitted(before + joint, _TEXT_MM, _ROOM_MM, font), font)]


def _draw_edges(canvas: Canvas, x: float, top: float) -> None:
    """Where to cut, and two ticks where the tail begins."""
    canvas.saveState()
    canvas.setLineWidth(0.1)
    canvas.setStrokeGray(0.5)
    canvas.setDash(0.8, 0.8)
    canvas.rect(x, top - HEIGHT_MM, WIDTH_MM, HEIGHT_MM)
    canvas.setDash()
    fold = top - ZONE_MM
    canvas.line(x, fold, x + _INSIDE_MM, fold)
    canvas.line(x + WIDTH_MM - _INSIDE_MM, fold, x + WIDTH_MM, fold)
    canvas.restoreState()
