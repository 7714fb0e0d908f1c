"""Every wire that is drawn along a path: what it is, where it begins and ends, its corners.

What shares a place is drawn side by side: splices one under the other, wires that enter at one
place along the plate's edge. The butt of an extension stands on the path, as far from the post as
the extension is long.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import atan2
from typing import Literal

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.drawing.frame import Frame, Point, cut_line, line_length, point_along
from lugwright.plans.schema import Given, Jumper, Plan, Waypoint

SPLICE_STEP = 4.6  # units between splices at one place
ENTRY_STEP = 2.4  # units between wires that enter at one place
_JOIN_LEAST, _JOIN_MOST = 0.25, 0.75  # share of the path, so that both wires can be seen


@dataclass(frozen=True)
class Run:
    """One wire along its path. ``wire`` is its label, ``code`` its colour code.

    ``path`` are the true corners, mm as drawn; ``start`` and ``end`` where its two joints are
    drawn (an entry has no joint: ""). ``length_dmm`` 0: not cut to a length here.
    """

    wire: str
    kind: Literal["jumper", "extension", "given"]
    aboard: bool
    circuit: str
    colour: str
    code: str
    size: str
    from_joint: str
    to_joint: str
    path: tuple[Point, ...]
    start: Point
    end: Point
    length_dmm: int


def joint_places(plan: Plan, frame: Frame) -> dict[str, Point]:
    """Where every joint is drawn: posts at their centres, splices apart, joins on their path."""
    places = {post.id: frame.at(post.x_dmm, post.y_dmm) for post in plan.panel.posts}
    shared: dict[Point, list[str]] = {}
    for splice in plan.splices:
        shared.setdefault(frame.at(splice.at.x_dmm, splice.at.y_dmm), []).append(splice.label)
    for (x, y), labels in shared.items():
        for index, label in enumerate(labels):
            aside = (index - (len(labels) - 1) / 2) * SPLICE_STEP * frame.unit_mm
            places[label] = (x, y + aside)
    for jumper in plan.jumpers:
        if jumper.role == "extension":
            places[jumper.from_joint] = _join_place(jumper, frame)
    return places


def entry_places(
    plan: Plan, frame: Frame, towards: Mapping[str, Point] | None = None
) -> dict[str, Point]:
    """Where every wire from outside enters, by wire: those of one place beside each other.

    ``towards``: the place each wire makes for; they lie in the order of these, so that none
    crosses another at once. What goes nowhere stands last.
    """
    shared: dict[Point, list[str]] = {}
    for entry in plan.panel.entries:
        shared.setdefault(frame.at(entry.x_dmm, entry.y_dmm), []).append(entry.wire)
    found: dict[str, Point] = {}
    for (x, y), wires in shared.items():
        upright = min(x, frame.width_mm - x) < min(y, frame.height_mm - y)
        near_end = (x if upright else y) < (frame.width_mm if upright else frame.height_mm) / 2

        def order(
            wire: str, x: float = x, y: float = y, upright: bool = upright, near: bool = near_end
        ) -> tuple[bool, float, str]:
            if towards is None or wire not in towards:
                return (True, 0.0, wire)
            dx, dy = towards[wire][0] - x, towards[wire][1] - y
            along, across = (dy, dx) if upright else (dx, dy)
            return (False, atan2(along, across if near else -across), wire)

        for index, wire in enumerate(sorted(wires, key=order)):
            aside = (index - (len(wires) - 1) / 2) * ENTRY_STEP * frame.unit_mm
            found[wire] = (x, y + aside) if upright else (x + aside, y)
    return found


def runs_of(
    plan: Plan, frame: Frame, places: dict[str, Point], entries: dict[str, Point]
) -> tuple[Run, ...]:
    """Every jumper, then every given wire whose path is known."""
    jumpers = (_jumper_run(jumper, frame, places) for jumper in plan.jumpers)
    lengthened = {jumper.from_joint for jumper in plan.jumpers if jumper.role == "extension"}
    given = (
        _given_run(wire, frame, places, entries, wire.joint in lengthened)
        for wire in plan.given
        if wire.path
    )
    return (*jumpers, *given)


def corners(path: Iterable[Waypoint], frame: Frame) -> tuple[Point, ...]:
    """The corners of a path as drawn, each once."""
    found: list[Point] = []
    for waypoint in path:
        place = frame.at(waypoint.x_dmm, waypoint.y_dmm)
        if not found or found[-1] != place:
            found.append(place)
    return tuple(found)


def _join_place(jumper: Jumper, frame: Frame) -> Point:
    path = corners(jumper.path, frame)
    whole = line_length(path)
    from_post = min(max(jumper.length_dmm / DMM_PER_MM, _JOIN_LEAST * whole), _JOIN_MOST * whole)
    return point_along(path, whole - from_post)


def _jumper_run(jumper: Jumper, frame: Frame, places: dict[str, Point]) -> Run:
    path = corners(jumper.path, frame)
    start = places.get(jumper.from_joint, path[0])
    end = places.get(jumper.to_joint, path[-1])
    if jumper.role == "extension":
        _, path = cut_line(path, _way_to(path, start))
    return Run(
        wire=jumper.label,
        kind=jumper.role,
        aboard=jumper.stage == "aboard",
        circuit=jumper.circuit,
        colour=jumper.colour,
        code=jumper.colour_code,
        size=jumper.wire_size,
        from_joint=jumper.from_joint,
        to_joint=jumper.to_joint,
        path=path,
        start=start,
        end=end,
        length_dmm=jumper.length_dmm,
    )


def _given_run(
    wire: Given,
    frame: Frame,
    places: dict[str, Point],
    entries: dict[str, Point],
    lengthened: bool,
) -> Run:
    path = corners(wire.path, frame)
    end = places.get(wire.joint, path[-1])
    if lengthened:
        path, _ = cut_line(path, _way_to(path, end))
    return Run(
        wire=wire.wire,
        kind="given",
        aboard=wire.stage == "aboard",
        circuit=wire.circuit,
        colour=wire.colour,
        code=wire.colour_code,
        size=wire.wire_size,
        from_joint="",
        to_joint=wire.joint,
        path=path,
        start=entries.get(wire.wire, path[0]),
        end=end,
        length_dmm=0,
    )


def _way_to(path: tuple[Point, ...], place: Point) -> float:
    """How far along the path a place on it lies, mm."""
    best, way, gone = float("inf"), 0.0, 0.0
    for a, b in pairwise(path):
        leg = line_length((a, b))
        share = (
            ((place[0] - a[0]) * (b[0] - a[0]) + (place[1] - a[1]) * (b[1] - a[1])) / leg**2
            if leg
            else 0.0
        )
        share = min(max(share, 0.0), 1.0)
        off = line_length((place, point_along((a, b), share * leg)))
        if off < best - 1e-9:
            best, way = off, gone + share * leg
        gone += leg
    return way
