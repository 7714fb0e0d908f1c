"""Exact shapes of what is cut for an instrument, and of its rim, from a plan's panel; 0.1 mm.

Seen from the back as the panel has it, or from the front, where left and right change places and
a turn goes the other way round.
"""

from __future__ import annotations

from fractions import Fraction

from lugwright.base.shapes import Pair, Shape, circle, directed, rectangle
from lugwright.plans.panel import Panel, PanelHole, PanelInstrument

_MDEG = 1000


def cut_of(one: PanelInstrument, panel: Panel, *, front: bool = False) -> Shape | None:
    """The cut-out; None for what stands on standoffs."""
    mount, at = one.mount, _at(one, panel, front=front)
    if one.cut_out_dmm:
        return circle(*at, one.cut_out_dmm)
    if not mount.cut_out_width_dmm:
        return None
    sides = mount.cut_out_width_dmm, mount.cut_out_height_dmm
    return rectangle(at, sides, mount.cut_out_radius_dmm, _direction(one, front=front))


def rim_of(one: PanelInstrument, panel: Panel, *, front: bool = False) -> Shape | None:
    """The bezel; None where there is none."""
    mount, at = one.mount, _at(one, panel, front=front)
    if one.bezel_dmm:
        return circle(*at, one.bezel_dmm)
    if not mount.bezel_width_dmm:
        return None
    sides = mount.bezel_width_dmm, mount.bezel_height_dmm
    return rectangle(at, sides, 0, _direction(one, front=front))


def body_of(one: PanelInstrument, panel: Panel, *, front: bool = False) -> Shape:
    """The body behind the plate, or the upright rectangle round one that is turned."""
    at = _at(one, panel, front=front)
    if one.body_width_dmm:
        sides = one.body_width_dmm, one.body_height_dmm
        return rectangle(at, sides, 0, directed(Fraction(0)))
    return circle(*at, one.body_dmm)


def drilled(hole: PanelHole, panel: Panel, *, front: bool = False) -> Shape:
    """A round hole: a screw's, or the plate's own."""
    x_dmm = panel.width_dmm - hole.x_dmm if front else hole.x_dmm
    return circle(x_dmm, hole.y_dmm, hole.diameter_dmm)


def _at(one: PanelInstrument, panel: Panel, *, front: bool) -> tuple[int, int]:
    return panel.width_dmm - one.x_dmm if front else one.x_dmm, one.y_dmm


def _direction(one: PanelInstrument, *, front: bool) -> Pair:
    cosine, sine = directed(Fraction(one.mount.turn_mdeg, _MDEG))
    return cosine, -sine if front else sine
