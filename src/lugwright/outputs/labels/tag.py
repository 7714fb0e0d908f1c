"""A flat tag for one wire: its QR code, and in words what it is and where it goes."""

from __future__ import annotations

import segno
from reportlab.pdfgen.canvas import Canvas

from lugwright.outputs.labels.fitting import fitted
from lugwright.outputs.labels.label_text import WireLabel
from lugwright.outputs.paper.fonts import BOLD, SANS
from lugwright.outputs.paper.lettering import write

WIDTH_MM, HEIGHT_MM = 62.0, 18.0
_CODE_MM = 17.0  # the code with its quiet zone
_QUIET = 4  # modules of blank round the code (ISO/IEC 18004, clause 6.3.8 of the 2015 edition)
_TEXT_X = _CODE_MM + 0.5
_ROOM_MM = WIDTH_MM - _TEXT_X - 1.0
_NAME_MM, _TEXT_MM, _SMALL_MM = 3.0, 2.3, 1.8


def code_matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """The modules of a QR code, dark ones True, row by row from the top; error level M.

    Raises ValueError for a text that no QR code holds (over 2300 bytes).
    """
    code = segno.make(text, error="m", micro=False, boost_error=False)
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)


def draw_tag(canvas: Canvas, x: float, top: float, label: WireLabel, digest: str) -> None:
    """The tag with its upper left corner at (x, top), mm."""
    canvas.saveState()
    canvas.setLineWidth(0.1)
    canvas.setStrokeGray(0.5)
    canvas.setDash(0.8, 0.8)
    canvas.rect(x, top - HEIGHT_MM, WIDTH_MM, HEIGHT_MM)
    canvas.restoreState()
    _draw_code(canvas, x + 0.5, top - 0.5, label.code)
    _write_words(canvas, x + _TEXT_X, top - 1.0, label, digest)


def _draw_code(canvas: Canvas, x: float, top: float, text: str) -> None:
    """The code in its square, dark modules of a row joined so that no hairline parts them."""
    matrix = code_matrix(text)
    module = _CODE_MM / (len(matrix) + 2 * _QUIET)
    path = canvas.beginPath()
    for row, modules in enumerate(matrix):
        for start, length in _dark_runs(modules):
            left = x + (start + _QUIET) * module
            lower = top - (row + _QUIET + 1) * module
            path.rect(left, lower, length * module, module)
    canvas.drawPath(path, stroke=0, fill=1)


def _dark_runs(modules: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Where runs of dark modules begin, and how long they are."""
    runs: list[tuple[int, int]] = []
    for index, dark in enumerate(modules):
        if not dark:
            continue
        if runs and sum(runs[-1]) == index:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        else:
            runs.append((index, 1))
    return runs


def _write_words(canvas: Canvas, x: float, top: float, label: WireLabel, digest: str) -> None:
    """Name, size and colour, route, plan."""
    wire = label.wire
    lines = [
        (wire, _NAME_MM, BOLD),
        (label.details, _TEXT_MM, SANS),
        *((words, _TEXT_MM, SANS) for words in _route(label)),
        (f"{label.stage}  ·  plan {digest}", _SMALL_MM, SANS),
    ]
    y = top
    for text, size, font in lines:
        line = fitted(text, size, _ROOM_MM, font)
        y -= size * 1.3
        write(canvas, x, y, line.text, line.size, font)


def _route(label: WireLabel) -> list[str]:
    """Where it goes, or what is done with it."""
    if label.note:
        return [label.note]
    return [label.from_joint, f"→ {label.to_joint}"] if label.from_joint else [label.to_joint]
