"""How an instrument is held in the plate, and the plate's own holes, as seen from the back.

Round once, as all places are: rule R1.
"""

from __future__ import annotations

from fractions import Fraction

from lugwright.base.units import to_dmm
from lugwright.scenario.console import ROUND, Hole, Mount
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.placing import point, to_back, turned
from lugwright.scenario.schema import PanelPart

_NIL = Fraction(0)
_MDEG = 1000


def mount_of(fitted: Fitted, panel: PanelPart) -> Mount:
    """What the plate has for an instrument besides a plain round hole."""
    pattern = fitted.pattern
    found = Mount(
        cut_out_width_dmm=to_dmm(pattern.cut_out_width or _NIL),
        cut_out_height_dmm=to_dmm(pattern.cut_out_height or _NIL),
        cut_out_radius_dmm=to_dmm(pattern.cut_out_radius),
        bezel_width_dmm=to_dmm(pattern.bezel_width or _NIL),
        bezel_height_dmm=to_dmm(pattern.bezel_height or _NIL),
        turn_mdeg=round(fitted.part.turn * _MDEG) % (360 * _MDEG),
        screws=tuple(sorted(_screws(fitted, panel))),
        from_back=pattern.mounted_from == "back",
    )
    is_round = not (found.cut_out_width_dmm or found.bezel_width_dmm)
    if is_round and not found.screws and not found.from_back:
        return ROUND
    return found


def _screws(fitted: Fitted, panel: PanelPart) -> list[Hole]:
    x, y = to_back(fitted.part.centre, panel.width)
    offsets = [(turned(screw.at, fitted.part.turn), screw) for screw in fitted.pattern.screws]
    return [_hole((x + dx, y + dy), screw.diameter) for (dx, dy), screw in offsets]


def plate_holes(panel: PanelPart) -> tuple[Hole, ...]:
    """The plate's own holes, in the order of the file."""
    return tuple(
        _hole(to_back(hole.at, panel.width), hole.diameter, hole.what) for hole in panel.holes
    )


def _hole(place_back: tuple[Fraction, Fraction], diameter: Fraction, what: str = "") -> Hole:
    at = point(place_back, _NIL)
    return Hole(at.x_dmm, at.y_dmm, to_dmm(diameter), what)
