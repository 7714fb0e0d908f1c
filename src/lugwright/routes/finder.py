"""Paths of a console: direct on one instrument and where there is no loom, else over the loom."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from lugwright.routes.arrays import Flags, Indices
from lugwright.routes.geometry import Place
from lugwright.routes.loom import Loom
from lugwright.routes.obstacles import Joint, Layers
from lugwright.routes.schema import Path, Way
from lugwright.routes.sight import SHUT
from lugwright.routes.visibility import Open
from lugwright.scenario.console import TiePoint


class Finder:
    """Finds one path with its corners, or the ways of many pairs of joints at once.

    ``pairs`` are rows of two numbers of ``joints``.
    """

    def __init__(self, tie_points: tuple[TiePoint, ...], layers: Layers) -> None:
        self._open = Open(layers)
        self._loom = Loom(tie_points, self._open) if tie_points else None

    def path(self, a: Joint, b: Joint) -> Path:
        """The path from one joint to another. Raises NoPath when every way is shut."""
        one_instrument = a.instrument != "" and a.instrument == b.instrument
        if self._loom is None or one_instrument:
            return self._open.path(a, b)
        return self._loom.path(a, b)

    def ways(self, joints: Sequence[Joint], pairs: Indices) -> list[Way | None]:
        """The way between each pair, None where every way is shut."""
        direct = self._are_direct(joints, pairs)
        lengths_dmm = iter(self._open.lengths_dmm(joints, pairs[direct]).tolist())
        over_loom = iter(self._loom.ways(joints, pairs[~direct]) if self._loom else ())
        return [
            _open_way(next(lengths_dmm)) if is_direct else next(over_loom)
            for is_direct in direct.tolist()
        ]

    def turns(self, joints: Sequence[Joint], pairs: Indices) -> set[Place]:
        """Where the paths of all pairs turn, tie points left out."""
        direct = self._are_direct(joints, pairs)
        found = self._open.turns(joints, pairs[direct])
        return found | self._loom.turns(joints, pairs[~direct]) if self._loom else found

    def _are_direct(self, joints: Sequence[Joint], pairs: Indices) -> Flags:
        """Which pairs do not go over the loom."""
        if self._loom is None:
            return np.ones(len(pairs), dtype=np.bool_)
        one, other = np.array([joint.instrument for joint in joints])[pairs].T
        direct: Flags = (one != "") & (one == other)
        return direct


def _open_way(path_dmm: int) -> Way | None:
    return None if path_dmm == SHUT else Way(path_dmm)
