"""Which stretches wires share, and in which lane each of them lies there.

A wire's corners are its nodes. A wire that passes close by a foreign post, or runs along the
corner of another wire, gets that place as a node too, so that shared stretches are found as
equal pairs of nodes. On a shared stretch the wires lie side by side, ordered so that two wires
do not cross where one order would do: a wire that turns off to the left lies on the left.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cmp_to_key
from itertools import pairwise
from math import atan2, hypot, pi

from lugwright.outputs.drawing.frame import Point, distance

Stretch = tuple[Point, Point]
_ALONG = 0.2  # sine of the angle under which two legs count as running along each other
_SAME_WAY = 0.05  # radians under which two turns count as one
_SHORT = 2.0  # times the clearance: a leg shorter than that is too short to run along


@dataclass(frozen=True)
class Passed:
    """A post that a wire passes: how far to the wire's left it truly lies (negative: right)."""

    left_mm: float


@dataclass(frozen=True)
class Track:
    """One wire's nodes, and which of them are posts it only passes."""

    nodes: tuple[Point, ...]
    passed: Mapping[Point, Passed]

    @property
    def stretches(self) -> list[Stretch]:
        """Its stretches in its own direction."""
        return list(zip(self.nodes, self.nodes[1:], strict=False))


def tracks_of(
    paths: Sequence[Sequence[Point]], posts: Sequence[Point], clear_mm: float
) -> list[Track]:
    """Nodes of every path. ``clear_mm``: closer than that, a wire is drawn round a post."""
    legs_at: dict[Point, list[Point]] = {}
    for path in paths:
        for before, here, after in zip(path, path[1:], path[2:], strict=False):
            long = [p for p in (before, after) if distance(here, p) >= _SHORT * clear_mm]
            legs_at.setdefault(here, []).extend(long)
    foreign = sorted(set(posts))
    return [_track(path, foreign, legs_at, clear_mm) for path in paths]


def _track(
    path: Sequence[Point],
    posts: Sequence[Point],
    legs_at: Mapping[Point, list[Point]],
    clear_mm: float,
) -> Track:
    nodes, passed = [path[0]], dict[Point, Passed]()
    own = set(path)
    for a, b in pairwise(path):
        found = [
            (way, post, left) for way, post, left in _near(a, b, posts, clear_mm) if post not in own
        ]
        for _, post, left in found:
            passed[post] = Passed(left)
        met = [
            (way, corner, 0.0)
            for way, corner, _ in _near(a, b, list(legs_at), clear_mm / 4)
            if corner not in own and any(_along(a, b, corner, leg) for leg in legs_at[corner])
        ]
        for _, node, _ in sorted({*found, *met}):
            if node != nodes[-1]:
                nodes.append(node)
        nodes.append(b)
    return Track(tuple(nodes), passed)


def _near(
    a: Point, b: Point, places: Sequence[Point], within: float
) -> list[tuple[float, Point, float]]:
    """Places beside a leg: how far along it, which, and how far to its left."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    leg = hypot(dx, dy)
    if not leg:
        return []
    ux, uy = dx / leg, dy / leg
    found = []
    for place in places:
        px, py = place[0] - a[0], place[1] - a[1]
        left = px * uy - py * ux  # y is down: left of the way is this side
        if -within < left < within and within * 0.5 < (way := px * ux + py * uy) < leg - within / 2:
            found.append((way, place, left))
    return found


def _along(a: Point, b: Point, corner: Point, leg_end: Point) -> bool:
    """Whether a leg of another wire, from its corner, runs along the leg a to b."""
    ux, uy = b[0] - a[0], b[1] - a[1]
    vx, vy = leg_end[0] - corner[0], leg_end[1] - corner[1]
    size = hypot(ux, uy) * hypot(vx, vy)
    return bool(size) and abs(ux * vy - uy * vx) < _ALONG * size


def canonical(stretch: Stretch) -> Stretch:
    """The same stretch for both directions."""
    a, b = stretch
    return stretch if a <= b else (b, a)


def lanes_of(tracks: Sequence[Track]) -> list[list[float]]:
    """For every track and stretch its lane: how many lanes to the left of the middle it lies."""
    users: dict[Stretch, list[int]] = {}
    for index, track in enumerate(tracks):
        for stretch in track.stretches:
            inside = users.setdefault(canonical(stretch), [])
            if index not in inside:
                inside.append(index)
    lanes: dict[tuple[Stretch, int], float] = {}
    for stretch, inside in users.items():
        order = _ordered(stretch, inside, tracks)
        for place, index in enumerate(order):
            lanes[stretch, index] = (len(order) - 1) / 2 - place
    return [
        [
            lanes[canonical(stretch), index] * (1 if canonical(stretch) == stretch else -1)
            for stretch in track.stretches
        ]
        for index, track in enumerate(tracks)
    ]


def _ordered(stretch: Stretch, inside: list[int], tracks: Sequence[Track]) -> list[int]:
    """The wires of a stretch from left to right."""
    if len(inside) < 2:
        return inside

    def compare(one: int, other: int) -> int:
        return -1 if _is_left(stretch, one, other, tracks) else 1

    return sorted(inside, key=cmp_to_key(compare))


def _is_left(stretch: Stretch, one: int, other: int, tracks: Sequence[Track]) -> bool:
    """Whether wire ``one`` lies left of ``other`` along a stretch both use.

    Where they part decides: the end that lies further left on the sheet first, so that every
    stretch the two share gets the same answer.
    """
    ahead = _parting(stretch, tracks[one].nodes, tracks[other].nodes)
    back = _parting((stretch[1], stretch[0]), tracks[one].nodes, tracks[other].nodes)
    ends = sorted(((ahead[0], ahead[1]), (back[0], -back[1])))
    for _, turn in ends:
        if abs(turn) > _SAME_WAY:
            return turn > 0
    return (one < other) == (ahead[0] >= back[0])


def _parting(stretch: Stretch, one: Sequence[Point], other: Sequence[Point]) -> tuple[Point, float]:
    """Where two wires part beyond a stretch, and how much further left ``one`` turns there."""
    before, here = stretch
    ways = [_beyond(stretch, nodes) for nodes in (one, other)]
    step = 0
    while True:
        nexts = [way[step] if step < len(way) else None for way in ways]
        if nexts[0] is None or nexts[0] != nexts[1]:
            break
        before, here, step = here, nexts[0], step + 1
    turns = [_turn(before, here, place) if place else 0.0 for place in nexts]
    return here, turns[0] - turns[1]


def _beyond(stretch: Stretch, nodes: Sequence[Point]) -> Sequence[Point]:
    """The nodes of a wire behind the stretch's end, in the stretch's direction."""
    for a, b, rest in (
        (nodes[i], nodes[i + 1], (nodes[i + 2 :], nodes[:i][::-1])) for i in range(len(nodes) - 1)
    ):
        if (a, b) == stretch:
            return rest[0]
        if (b, a) == stretch:
            return rest[1]
    return ()


def _turn(before: Point, here: Point, after: Point) -> float:
    """How far the way turns to the left at ``here``, radians."""
    into = atan2(-(here[1] - before[1]), here[0] - before[0])
    out = atan2(-(after[1] - here[1]), after[0] - here[0])
    turn = out - into
    return turn - 2 * pi if turn > pi else turn + 2 * pi if turn <= -pi else turn
