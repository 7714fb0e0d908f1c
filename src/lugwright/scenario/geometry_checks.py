"""Faults of the panel's layout that need no limit: off the plate, overlapping, colliding.

Everything here is seen from the front, in millimetres, exact.
"""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.base.units import length_text
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.plate_pieces import Piece, beyond_edges, holes_of_plate, pieces_of
from lugwright.scenario.schema import PanelPart


def layout_faults(draft: Draft, fitted: list[Fitted]) -> list[Complaint]:
    """Every fault of the layout that needs no limit to be seen."""
    complaints = list(_pairs(draft, fitted))
    if not draft.lost.panel:
        for instrument in fitted:
            complaints += off_plate_faults(draft, instrument)
        complaints += _holes(draft, fitted)
        complaints += _tie_points_off_plate(draft)
    return complaints


def _pairs(draft: Draft, fitted: list[Fitted]) -> Iterator[Complaint]:
    pieces = [pieces_of(one) for one in fitted]
    for position, second in enumerate(fitted):
        messages = [
            _pair_fault(first, second, pieces[earlier], pieces[position])
            for earlier, first in enumerate(fitted[:position])
        ]
        messages = [message for message in messages if message]
        if messages:
            more = len(messages) - 1
            others = f"; it is in the way of {more} more" if more else ""
            path = draft.path(INSTRUMENTS, second.index, "centre")
            yield draft.complain(path, messages[0] + others, "move one of them")


def _pair_fault(first: Fitted, second: Fitted, theirs: list[Piece], own: list[Piece]) -> str:
    """What is in the way of what, of two instruments; "" where nothing is."""
    met = next(
        ((a, b) for b in theirs for a in own if a.is_in_the_way_of(b)),
        None,
    )
    if met is None:
        return ""
    ours, its = met
    bezels = first.pattern.bezel, second.pattern.bezel
    if ours.layer == its.layer == "front":
        apart = (
            f": the centres must be at least {length_text((bezels[0] + bezels[1]) / 2)} apart"
            if bezels[0] is not None and bezels[1] is not None
            else ""
        )
        return f'its bezel overlaps that of "{first.name}"{apart}'
    if "back" in (ours.layer, its.layer) and {ours.what, its.what} <= {"body", "cut-out"}:
        return f'its body collides with that of "{first.name}" behind the panel'
    return f'its {ours.what} overlaps the {its.what} of "{first.name}"'


def _holes(draft: Draft, fitted: list[Fitted]) -> Iterator[Complaint]:
    """Holes of the plate that reach beyond it, into each other, or to an instrument."""
    panel = draft.part.panel
    pieces = [(f' of "{one.name}"', piece) for one in fitted for piece in pieces_of(one)]
    for index, hole in holes_of_plate(panel):
        path: KeyPath = ("panel", "holes", index, "at")
        beyond = list(beyond_edges(hole.shape, panel.width, panel.height))
        for edge, excess in beyond:
            message = f"it reaches {excess} mm beyond the plate's {edge} edge"
            yield draft.complain(path, message, _plate(panel))
        met = next((name for name in pieces if hole.is_in_the_way_of(name[1])), None)
        if met:
            owner, piece = met
            message = f"it overlaps the {piece.what}{owner}"
            yield draft.complain(path, message, "move one of them")
        pieces.append((f" at {_at(hole)}", hole))


def _at(hole: Piece) -> str:
    return f"{length_text(hole.shape.x)}, {length_text(hole.shape.y)}"


def _plate(panel: PanelPart) -> str:
    return f"the plate is {length_text(panel.width)} by {length_text(panel.height)}"


def off_plate_faults(draft: Draft, instrument: Fitted) -> list[Complaint]:
    """Each edge of the plate that the cut-out, a screw, or a body behind it, reaches beyond."""
    panel, pieces = draft.part.panel, pieces_of(instrument)
    is_cut = any(piece.what == "cut-out" for piece in pieces)
    is_inside = is_cut and instrument.pattern.mounted_from == "front"
    hidden = {"bezel", "body"} if is_inside else {"bezel"}
    path = draft.path(INSTRUMENTS, instrument.index, "centre")
    return [
        draft.complain(
            path, f"the {piece.what} reaches {excess} mm beyond the plate's {edge} edge",
            _plate(panel),
        )
        for piece in pieces
        if piece.what not in hidden
        for edge, excess in beyond_edges(piece.shape, panel.width, panel.height)
    ]  # fmt: skip


def _tie_points_off_plate(draft: Draft) -> list[Complaint]:
    panel = draft.part.panel
    return [
        draft.complain(draft.path(("tie_point",), index, "at"), "it lies beyond the plate")
        for index, tie in enumerate(draft.part.tie_point)
        if not (0 <= tie.at[0] <= panel.width and 0 <= tie.at[1] <= panel.height)
    ]
