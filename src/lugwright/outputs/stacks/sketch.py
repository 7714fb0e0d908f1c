"""One small drawing that is filled from the top: boxes, lines, and text measured before it is set.

Places are in units of the drawing, which is ``WIDTH`` wide and prints 90 mm wide, so that two
stand side by side on paper. Strokes and letters are those of all drawings (``drawing.pen``).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from lugwright.outputs.drawing.frame import Box, Point
from lugwright.outputs.drawing.letters import BOLDER, filled
from lugwright.outputs.drawing.paint import INK, PAPER, Paint
from lugwright.outputs.drawing.pen import ABOARD, TEXT, THIN, Pen
from lugwright.outputs.drawing.svg import Drawing

WIDTH = 340.0
PRINTED_MM = 90.0
EDGE = 6.0
SIZE = 11.0  # of letters
LINE = 14.0  # from one base line to the next
_UNIT = SIZE / TEXT
_OUTLINE, _WIRE = 0.28, 0.95
_BEND = 6.0  # of a wire before and behind its slant


def text_lines(text: str, width: float, bold: bool = False) -> list[str]:
    """The text in lines that fit ``width``; a word that is wider is broken."""
    return filled(text, SIZE * (BOLDER if bold else 1), width)


class Sketch:
    """A drawing; ``y`` is how far down it is filled."""

    def __init__(self, title: str, **facts: str) -> None:
        self.y = EDGE
        self._title = title
        self._pens = [Pen(_UNIT, **facts)]

    @contextmanager
    def group(self, **facts: str) -> Iterator[None]:
        """What is drawn meanwhile belongs together and carries ``facts`` (``data_wire=...``)."""
        self._pens.append(self._pens[-1].inner(**facts))
        yield
        self._pens.pop()

    def finished(self) -> Drawing:
        """The finished drawing."""
        high = self.y + EDGE
        printed = (PRINTED_MM, high * PRINTED_MM / WIDTH)
        view = Box(0, 0, WIDTH, high)
        return Drawing(self._pens[0].into, view, self._title, "Not to scale.", printed)

    def text(self, x: float, lines: Sequence[str], bold: bool = False) -> None:
        """Lines one under another from where the drawing is filled to; it is filled further."""
        for line in lines:
            self.word((x, self.y + SIZE), line, "start", bold=bold)
            self.y += LINE

    def word(
        self, at: Point, text: str, anchor: str = "middle", *, bold: bool = False, ink: str = INK
    ) -> None:
        """One line of text with its base line at ``at``."""
        self._pens[-1].text(at, text, TEXT, anchor, bold=bold, ink=ink)

    def box(
        self, x: float, y: float, width: float, height: float, *,
        fill: str = PAPER, dashed: bool = False, corner: float = 0, thin: bool = False,
    ) -> None:  # fmt: skip
        """A rectangle with an outline, dashed where it goes on aboard."""
        self._pens[-1].box(
            Box(x, y, x + width, y + height),
            wide=THIN if thin else _OUTLINE,
            fill=fill,
            dash=ABOARD if dashed else (),
            round_mm=corner,
        )

    def line(self, points: Sequence[Point], *, dashed: bool = False, thin: bool = False) -> None:
        """A line of corners."""
        dash = ABOARD if dashed else ()
        self._pens[-1].line(points, wide=THIN if thin else _OUTLINE, dash=dash)

    def circle(self, at: Point, radius: float, fill: str = PAPER) -> None:
        """A circle in outline."""
        self._pens[-1].circle(at, radius, fill=fill)

    def wire(self, start: Point, end: Point, paint: Paint, *, dashed: bool, upright: bool) -> None:
        """A wire in its colour, leaving level (or ``upright``) and arriving level."""
        slant = [(start[0] + _BEND, start[1]), (end[0] - _BEND, end[1])]
        middle = [(start[0], end[1])] if upright else slant
        self._pens[-1].wire([start, *middle, end], paint, aboard=dashed, gap=False, wide=_WIRE)
