"""A barrel and its wires: each wire leads to its own name, size and colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lugwright.base.errors import OutsideTable
from lugwright.outputs.drawing.letters import text_wide
from lugwright.outputs.drawing.paint import PAPER, paint_of
from lugwright.outputs.stacks.sketch import EDGE, LINE, SIZE, WIDTH, Sketch, text_lines
from lugwright.outputs.wire_facts import WireFacts

BARREL_X, BARREL_END = 58.0, 94.0
TEXT_X = 122.0
_WIRE_END = TEXT_X - 4
_ROOM = WIDTH - EDGE - TEXT_X
_HEIGHT = 16.0
_BOLDEST = 1.17  # bold over plain letters, for names of narrow ones as well


@dataclass(frozen=True)
class WireEnd:
    """One wire end in a barrel: how it is called there, and the wire."""

    words: str
    facts: WireFacts


@dataclass(frozen=True)
class WireText:
    """The lines beside one wire: its name in bold, then size and colour; one line if they fit."""

    name: tuple[str, ...]
    details: tuple[str, ...]
    details_x: float

    @property
    def height(self) -> float:
        """Height it takes, in units of the drawing."""
        return LINE * (len(self.name) + (len(self.details) if self.details_x == TEXT_X else 0))


def wire_text(end: WireEnd) -> WireText:
    """What is written beside a wire end."""
    name = text_lines(end.words, _ROOM, bold=True)
    after = text_wide(name[-1], SIZE * _BOLDEST) + SIZE * 0.5
    details = text_lines(end.facts.size_and_colour, _ROOM)
    if len(name) == 1 and len(details) == 1:
        beside = text_lines(end.facts.size_and_colour, max(_ROOM - after, SIZE))
        if beside == details:
            return WireText(tuple(name), tuple(details), TEXT_X + after)
    return WireText(tuple(name), tuple(details), TEXT_X)


def barrel_fill(colour: str) -> str:
    """Paint of a barrel's sleeve; white where its colour is not one of the wire colours.

    A barrel of two colours ("red and blue") is white too: the words beside it say both.
    """
    try:
        return paint_of(colour).fill if colour else PAPER
    except OutsideTable:
        return PAPER


def draw_wires(
    sketch: Sketch, ends: Sequence[WireEnd], x: float, y: float, dashed: bool, upright: bool = False
) -> None:
    """Wires from a barrel's mouth at (x, y) to their names, which fill the drawing downwards."""
    for index, end in enumerate(ends):
        spread = (index - (len(ends) - 1) / 2) * min(4.0, _HEIGHT / max(len(ends), 1))
        start = (x + spread, y) if upright else (x, y + spread)
        text = wire_text(end)
        with sketch.group(data_wire=end.facts.wire, data_end=end.words):
            level = sketch.y + SIZE * 0.64
            paint = paint_of(end.facts.colour)
            sketch.wire(start, (_WIRE_END, level), paint, dashed=dashed, upright=upright)
            top = sketch.y
            sketch.text(TEXT_X, text.name, bold=True)
            if text.details_x != TEXT_X:
                sketch.y = top
            sketch.text(text.details_x, text.details)


def draw_barrel(
    sketch: Sketch, colour: str, ends: Sequence[WireEnd], dashed: bool, tongue_x: float
) -> float:
    """A level barrel with its tongue towards ``tongue_x``; returns the height of its axis."""
    sketch.y += 2
    height = sum(wire_text(end).height for end in ends)
    axis = sketch.y + max(height / 2, _HEIGHT / 2)
    top = sketch.y
    sketch.box(tongue_x, axis - 2.5, BARREL_X - tongue_x, 5, fill="#dcdcdc", dashed=dashed)
    sketch.box(
        BARREL_X, axis - _HEIGHT / 2, BARREL_END - BARREL_X, _HEIGHT,
        fill=barrel_fill(colour), dashed=dashed, corner=3,
    )  # fmt: skip
    draw_wires(sketch, ends, BARREL_END, axis, dashed)
    sketch.y = max(sketch.y, top + _HEIGHT + 2)
    return axis
