"""How wires go round the posts they only pass: on which side, and how far.

A wire goes past a post on the side of its own lane; where it has none, on the side it truly lies.
Wires on the same side nest. Between two posts close together a wire keeps to the middle.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lugwright.outputs.drawing.frame import Point, distance
from lugwright.outputs.drawing.lanes import Stretch, Track, canonical

LANE = 1.5  # units from wire to wire, side by side
POST = 1.25  # radius of a post's mark, units
CLEAR = POST + 1.1  # from a foreign post's centre to a wire that passes it, units


@dataclass(frozen=True, order=True)
class _Passing:
    """One wire past one post. ``base``: how far to that side its lanes lie; ``way`` 1 or -1."""

    base: float
    wire: int
    way: int
    normal: Point


def asides(
    tracks: Sequence[Track],
    lanes: Sequence[Sequence[float]],
    posts: Sequence[Point],
    unit_mm: float,
) -> dict[int, dict[Point, float]]:
    """By wire and post: how far to its own left the wire passes, mm (negative: right)."""
    ending = _lanes_of_ends(tracks, lanes)
    sides: dict[tuple[Point, bool], list[_Passing]] = {}
    for index, track in enumerate(tracks):
        for step, post in enumerate(track.nodes[1:-1], 1):
            if post in track.passed:
                left, passing = _passing(index, step, track, lanes[index], ending)
                sides.setdefault((post, left), []).append(passing)
    found: dict[int, dict[Point, float]] = {}
    for (post, left), inside in sorted(sides.items()):
        side = 1 if left else -1
        for rank, each in enumerate(sorted(inside)):
            off = (CLEAR + rank * LANE) * unit_mm
            room = _room(post, (each.normal[0] * side, each.normal[1] * side), posts)
            found.setdefault(each.wire, {})[post] = min(off, room) * each.way * side
    return found


def _passing(
    index: int,
    step: int,
    track: Track,
    lanes: Sequence[float],
    ending: Mapping[tuple[Stretch, Point], float],
) -> tuple[bool, _Passing]:
    """Whether the wire passes left of the post, and how; left is that of the stretch before it.

    The stretch is taken in its one direction, so that wires of both ways are counted together.
    """
    post, before, after = track.nodes[step], track.stretches[step - 1], track.stretches[step]
    base, seen = 0.0, False
    for lane, stretch in ((lanes[step - 1], before), (lanes[step], after)):
        way = 1 if canonical(stretch) == stretch else -1
        if (canonical(stretch), post) in ending:
            base, seen = base + lane - way * ending[canonical(stretch), post], True
    if not seen or not base:
        base = (lanes[step - 1] + lanes[step]) / 2
    own_left = base > 0 if base else track.passed[post].left_mm <= 0
    (ax, ay), (bx, by) = canonical(before)
    size = distance((ax, ay), (bx, by))
    way = 1 if canonical(before) == before else -1
    return own_left == (way > 0), _Passing(
        abs(base), index, way, ((by - ay) / size, (ax - bx) / size)
    )


def _room(post: Point, side: Point, posts: Sequence[Point]) -> float:
    """Half the way to the next post on that side, mm."""
    best = float("inf")
    for x, y in posts:
        dx, dy = x - post[0], y - post[1]
        along, across = dx * side[0] + dy * side[1], dx * side[1] - dy * side[0]
        if along > abs(across):
            best = min(best, along)
    return best / 2


def _lanes_of_ends(
    tracks: Sequence[Track], lanes: Sequence[Sequence[float]]
) -> dict[tuple[Stretch, Point], float]:
    """The lane, in the stretch's own frame, of a wire that ends at the end of that stretch."""
    found: dict[tuple[Stretch, Point], float] = {}
    for track, lane_list in zip(tracks, lanes, strict=True):
        if not lane_list:
            continue
        for at, end in ((0, track.nodes[0]), (-1, track.nodes[-1])):
            stretch = track.stretches[at]
            way = 1 if canonical(stretch) == stretch else -1
            found.setdefault((canonical(stretch), end), way * lane_list[at])
    return found
