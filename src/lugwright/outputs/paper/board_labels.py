"""Where each label of the build board stands: none over another, none over a peg.

Places are tried by the drawings' own placing; on paper at 1:1 there is room, so a label may go
far from what it names before it may cover anything, and a thin line then leads back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, count
from math import cos, pi, sin

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import (
    Box,
    Point,
    box_at,
    distance,
    line_length,
    point_along,
)
from lugwright.outputs.drawing.placing import Label, Placed, Spot, placed
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.paper.board_words import (
    LETTER_MM,
    end_line,
    given_lines,
    keep_out_lines,
    name_lines,
    post_lines,
    splice_lines,
    tie_lines,
    unused_lines,
    wire_lines,
)
from lugwright.outputs.paper.fonts import text_width
from lugwright.outputs.paper.lettering import LEADING
from lugwright.outputs.paper.pegs import PIN_DMM, peg_dmm

PAD_MM = 0.5
_ROUND = 16
_RINGS_MM = (2.5, 4.5, 7.0, 10.0, 14.0, 20.0, 28.0, 40.0, 56.0)
_RING_PRICE = 0.2
_ALONG_MM = 2.0
_CELL_MM = 20.0
_STUB_MM = 9.0
_EDGE_MM = 1.0  # from the plate's edge to a label
_MARK_MM = 10.0
_UNIT_MM, _WORST = 1.5, 60.0  # a board has room: a dear place is better than none


def placed_labels(scene: Scene, marks: Sequence[Point] = ()) -> tuple[list[Placed], list[Label]]:
    """Every label with its place, and those for which the plate has no room left.

    ``marks`` are places that stay free (register crosses), mm.
    """
    crowd = Crowd(_CELL_MM)
    for post in scene.plan.panel.posts:
        size = (peg_dmm(post) or PIN_DMM) / DMM_PER_MM + 1.0
        crowd.add_box(box_at(scene.places[post.id], size, size))
    for mark in marks:
        crowd.add_box(box_at(mark, _MARK_MM, _MARK_MM))
    for run, line in zip(scene.runs, scene.lines, strict=True):
        crowd.add_line(line, run.wire)
    for wire, stub in stubs_of(scene).items():
        crowd.add_line(stub, wire)
    frame = scene.frame
    plate = Box(_EDGE_MM, _EDGE_MM, frame.width_mm - _EDGE_MM, frame.height_mm - _EDGE_MM)
    return placed((_on(plate, label) for label in _labels(scene)), crowd, plate, _UNIT_MM, _WORST)


def _on(plate: Box, label: Label) -> Label:
    """The label with only those places that lie on the plate: what hangs over is cut off."""

    def holds(spot: Spot) -> bool:
        box = box_at(spot.centre, label.wide_mm, label.high_mm)
        return plate.holds((box.x0, box.y0)) and plate.holds((box.x1, box.y1))

    return replace(label, spots=list(filter(holds, label.spots)))


def _labels(scene: Scene) -> Iterator[Label]:
    """Ends first, since they must stand at their ends; what can go further comes later."""
    yield from _end_labels(scene)
    yield from _post_labels(scene)
    yield from _joint_labels(scene)
    yield from _name_labels(scene)
    yield from _wire_labels(scene)
    yield from _outside_labels(scene)


def _label(
    key: tuple[str, ...], lines: tuple[str, ...], spots: Iterable[Spot], owner: str = ""
) -> Label:
    wide, high = label_size(lines)
    return Label(key, lines, wide, high, list(spots), owner=owner)


def label_size(lines: Sequence[str]) -> tuple[float, float]:
    """Width and height of a label with its white edge, mm."""
    wide = max(text_width(line, LETTER_MM) for line in lines) + 2 * PAD_MM
    return wide, LETTER_MM * (1 + LEADING * (len(lines) - 1)) + 2 * PAD_MM


def _end_labels(scene: Scene) -> Iterator[Label]:
    """A tag at each end of each jumper, on its own line as near to the end as may be."""
    jumpers = {jumper.label: jumper for jumper in scene.plan.jumpers}
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if run.wire not in jumpers:
            continue
        for end, away in (("A", line), ("B", line[::-1])):
            lines = (end_line(jumpers[run.wire], end),)
            key = ("end", run.wire, end)
            yield _label(key, lines, _end_spots(away, lines), owner=run.wire)


def _end_spots(away: Sequence[Point], lines: tuple[str, ...]) -> Iterator[Spot]:
    """Along the wire from its end, up to its middle; then beside it."""
    wide, high = label_size(lines)
    most = line_length(away) * 0.45
    for step in count():
        way = 3.0 + step * _ALONG_MM / 2
        if way > most:
            break
        yield Spot(point_along(away, way), step * 0.1)
    for way in (4.0, 8.0, 12.0, 18.0):
        yield from _around(point_along(away, min(way, most)), wide, high, 2.0)


def _wire_labels(scene: Scene) -> Iterator[Label]:
    """Each jumper in full, on or near the middle of its line."""
    jumpers = {jumper.label: jumper for jumper in scene.plan.jumpers}
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if run.wire in jumpers:
            lines = wire_lines(jumpers[run.wire])
            yield _label(("wire", run.wire), lines, _middle_spots(line, lines), owner=run.wire)


def _middle_spots(line: Sequence[Point], lines: tuple[str, ...]) -> Iterator[Spot]:
    """Along the wire from its middle to both ends; then round some places of it."""
    wide, high = label_size(lines)
    whole = line_length(line)
    for step in range(int(whole * 0.4 / _ALONG_MM) + 1):
        for way in {whole / 2 + step * _ALONG_MM, whole / 2 - step * _ALONG_MM}:
            yield Spot(point_along(line, way), step * 0.05)
    for share in (0.5, 0.35, 0.65):
        yield from _around(point_along(line, whole * share), wide, high, 1.0)


def _post_labels(scene: Scene) -> Iterator[Label]:
    for post in scene.plan.panel.posts:
        lines = post_lines(post)
        wide, high = label_size(lines)
        near = _around(scene.places[post.id], wide, high, 0.0)
        yield _label(("post", post.id), lines, near)


def _joint_labels(scene: Scene) -> Iterator[Label]:
    """Splices, and the butts of extensions."""
    named = [(splice.label, splice_lines(scene.plan, splice)) for splice in scene.plan.splices]
    named += [
        (jumper.from_joint, (f"butt of {end_line(jumper, 'A')}",))
        for jumper in scene.plan.jumpers
        if jumper.role == "extension"
    ]
    for joint, lines in named:
        wide, high = label_size(lines)
        yield _label(("joint", joint), lines, _around(scene.places[joint], wide, high, 0.0))


def _name_labels(scene: Scene) -> Iterator[Label]:
    """Instruments in or at their bodies, tie points and keep-outs at theirs."""
    for one in scene.plan.panel.instruments:
        lines = name_lines(one)
        wide, high = label_size(lines)
        x, y = scene.frame.at(one.x_dmm, one.y_dmm)
        half = max(one.body_dmm, one.body_width_dmm) / DMM_PER_MM / 2
        inside = [
            Spot((x + dx * half / 4, y + dy * half / 4), 0.2 * (abs(dx) + abs(dy)))
            for dy in range(-3, 4)
            for dx in range(-2, 3)
        ]
        yield _label(("name", one.name), lines, chain(inside, _around((x, y), wide, high, 4.0)))
    for tie in scene.plan.panel.tie_points:
        lines = tie_lines(scene.plan, tie)
        at = scene.frame.at(tie.x_dmm, tie.y_dmm)
        yield _label(("tie", tie.name), lines, _around(at, *label_size(lines), 0.0))
    for area in scene.plan.panel.keep_outs:
        lines = keep_out_lines(area)
        at = scene.frame.at((area.x0_dmm + area.x1_dmm) // 2, (area.y0_dmm + area.y1_dmm) // 2)
        spots = chain([Spot(at, 0.0)], _around(at, *label_size(lines), 0.5))
        yield _label(("keep-out", area.name), lines, spots)


def _outside_labels(scene: Scene) -> Iterator[Label]:
    """Given wires at their entry, or at their post where no entry is stated; unused pigtails."""
    stubs = stubs_of(scene)
    for given in scene.plan.given:
        at = stubs[given.wire][-1] if given.wire in stubs else scene.entries.get(given.wire)
        if at:
            lines = given_lines(given)
            spots = _around(at, *label_size(lines), 0.0)
            yield _label(("given", given.wire), lines, spots, owner=given.wire)
    used = {given.wire for given in scene.plan.given}
    for entry in scene.plan.panel.entries:
        if entry.wire not in used:
            lines = unused_lines(entry)
            spots = _around(scene.entries[entry.wire], *label_size(lines), 0.0)
            yield _label(("given", entry.wire), lines, spots)


def stubs_of(scene: Scene) -> dict[str, tuple[Point, Point]]:
    """Short ends for wires that arrive on no stated way: from their post towards freer ground."""
    stubs: dict[str, tuple[Point, Point]] = {}
    for given in scene.plan.given:
        if not given.path and given.joint in scene.places:
            at = scene.places[given.joint]
            stubs[given.wire] = (at, _freest(at, scene, [end for _, end in stubs.values()]))
    return stubs


def _freest(at: Point, scene: Scene, taken: Sequence[Point]) -> Point:
    """The end of a stub that lies furthest from posts, wires' corners and other stubs."""
    ends = [
        (at[0] + _STUB_MM * cos(2 * pi * k / _ROUND), at[1] + _STUB_MM * sin(2 * pi * k / _ROUND))
        for k in range(_ROUND)
    ]
    others = [place for place in scene.places.values() if place != at] + list(taken)
    lines = [line for line in scene.lines if min(distance(at, p) for p in line) < 3 * _STUB_MM]
    others += [point_along(line, way) for line in lines for way in range(0, 60, 3)]
    near = [other for other in others if 0.1 < distance(at, other) < 3 * _STUB_MM]
    return max(ends, key=lambda end: (min([distance(end, one) for one in near] or [99.0]), end))


def _around(at: Point, wide: float, high: float, price: float) -> Iterator[Spot]:
    """Places on rings round a place, each with a line back to it; further is dearer."""
    x, y = at
    for ring, far in enumerate(_RINGS_MM):
        for k in range(_ROUND):
            dx, dy = cos(2 * pi * k / _ROUND), sin(2 * pi * k / _ROUND)
            centre = (x + dx * (far + wide / 2), y + dy * (far + high / 2))
            yield Spot(centre, price + 0.3 * ring + _RING_PRICE * far / 4, at)
