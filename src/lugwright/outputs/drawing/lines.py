"""The line every wire is drawn along: in its lane where it shares a way, round foreign posts.

A line begins and ends exactly where its two joints are drawn. All in drawing mm, y down; "left"
is left of the wire's own way.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import atan2, cos, hypot, sin

from lugwright.outputs.drawing.frame import Point, distance
from lugwright.outputs.drawing.lanes import Track, canonical, lanes_of, tracks_of
from lugwright.outputs.drawing.passing_posts import CLEAR, LANE, asides
from lugwright.outputs.drawing.runs import Run

_LEAD = 4.0  # units over which a wire leaves its joint for its lane
_STRAIGHT, _SHARP = 0.45, 1.9  # radians: a bend below is none, a bend above is cut off blunt
_SAME_LANE = 0.3  # units: nearer lanes need no change from one to the other


def drawn_lines(
    runs: Sequence[Run], posts: Sequence[Point], unit_mm: float
) -> list[tuple[Point, ...]]:
    """One line per wire, in their order."""
    tracks = tracks_of([run.path for run in runs], posts, CLEAR * unit_mm)
    lanes = lanes_of(tracks)
    aside = asides(tracks, lanes, posts, unit_mm)
    nested = _nested(tracks, unit_mm)
    lines = []
    for index, (run, track) in enumerate(zip(runs, tracks, strict=True)):
        off = [lane * LANE * unit_mm for lane in lanes[index]]
        lines.append(_line(run, track, off, aside.get(index, {}), nested.get(index, {}), unit_mm))
    return lines


def _nested(tracks: Sequence[Track], unit_mm: float) -> dict[int, dict[Point, float]]:
    """How far outwards of its bend each wire keeps where several go round one corner alone.

    Wires that share a stretch there have their lanes already.
    """
    users = Counter(canonical(stretch) for track in tracks for stretch in track.stretches)
    corners: dict[Point, list[int]] = {}
    for index, track in enumerate(tracks):
        for before, after in pairwise(track.stretches):
            alone = users[canonical(before)] == 1 == users[canonical(after)]
            if alone and before[1] not in track.passed:
                corners.setdefault(before[1], []).append(index)
    found: dict[int, dict[Point, float]] = {}
    for corner, inside in corners.items():
        for rank, index in enumerate(inside):
            found.setdefault(index, {})[corner] = rank * LANE * unit_mm
    return found


def _line(
    run: Run,
    track: Track,
    lanes: Sequence[float],
    aside: Mapping[Point, float],
    nested: Mapping[Point, float],
    unit_mm: float,
) -> tuple[Point, ...]:
    points = [run.start]
    stretches = track.stretches
    for index, (a, b) in enumerate(stretches):
        way, off = _way(a, b), lanes[index]
        lead = min(_LEAD * unit_mm, way[2] / 3)
        if index == 0 and off:
            points.append(_ahead(_left_of(a, way, off), way, lead))
        if index + 1 == len(stretches):
            if off:
                points.append(_ahead(_left_of(b, way, off), way, -lead))
        elif b in aside:
            after = _way(*stretches[index + 1])
            middle = _way((0, 0), (way[0] + after[0], way[1] + after[1]))
            points.append(_left_of(b, middle, aside[b]))
        elif nested.get(b):
            out = _outwards(a, b, stretches[index + 1][1])
            points.append((b[0] + out[0] * nested[b], b[1] + out[1] * nested[b]))
        else:
            points.extend(_corner(track.nodes[index : index + 3], off, lanes[index + 1], unit_mm))
    points.append(run.end)
    return _tidy(points)


def _corner(nodes: Sequence[Point], off: float, then: float, unit_mm: float) -> list[Point]:
    """The points with which a wire goes from one stretch in its lane to the next."""
    a, here, b = nodes
    into, out = _way(a, here), _way(here, b)
    (ux, uy, _), (vx, vy, _) = into, out
    turn = atan2(vx * uy - vy * ux, ux * vx + uy * vy)  # left positive, y down
    before, after = _left_of(here, into, off), _left_of(here, out, then)
    if abs(turn) < _STRAIGHT:
        if abs(off - then) < _SAME_LANE * unit_mm:
            middle = _way((0, 0), (ux + vx, uy + vy))
            return [_left_of(here, middle, (off + then) / 2)]
        lead = [min(_LEAD * unit_mm, leg / 3) for leg in (into[2], out[2])]
        return [_ahead(before, into, -lead[0]), _ahead(after, out, lead[1])]
    # where the two lanes meet, as the way along the first one
    along = (off * cos(turn) - then) / sin(turn)
    if abs(turn) < _SHARP and abs(along) <= 2 * max(abs(off), abs(then)) + 1e-9:
        return [_ahead(before, into, along)]
    return [before, after] if off or then else [here]


def _ahead(place: Point, way: tuple[float, float, float], by_mm: float) -> Point:
    """A place so far along a way."""
    return (place[0] + way[0] * by_mm, place[1] + way[1] * by_mm)


def _left_of(place: Point, way: tuple[float, float, float], off: float) -> Point:
    """A place so far to the left of a way, y down."""
    return (place[0] + way[1] * off, place[1] - way[0] * off)


def _way(a: Point, b: Point) -> tuple[float, float, float]:
    """Direction and length from a to b; no length: to the right."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    leg = hypot(dx, dy)
    return (dx / leg, dy / leg, leg) if leg else (1.0, 0.0, 0.0)


def _tidy(points: Sequence[Point]) -> tuple[Point, ...]:
    """To 0.01 mm, the ends kept as they are, no point twice in a row."""
    found = [points[0]]
    for x, y in points[1:-1]:
        point = (round(x, 2), round(y, 2))
        if distance(point, found[-1]) > 0.02:
            found.append(point)
    if len(found) > 1 and distance(found[-1], points[-1]) <= 0.02:
        found.pop()
    return (*found, points[-1])


def _outwards(a: Point, here: Point, b: Point) -> Point:
    """The direction away from the inside of a bend."""
    ux, uy, _ = _way(a, here)
    vx, vy, _ = _way(here, b)
    x, y, size = _way((0, 0), (ux - vx, uy - vy))
    return (x, y) if size > 0.05 else (uy, -ux)
