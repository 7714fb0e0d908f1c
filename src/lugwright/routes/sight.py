"""The visibility graph of one layer of obstacles, and the shortest ways through it.

A way runs along tangents: lines that only bear on outlines (any text on computational geometry:
a taut string round convex obstacles turns only at their corners, along tangents). Lines are
weighed by their plane length rounded up, so lengths are exact integers.

Of equally short ways it is the one whose last corner, seen from the joint at the lesser place
(x, y, z, then id), has the lesser (x, y), and so on back to that joint.

What is asked of many joints is found for all of them at once, in arrays, and kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from lugwright.routes.arrays import Flags, Indices, Whole, plane_lengths_dmm
from lugwright.routes.errors import NoPath
from lugwright.routes.geometry import Outline, Place, cuts
from lugwright.routes.many_lines import Outlines
from lugwright.routes.many_ways import FAR, Graph, Lengths, Table
from lugwright.routes.nuts import Circle, come_inside
from lugwright.routes.obstacles import Joint, Layer, Spot
from lugwright.routes.shortest import START

SHUT = -1  # in place of a length: there is no way
_NO_LIMIT = 1 << 40  # a square larger than that of any circle


@dataclass(frozen=True)
class _View:
    """What is seen from a joint.

    ``exits``: the corners it can be led to straight, by number, and ``exit_dmm`` how far each is.
    By corner, ``away_dmm`` is the shortest way there (``FAR``: none) and ``before`` the corner
    before it on that way (``START``: none).
    """

    exits: Indices
    exit_dmm: Table
    away_dmm: Table
    before: Table


@dataclass(frozen=True)
class _Net:
    """The graph: ``places`` of its corners in order, ``number`` of each corner of an outline.

    ``covers``: which outlines (rows) hold each corner (column) inside; ``covered``: how many do.
    """

    places: list[Place]
    number: Indices
    covers: Flags
    covered: Indices
    graph: Graph


class Sight:
    """One layer: which straight legs are cut in it, and the ways round."""

    def __init__(self, layer: Layer) -> None:
        self._layer = layer
        self._outlines = Outlines(layer.outlines)
        self._views: dict[Spot, _View] = {}

    def is_cut(self, joints: Sequence[Joint], pairs: Indices) -> Flags:
        """Of which pairs (rows of two numbers of joints) the straight leg is cut."""
        places = _places_of(joints)
        return self._are_cut(joints, pairs, places[pairs[:, 0]], places[pairs[:, 1]])

    def round_dmm(self, joints: Sequence[Joint], pairs: Indices) -> Whole:
        """Plane length of the shortest way round for each pair, ``SHUT`` where there is none."""
        self.look(joints, pairs)
        first, last = pairs.T
        firsts, row = np.unique(first, return_inverse=True)
        away_dmm = np.stack([self._views[joints[number].spot].away_dmm for number in firsts])
        found = np.empty(len(pairs), dtype=np.int64)
        by_last = np.argsort(last, kind="stable")
        lasts, starts = np.unique(last[by_last], return_index=True)
        for number, group in zip(lasts.tolist(), np.split(by_last, starts[1:]), strict=True):
            view = self._views[joints[number].spot]
            over = away_dmm[row[group][:, None], view.exits] + view.exit_dmm
            found[group] = over.min(axis=1, initial=FAR)
        return np.where(found < FAR, found, SHUT)

    def corners(self, a: Joint, b: Joint) -> list[Place]:
        """The corners of the shortest way round, ``a`` being the joint at the lesser place.

        Raises NoPath when there is none.
        """
        self.look((a, b), np.array([[0, 1]]))
        near, far = self._views[a.spot], self._views[b.spot]
        over = near.away_dmm[far.exits] + far.exit_dmm
        if over.min(initial=FAR) >= FAR:
            exceptions = self._layer.exceptions_of_both(a, b)
            cut = self._layer.cut_by(a.place, b.place, exceptions)
            raise NoPath(a.id, b.id, tuple(self._layer.obstacles[index].name for index in cut))
        walk = [int(far.exits[over.argmin()])]
        while (last := int(near.before[walk[-1]])) != START:
            walk.append(last)
        walked = [self._net.places[number] for number in reversed(walk)]
        # A corner at the very place of a joint is no corner.
        return [place for place in walked if place not in (a.place, b.place)]

    def look(self, joints: Sequence[Joint], pairs: Indices) -> None:
        """Find what the joints of all pairs see, where it is not known."""
        asked = {joints[number].spot: joints[number] for number in np.unique(pairs).tolist()}
        new = [joint for spot, joint in asked.items() if spot not in self._views]
        if new:
            self._views |= self._seen_from(new)

    def _seen_from(self, joints: Sequence[Joint]) -> dict[Spot, _View]:
        """What joints see, each a spot of its own."""
        net, places, own = self._net, _places_of(joints), self._own(joints)
        # From inside an outline any of its corners may be the first. A corner that itself lies
        # inside outlines is seen only from inside them all.
        bears = self._outlines.bearing(places) | own[:, self._outlines.owner]
        for bears_here, own_here in zip(bears, own, strict=True):
            bears_here &= net.covers[own_here].sum(axis=0) == net.covered
        row, corner = np.nonzero(bears)
        at = self._outlines.corners[corner]
        free = ~self._are_cut(joints, np.stack([row, row], axis=1), places[row], at)
        row, corner, ahead = row[free], corner[free], (at - places[row])[free]
        starts = np.full((len(joints), len(net.places)), FAR, dtype=Lengths)
        starts[row, net.number[corner]] = plane_lengths_dmm(ahead)
        away_dmm, before = net.graph.ways(starts)
        seen = {}
        for joint, start_dmm, *ways in zip(joints, starts, away_dmm, before, strict=True):
            (exits,) = np.nonzero(start_dmm < FAR)
            seen[joint.spot] = _View(exits, start_dmm[exits], *ways)
        return seen

    def _are_cut(self, joints: Sequence[Joint], pairs: Indices, one: Whole, other: Whole) -> Flags:
        """Which lines are cut, by the exceptions of the two joints that each belongs to."""
        lines = np.concatenate([one, other], axis=1)
        is_cut = self._outlines.is_cut(lines, (self._own(joints), pairs))
        is_cut |= self._come_near_a_stud(joints, pairs, lines)
        wary = np.array([self._layer.is_wary(joint) for joint in joints], dtype=np.bool_)
        for number in np.nonzero(wary[pairs].any(axis=1) & ~is_cut)[0].tolist():
            a, b = (joints[end] for end in pairs[number].tolist())
            kept = self._layer.exceptions_of_both(a, b).values()
            ends = (tuple(one[number].tolist()), tuple(other[number].tolist()))
            is_cut[number] = any(isinstance(one, Outline) and cuts(*ends, one) for one in kept)
        return is_cut

    def _come_near_a_stud(self, joints: Sequence[Joint], pairs: Indices, lines: Whole) -> Flags:
        """Which lines come nearer than they may to a stud that one of their joints lies near."""
        circles = self._circles(joints)
        is_cut = np.zeros(len(lines), dtype=np.bool_)
        numbers = [sorted(kept) for kept in circles]
        most = max(map(len, numbers), default=0)
        if most == 0:
            return is_cut
        none = len(self._layer.outlines)
        near = np.array([[*row, *[none] * (most - len(row))] for row in numbers], dtype=np.intp)
        table = np.full((len(joints), none + 1, 3), _NO_LIMIT, dtype=np.int64)
        table[:, none] = 0
        for row, kept in enumerate(circles):
            for number, circle in kept.items():
                table[row, number] = (*circle.centre, circle.square)
        for one, other in (pairs.T, pairs.T[::-1]):
            for column in range(most):
                number = near[one, column]
                (some,) = np.nonzero((number != none) & ~is_cut)
                number = number[some]
                asked = table[one[some], number]
                asked[:, 2] = np.minimum(asked[:, 2], table[other[some], number, 2])
                is_cut[some] = come_inside(lines[some], asked)
        return is_cut

    def _circles(self, joints: Sequence[Joint]) -> list[dict[int, Circle]]:
        """By joint, the circles its own stretch keeps out of, by number of the stud."""
        return [
            {number: kept for number, kept in kept_here.items() if isinstance(kept, Circle)}
            for kept_here in map(self._layer.exceptions, joints)
        ]

    def _own(self, joints: Sequence[Joint]) -> Flags:
        """Which outlines (columns) each joint (row) has an exception from: those it lies in."""
        own = np.zeros((len(joints), len(self._layer.outlines)), dtype=np.bool_)
        for row, joint in enumerate(joints):
            own[row, list(self._layer.exceptions(joint))] = True
        return own

    @cached_property
    def _net(self) -> _Net:
        return _net_of(self._outlines)


def _net_of(outlines: Outlines) -> _Net:
    """The sides of the outlines and the lines that bear on two of them, as far as nothing cuts."""
    places, number = np.unique(outlines.corners, axis=0, return_inverse=True)
    number = number.reshape(-1)  # flat in every version of numpy
    covers = np.ascontiguousarray(outlines.inside(outlines.corners).T)
    covered = covers.sum(axis=0)
    (free,) = np.nonzero(covered == 0)
    owner, bears = outlines.owner[free], outlines.bearing(outlines.corners[free])[:, free]
    one, other = np.nonzero(bears & bears.T & (owner[:, None] < owner))
    tangents = np.stack([number[free[one]], number[free[other]]], axis=1)
    sides = np.stack([number, number[outlines.following]], axis=1)
    ends = np.unique(np.sort(np.concatenate([tangents, sides]), axis=1), axis=0)
    ends = ends[ends[:, 0] < ends[:, 1]]
    ends = ends[~outlines.is_cut(places[ends].reshape(-1, 4))]
    lengths_dmm = plane_lengths_dmm(places[ends[:, 1]] - places[ends[:, 0]])
    graph = Graph(len(places), ends, lengths_dmm)
    return _Net([(x, y) for x, y in places.tolist()], number, covers, covered, graph)


def _places_of(joints: Sequence[Joint]) -> Whole:
    return np.array([joint.place for joint in joints], dtype=np.int64).reshape(-1, 2)
