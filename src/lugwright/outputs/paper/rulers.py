"""What proves a printed page: rulers in x and y, register crosses, the key map of the tiles."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.paper.fonts import BOLD
from lugwright.outputs.paper.frame import Area
from lugwright.outputs.paper.lettering import SMALL_MM, write

RULER_MM = 100
LEFT_MM = 11.0  # strip for the upright ruler
BELOW_MM = 13.0  # strip for the lying ruler and the key map
_TICKS_MM = {10: 4.0, 5: 3.0, 1: 1.8}
_CROSS_MM = 4.0
_CELL_MM = (6.0, 4.0)
_CHECK = f"This ruler must measure {RULER_MM} mm."
_ADVICE = "If not: set the printer to 100 %, or ask for --print-scale."


def draw_rulers(canvas: Canvas, area: Area, scale: tuple[float, float]) -> None:
    """A ruler of 100 mm along the lower edge of ``area`` and one along its left edge.

    They are drawn as the drawing is, ``scale`` times as large, so they measure what it measures.
    """
    canvas.saveState()
    canvas.translate(area.x + LEFT_MM, area.y + BELOW_MM - 1.5)
    canvas.scale(scale[0], 1)
    _draw_ruler(canvas, f"x: {_CHECK} {_ADVICE}", sign=-1)
    canvas.restoreState()
    canvas.saveState()
    canvas.translate(area.x + LEFT_MM - 1.5, area.y + BELOW_MM)
    canvas.rotate(90)
    canvas.scale(scale[1], 1)
    _draw_ruler(canvas, f"y: {_CHECK}", sign=1)
    canvas.restoreState()


def _draw_ruler(canvas: Canvas, text: str, sign: int) -> None:
    """A ruler along x from the origin; ticks and figures on the side of ``sign``."""
    canvas.setLineWidth(0.15)
    canvas.line(0, 0, RULER_MM, 0)
    for at in range(RULER_MM + 1):
        length = next(length for step, length in _TICKS_MM.items() if at % step == 0)
        canvas.line(at, 0, at, sign * length)
    y = sign * (_TICKS_MM[10] + 0.6) - (SMALL_MM * 0.75 if sign < 0 else 0)
    for at in range(0, RULER_MM + 1, 20):
        write(canvas, at, y, str(at), SMALL_MM, BOLD, "centre")
    write(canvas, 0, y + sign * (SMALL_MM + 0.6), text, SMALL_MM)


def draw_cross(canvas: Canvas, x: float, y: float, number: int) -> None:
    """A register cross, numbered so that it finds its fellow on the next page."""
    canvas.saveState()
    canvas.setLineWidth(0.15)
    canvas.line(x - _CROSS_MM, y, x + _CROSS_MM, y)
    canvas.line(x, y - _CROSS_MM, x, y + _CROSS_MM)
    canvas.circle(x, y, _CROSS_MM / 2)
    write(canvas, x + 0.6, y + _CROSS_MM / 2 + 0.4, str(number), SMALL_MM)
    canvas.restoreState()


def draw_key_map(canvas: Canvas, area: Area, size: tuple[int, int], here: tuple[int, int]) -> None:
    """All pages as a small grid in the lower right corner, this one filled; rows, columns."""
    rows, columns = size
    height = min(_CELL_MM[1], (BELOW_MM - 2) / rows)
    width = height * _CELL_MM[0] / _CELL_MM[1]
    left, top = area.right - columns * width, area.y + BELOW_MM - 1.5
    for row in range(1, rows + 1):
        for column in range(1, columns + 1):
            x, y = left + (column - 1) * width, top - row * height
            canvas.rect(x, y, width, height, fill=int((row, column) == here))
    write(canvas, left - 1.5, top - SMALL_MM, "pages", SMALL_MM, align="right")
