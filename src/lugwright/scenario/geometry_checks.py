"""Faults of the panel's layout that need no limit: off the plate, overlapping, colliding.

Everything here is seen from the front, in millimetres, exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from lugwright.base.errors import Complaint
from lugwright.base.scale import mm_text
from lugwright.base.units import length_text, to_dmm_up
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.placing import turned_extent


@dataclass(frozen=True)
class Outline:
    """A circle (``half_width`` is its radius) or an upright rectangle, round a centre."""

    x: Fraction
    y: Fraction
    half_width: Fraction
    half_height: Fraction
    is_round: bool

    def overlaps(self, other: Outline) -> bool:
        """True where the two share more than a touching point."""
        dx, dy = abs(self.x - other.x), abs(self.y - other.y)
        if self.is_round and other.is_round:
            return dx * dx + dy * dy < (self.half_width + other.half_width) ** 2
        if not self.is_round and not other.is_round:
            wide, high = self.half_width + other.half_width, self.half_height + other.half_height
            return dx < wide and dy < high
        circle, box = (self, other) if self.is_round else (other, self)
        gap_x = max(dx - box.half_width, Fraction(0))
        gap_y = max(dy - box.half_height, Fraction(0))
        return gap_x * gap_x + gap_y * gap_y < circle.half_width**2


def layout_faults(draft: Draft, fitted: list[Fitted]) -> list[Complaint]:
    """Every fault of the layout that needs no limit to be seen."""
    complaints = list(_pairs(draft, fitted))
    if not draft.lost.panel:
        for instrument in fitted:
            complaints += off_plate_faults(draft, instrument)
        complaints += _tie_points_off_plate(draft)
    return complaints


def _round(instrument: Fitted, diameter_mm: Fraction) -> Outline:
    x, y = instrument.part.centre
    return Outline(x, y, diameter_mm / 2, diameter_mm / 2, True)


def _body(instrument: Fitted) -> Outline:
    """The body; the cut-out where that is wider, since nothing may stand over a hole."""
    pattern = instrument.pattern
    if pattern.body_width is None or pattern.body_height is None:
        return _round(instrument, pattern.cut_out or pattern.body or Fraction(0))
    wide, high = turned_extent(pattern.body_width, pattern.body_height, instrument.part.turn)
    x, y = instrument.part.centre
    return Outline(x, y, wide / 2, high / 2, False)


def _pairs(draft: Draft, fitted: list[Fitted]) -> Iterator[Complaint]:
    for position, second in enumerate(fitted):
        messages = [_pair_fault(first, second) for first in fitted[:position]]
        messages = [message for message in messages if message]
        if messages:
            more = len(messages) - 1
            others = f"; it is in the way of {more} more" if more else ""
            path = draft.path(INSTRUMENTS, second.index, "centre")
            yield draft.complain(path, messages[0] + others, "move one of them")


def _pair_fault(first: Fitted, second: Fitted) -> str:
    bezels = first.pattern.bezel, second.pattern.bezel
    if bezels[0] is not None and bezels[1] is not None:
        if _round(first, bezels[0]).overlaps(_round(second, bezels[1])):
            return (
                f'its bezel overlaps that of "{first.name}": the centres must be at least '
                f"{length_text((bezels[0] + bezels[1]) / 2)} apart"
            )
        return ""
    if _body(first).overlaps(_body(second)):
        return f'its body collides with that of "{first.name}" behind the panel'
    return ""


def off_plate_faults(draft: Draft, instrument: Fitted) -> list[Complaint]:
    """Each edge of the plate that the cut-out, or a body without one, reaches beyond."""
    outline = _body(instrument)
    panel = draft.part.panel
    beyond = {
        "left": outline.half_width - outline.x,
        "right": outline.x + outline.half_width - panel.width,
        "lower": outline.half_height - outline.y,
        "upper": outline.y + outline.half_height - panel.height,
    }
    what = "cut-out" if instrument.pattern.cut_out is not None else "body"
    path = draft.path(INSTRUMENTS, instrument.index, "centre")
    plate = f"the plate is {length_text(panel.width)} by {length_text(panel.height)}"
    return [
        draft.complain(
            path,
            f"the {what} reaches {mm_text(to_dmm_up(excess))} mm beyond the plate's {edge} edge",
            plate,
        )
        for edge, excess in beyond.items()
        if excess > 0
    ]


def _tie_points_off_plate(draft: Draft) -> list[Complaint]:
    panel = draft.part.panel
    return [
        draft.complain(draft.path(("tie_point",), index, "at"), "it lies beyond the plate")
        for index, tie in enumerate(draft.part.tie_point)
        if not (0 <= tie.at[0] <= panel.width and 0 <= tie.at[1] <= panel.height)
    ]
