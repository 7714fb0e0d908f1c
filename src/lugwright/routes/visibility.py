"""Paths over the open back of the panel: straight where that is free, else the shortest way round.

Many pairs of joints are best asked for at once: what is in their way is then found in arrays.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np

from lugwright.base.scale import ceil_hypot
from lugwright.routes.arrays import Indices, Whole, plane_lengths_dmm
from lugwright.routes.errors import NoPath
from lugwright.routes.geometry import Place
from lugwright.routes.obstacles import Joint, Layer, Layers
from lugwright.routes.schema import Corner, Path
from lugwright.routes.sight import SHUT, Sight
from lugwright.scenario.console import Point


def plane_dmm(a: Place, b: Place) -> int:
    """Plane length of a leg, rounded up to 0.1 mm. Rule R2."""
    return ceil_hypot(b[0] - a[0], b[1] - a[1])


def path_through(corners: Sequence[Corner], loom_legs: Iterable[tuple[str, str]] = ()) -> Path:
    """The path through corners in order: Σ legs (plane length rounded up + |height difference|).

    Corners that follow each other at one point are one corner.
    """
    kept: list[Corner] = []
    for corner in corners:
        if kept and kept[-1].at == corner.at:
            kept[-1] = Corner(corner.at, kept[-1].tie or corner.tie)
        else:
            kept.append(corner)
    length_dmm = 0
    for one, other in pairwise(kept):
        a, b = one.at, other.at
        length_dmm += plane_dmm((a.x_dmm, a.y_dmm), (b.x_dmm, b.y_dmm)) + abs(a.z_dmm - b.z_dmm)
    return Path(tuple(kept), length_dmm, tuple(sorted(set(loom_legs))))


def reverse(path: Path) -> Path:
    """The same path from its other end."""
    return Path(path.corners[::-1], path.path_dmm, path.loom_legs)


class Open:
    """Paths over the open back of the panel."""

    def __init__(self, layers: Layers) -> None:
        self._layers = layers
        self._sights: dict[int, Sight] = {}

    def path(self, a: Joint, b: Joint) -> Path:
        """The path from one joint to another; its corners lie at the height of the higher one.

        Raises NoPath when every way round is shut.
        """
        if b < a:
            return reverse(self.path(b, a))
        top_dmm = max(a.at.z_dmm, b.at.z_dmm)
        layer = self._layers.above(top_dmm)
        between: list[Place] = []
        if not layer.is_free(a.place, b.place, layer.exceptions_of_both(a, b)):
            between = self._sight(layer).corners(a, b)
        corners = [Corner(Point(x, y, top_dmm)) for x, y in between]
        return path_through([Corner(a.at, a.tie), *corners, Corner(b.at, b.tie)])

    def lengths_dmm(self, joints: Sequence[Joint], pairs: Indices) -> Whole:
        """The length of the path of each pair of joints, ``SHUT`` where every way is shut.

        ``pairs`` are rows of two numbers of joints.
        """
        at = _points(joints)
        offsets = at[pairs[:, 1]] - at[pairs[:, 0]]
        found = plane_lengths_dmm(offsets[:, :2])
        for sight, cut in self._cut(joints, pairs):
            found[cut] = sight.round_dmm(joints, pairs[cut])
        return np.where(found == SHUT, SHUT, found + np.abs(offsets[:, 2]))

    def turns(self, joints: Sequence[Joint], pairs: Indices) -> set[Place]:
        """Where the paths of all pairs turn; a pair with no path turns nowhere."""
        found: set[Place] = set()
        for sight, cut in self._cut(joints, pairs):
            sight.look(joints, pairs[cut])
            for ends in pairs[cut].tolist():
                try:
                    found.update(sight.corners(*sorted(joints[end] for end in ends)))
                except NoPath:
                    continue
        return found

    def _cut(self, joints: Sequence[Joint], pairs: Indices) -> Iterator[tuple[Sight, Indices]]:
        """The pairs (by number) whose straight leg is cut, layer by layer."""
        tops_dmm = _points(joints)[pairs, 2].max(axis=1)
        lower = np.searchsorted(self._layers.heights_dmm, tops_dmm, side="right")
        for number in np.unique(lower).tolist():
            (mine,) = np.nonzero(lower == number)
            layer = self._layers.without_lowest(number)
            if layer.obstacles:
                sight = self._sight(layer)
                is_cut = sight.is_cut(joints, pairs[mine])
                if is_cut.any():
                    yield sight, mine[is_cut]

    def _sight(self, layer: Layer) -> Sight:
        number = len(layer.obstacles)
        if number not in self._sights:
            self._sights[number] = Sight(layer)
        return self._sights[number]


def _points(joints: Sequence[Joint]) -> Whole:
    places = [(joint.at.x_dmm, joint.at.y_dmm, joint.at.z_dmm) for joint in joints]
    return np.array(places, dtype=np.int64).reshape(-1, 3)
