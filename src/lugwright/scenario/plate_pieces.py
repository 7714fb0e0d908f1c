"""What stands before, in and behind the plate, each piece with its exact shape seen from the front.

A bezel stands before the plate, a body behind it; a cut-out or a screw goes through and needs all
three layers. Two pieces of different owners are in each other's way where they overlap, unless one
stands before the plate and the other behind it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from lugwright.base.scale import mm_text
from lugwright.base.shapes import Shape, circle, directed
from lugwright.base.units import to_dmm_up
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.placing import turned
from lugwright.scenario.rims import bezel_of, body_of, cut_out_of, screws_of
from lugwright.scenario.schema import PanelPart

Layer = Literal["front", "through", "back"]


@dataclass(frozen=True)
class Piece:
    """One piece: what it is called, and the layer it is in."""

    what: str
    layer: Layer
    shape: Shape

    def is_in_the_way_of(self, other: Piece) -> bool:
        """Whether the two cannot both be there."""
        return {self.layer, other.layer} != {"front", "back"} and self.shape.overlaps(other.shape)


def pieces_of(instrument: Fitted) -> list[Piece]:
    """Bezel, body, cut-out and screws of an instrument, seen from the front, mm."""
    pattern = instrument.pattern
    bezel, cut_out = bezel_of(pattern), cut_out_of(pattern)
    found = [Piece("bezel", "front", _placed(instrument, bezel))] if bezel else []
    found.append(Piece("body", "back", _placed(instrument, body_of(pattern))))
    if cut_out:
        found.append(Piece("cut-out", "through", _placed(instrument, cut_out)))
    found += [
        Piece(f"hole for screw {number}", "through", _screw(instrument, screw))
        for number, screw in enumerate(screws_of(pattern), 1)
    ]
    return found


def _placed(instrument: Fitted, shape: Shape) -> Shape:
    """A shape round the instrument's centre, turned with it."""
    (x, y), (cosine, sine) = instrument.part.centre, directed(instrument.part.turn)
    return Shape(x, y, shape.half_width, shape.half_height, shape.radius, (cosine, -sine))


def _screw(instrument: Fitted, screw: Shape) -> Shape:
    across, up = turned((screw.x, screw.y), instrument.part.turn)  # as seen from the back
    x, y = instrument.part.centre
    return circle(x - across, y + up, 2 * screw.radius)


def holes_of_plate(panel: PanelPart) -> Iterator[tuple[int, Piece]]:
    """The plate's own holes, by their place in the file."""
    for index, hole in enumerate(panel.holes):
        yield index, Piece(hole.what, "through", circle(*hole.at, hole.diameter))


def beyond_edges(shape: Shape, width: Fraction, height: Fraction) -> Iterator[tuple[str, str]]:
    """Each edge of the plate that a shape reaches beyond, and by how much, in words."""
    (across, up) = shape.reach
    reached = {
        "left": across - shape.x,
        "right": shape.x + across - width,
        "lower": up - shape.y,
        "upper": shape.y + up - height,
    }
    for edge, excess in reached.items():
        if excess > 0:
            yield edge, mm_text(to_dmm_up(excess))
