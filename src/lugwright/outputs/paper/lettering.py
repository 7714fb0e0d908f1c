"""Text that stays where it belongs: measured, shortened, wrapped. All sizes in millimetres.

Users' text goes through ``plain`` first: no control characters, no glyph the face lacks.
"""

from __future__ import annotations

from collections.abc import Iterable

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.paper.fonts import SANS, text_width, writable
from lugwright.outputs.words import lines_that_fit, one_line

TITLE_MM = 4.0
TEXT_MM = 3.2
SMALL_MM = 2.6
LEADING = 1.3  # line pitch over letter size


def plain(text: str) -> str:
    """A user's text as it can be printed in one line."""
    return writable(one_line(text))


def clipped(text: str, size: float, width: float, font: str = SANS) -> str:
    """The text, shortened with an ellipsis where it is wider than ``width``."""
    text = plain(text)
    if text_width(text, size, font) <= width:
        return text
    while text and text_width(f"{text}…", size, font) > width:
        text = text[:-1]
    return f"{text.rstrip()}…"


def wrapped_to(text: str, size: float, width: float, font: str = SANS) -> list[str]:
    """The text in lines no wider than ``width``; a word that is wider is broken."""
    return lines_that_fit(plain(text), lambda line: text_width(line, size, font) <= width)


def write(
    canvas: Canvas,
    x: float,
    y: float,
    text: str,
    size: float,
    font: str = SANS,
    align: str = "left",
) -> None:
    """One line of text with its base line at ``y``; ``align`` is left, right or centre."""
    canvas.setFont(font, size)
    text = plain(text)
    if align == "right":
        canvas.drawRightString(x, y, text)
    elif align == "centre":
        canvas.drawCentredString(x, y, text)
    else:
        canvas.drawString(x, y, text)


def write_lines(
    canvas: Canvas, x: float, top: float, lines: Iterable[str], size: float, font: str = SANS
) -> float:
    """Lines one under another, the first hanging from ``top``; returns the y below the last."""
    y = top
    for line in lines:
        write(canvas, x, y - size, line, size, font)
        y -= size * LEADING
    return y
