"""The line every wire is drawn along: in its lane where it shares a way, round foreign posts.

A line begins and ends exactly where its two joints are drawn. All in drawing mm, y down; "left"
is left of the wire's own way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import atan2, cos, hypot, sin

from lugwright.outputs.drawing.frame import Point, distance
from lugwright.outputs.drawing.lanes import Track, canonical, lanes_of, tracks_of
from lugwright.outputs.drawing.runs import Run

LANE = 1.5  # units from wire to wire, side by side
POST = 1.25  # radius of a post's mark, units
CLEAR = POST + 1.1  # from a foreign post's centre to a wire that passes it, units
_LEAD = 4.0  # units over which a wire leaves its joint for its lane
_STRAIGHT, _BACK = 0.45, 2.6  # radians: below, a corner is rounded to one point; above, a return


def drawn_lines(
    runs: Sequence[Run], posts: Sequence[Point], unit_mm: float
) -> list[tuple[Point, ...]]:
    """One line per wire, in their order."""
    tracks = tracks_of([run.path for run in runs], posts, CLEAR * unit_mm)
    lanes = lanes_of(tracks)
    aside = _asides(tracks, lanes, unit_mm)
    lines = []
    for index, (run, track) in enumerate(zip(runs, tracks, strict=True)):
        off = [lane * LANE * unit_mm for lane in lanes[index]]
        lines.append(_line(run, track, off, aside.get(index, {}), unit_mm))
    return _apart(lines, unit_mm)


def _asides(
    tracks: Sequence[Track], lanes: Sequence[Sequence[float]], unit_mm: float
) -> dict[int, dict[Point, float]]:
    """How far to its left each wire passes each foreign post: those on one side nest."""
    ending = _lanes_of_ends(tracks, lanes)
    sides: dict[tuple[Point, bool], list[tuple[float, int, int]]] = {}
    for index, track in enumerate(tracks):
        for step, post in enumerate(track.nodes[1:-1], 1):
            if post not in track.passed:
                continue
            before, after = track.stretches[step - 1], track.stretches[step]
            away = [
                lanes[index][at] - way * ending[canonical(stretch), post]
                for at, stretch in ((step - 1, before), (step, after))
                if (way := 1 if canonical(stretch) == stretch else -1)
                and (canonical(stretch), post) in ending
            ]
            base = sum(away) or (lanes[index][step - 1] + lanes[index][step]) / 2
            left = base > 0 if base else track.passed[post].left_mm <= 0
            # one frame for both directions, so that wires on the same side are counted together
            way = 1 if canonical(before) == before else -1
            sides.setdefault((post, left == (way > 0)), []).append((abs(base), index, way))
    found: dict[int, dict[Point, float]] = {}
    for (post, left), inside in sorted(sides.items()):
        for rank, (_, index, way) in enumerate(sorted(inside)):
            off = (CLEAR + rank * LANE) * unit_mm
            found.setdefault(index, {})[post] = off * way * (1 if left else -1)
    return found


def _lanes_of_ends(
    tracks: Sequence[Track], lanes: Sequence[Sequence[float]]
) -> dict[tuple[tuple[Point, Point], Point], float]:
    """The lane, in the stretch's own frame, of a wire that ends at the end of that stretch."""
    found: dict[tuple[tuple[Point, Point], Point], float] = {}
    for track, lane_list in zip(tracks, lanes, strict=True):
        if not lane_list:
            continue
        for at, end in ((0, track.nodes[0]), (-1, track.nodes[-1])):
            stretch = track.stretches[at]
            way = 1 if canonical(stretch) == stretch else -1
            found.setdefault((canonical(stretch), end), way * lane_list[at])
    return found


def _line(
    run: Run, track: Track, lanes: Sequence[float], aside: Mapping[Point, float], unit_mm: float
) -> tuple[Point, ...]:
    points = [run.start]
    stretches = track.stretches
    for index, (a, b) in enumerate(stretches):
        ux, uy, leg = _way(a, b)
        lead = min(_LEAD * unit_mm, leg / 3)
        off = lanes[index]
        if index == 0 and off:
            points.append((a[0] + ux * lead + uy * off, a[1] + uy * lead - ux * off))
        if index + 1 < len(stretches):
            points.extend(_corner(track, index, lanes, aside))
        elif off:
            points.append((b[0] - ux * lead + uy * off, b[1] - uy * lead - ux * off))
    points.append(run.end)
    return _tidy(points)


def _corner(
    track: Track, index: int, lanes: Sequence[float], aside: Mapping[Point, float]
) -> list[Point]:
    """The points with which a wire goes from one stretch to the next."""
    a, here, b = track.nodes[index : index + 3]
    ux, uy, _ = _way(a, here)
    vx, vy, _ = _way(here, b)
    off, then = lanes[index], lanes[index + 1]
    turn = atan2(vx * uy - vy * ux, ux * vx + uy * vy)  # left positive, y down
    if here in aside:
        wx, wy, _ = _way((0, 0), (ux + vx, uy + vy))
        return [(here[0] + wy * aside[here], here[1] - wx * aside[here])]
    if abs(turn) > _BACK:
        ends = [
            (here[0] + uy * off, here[1] - ux * off),
            (here[0] + vy * then, here[1] - vx * then),
        ]
        return ends if off or then else [here]
    if abs(turn) < _STRAIGHT:
        middle = (off + then) / 2
        wx, wy, _ = _way((0, 0), (ux + vx, uy + vy))
        return [(here[0] + wy * middle, here[1] - wx * middle)]
    # where the two lanes meet, as the way along the first one
    along = (then - off * cos(turn)) / sin(turn) if turn else 0.0
    limit = 3 * max(abs(off), abs(then))
    along = -min(max(along, -limit), limit)
    return [(here[0] + uy * off + ux * along, here[1] - ux * off + uy * along)]


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


def _apart(lines: Sequence[tuple[Point, ...]], unit_mm: float) -> list[tuple[Point, ...]]:
    """Corners of different wires that fell on one place are moved apart, outwards of the bend."""
    taken: list[Point] = []
    step, found = LANE * unit_mm, []
    for line in lines:
        points = list(line)
        for index in range(1, len(points) - 1):
            ox, oy = _outwards(points[index - 1], points[index], points[index + 1])
            for _ in range(12):
                if all(distance(points[index], other) >= step * 0.7 for other in taken):
                    break
                x, y = points[index]
                points[index] = (round(x + ox * step, 2), round(y + oy * step, 2))
        taken.extend(points[1:-1])
        found.append(tuple(points))
    return found


def _outwards(a: Point, here: Point, b: Point) -> Point:
    """The direction away from the inside of a bend."""
    ux, uy, _ = _way(a, here)
    vx, vy, _ = _way(here, b)
    x, y, size = _way((0, 0), (ux - vx, uy - vy))
    return (x, y) if size > 0.05 else (uy, -ux)
