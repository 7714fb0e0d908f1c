"""The plate itself on 1:1 paper, and the mark that tells its front from its back."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.drawing.frame import Box
from lugwright.plans.panel import Panel

MARK_MM = 8.0
MARK_WORDS = "The solid triangle marks the corner that is lower left seen from the FRONT."
_OUTLINE_MM = 0.35


@dataclass(frozen=True)
class PlateSize:
    """Width and height of the plate, mm."""

    width: float
    height: float

    @property
    def inside(self) -> Box:
        """The plate as a box."""
        return Box(0, 0, self.width, self.height)


def plate_size(panel: Panel) -> PlateSize:
    """The plate of a panel."""
    return PlateSize(panel.width_dmm / DMM_PER_MM, panel.height_dmm / DMM_PER_MM)


def draw_plate(canvas: Canvas, size: PlateSize) -> None:
    """The plate's outline, lower left corner at the origin."""
    canvas.saveState()
    canvas.setLineWidth(_OUTLINE_MM)
    canvas.rect(0, 0, size.width, size.height)
    canvas.restoreState()


def draw_mark(canvas: Canvas, size: PlateSize, front: bool, legs: float = MARK_MM) -> None:
    """A solid right-angled triangle in the corner that is lower left from the front."""
    x, into = (0.0, legs) if front else (size.width, -legs)
    path = canvas.beginPath()
    path.moveTo(x, 0)
    path.lineTo(x + into, 0)
    path.lineTo(x, legs)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)
