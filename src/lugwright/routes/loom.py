"""Paths over the loom: a spur to any tie point, along the stated links, a spur to the joint.

Links run both ways, whichever tie point states them. The loom itself runs straight between
linked tie points; spurs go round obstacles. The shortest way counts; of equally short ways the
one with the shorter spurs (more of it on the loom), then the lesser names.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from lugwright.routes.errors import NoPath
from lugwright.routes.obstacles import Joint
from lugwright.routes.schema import Corner, Path
from lugwright.routes.visibility import Open, path_through, reverse
from lugwright.scenario.console import TiePoint

_MANY_LEGS = 1_000_000  # more than any way has, so that legs only settle equal lengths


@dataclass(frozen=True, order=True)
class Ramp:
    """The best way from a joint to a tie point over the loom.

    ``spur_dmm`` is the part before the loom is joined at the tie point ``first``.
    """

    path_dmm: int
    spur_dmm: int
    first: str


class Loom:
    """The tie points of a console and the ways over them."""

    def __init__(self, tie_points: tuple[TiePoint, ...], open_back: Open) -> None:
        self._ties = {tie.name: tie for tie in sorted(tie_points, key=lambda tie: tie.name)}
        self._open = open_back
        self._along = _ways_along(self._ties)
        self._spurs: Callable[[Joint], dict[str, Path]] = lru_cache(maxsize=None)(self._spurs_of)
        self._ramps: Callable[[Joint], dict[str, Ramp]] = lru_cache(maxsize=None)(self._ramps_of)

    def path(self, a: Joint, b: Joint) -> Path:
        """The path from one joint to another over at least one tie point.

        Raises NoPath when no tie point can be reached from both.
        """
        if b < a:
            return reverse(self.path(b, a))
        ramps, spurs = self._ramps(a), self._spurs(b)
        ways = [
            (ramps[tie].path_dmm + spur.path_dmm, ramps[tie].spur_dmm + spur.path_dmm, tie)
            for tie, spur in spurs.items()
            if tie in ramps
        ]
        if not ways:
            raise NoPath(a.id, b.id, ("what stands between them and the tie points",))
        tie = min(ways)[2]
        return self._joined(a, ramps[tie].first, tie, spurs[tie])

    def _joined(self, a: Joint, first: str, last: str, spur: Path) -> Path:
        """On to the loom at ``first``, along it to ``last``, and off it by the spur's reverse."""
        names = self._along[first][last]
        legs = ((min(x, y), max(x, y)) for x, y in pairwise(names))
        corners = [
            *self._spurs(a)[first].corners,
            *(Corner(self._ties[name].at, name) for name in names),
            *reverse(spur).corners,
        ]
        return path_through(corners, legs)

    def _spurs_of(self, joint: Joint) -> dict[str, Path]:
        """The spur from a joint to each tie point that it can reach."""
        spurs = {}
        for name, tie in self._ties.items():
            try:
                spurs[name] = self._open.path(joint, _tie_joint(tie))
            except NoPath:
                continue
        return spurs

    def _ramps_of(self, joint: Joint) -> dict[str, Ramp]:
        ramps: dict[str, Ramp] = {}
        for first, spur in self._spurs(joint).items():
            for last, names in self._along[first].items():
                along_dmm = path_through([Corner(self._ties[name].at) for name in names]).path_dmm
                ramp = Ramp(spur.path_dmm + along_dmm, spur.path_dmm, first)
                ramps[last] = min(ramp, ramps.get(last, ramp))
        return ramps


def _tie_joint(tie: TiePoint) -> Joint:
    return Joint(tie.at, f"tie point {tie.name}", "", tie.name)


def _ways_along(ties: dict[str, TiePoint]) -> dict[str, dict[str, tuple[str, ...]]]:
    """The shortest way along the links between any two tie points, as names.

    Of equally short ways the one with fewer legs, then the one whose last tie point before the
    end has the lesser name, and so on back, seen from the end with the lesser name; the other
    direction is its reverse.
    """
    ways: dict[str, dict[str, tuple[str, ...]]] = {name: {name: (name,)} for name in ties}
    links = {
        (name, other)
        for name, tie in ties.items()
        for other in tie.to
        if other in ties and other != name
    }
    if not links:
        return ways
    # Imported here: a console without a loom path starts faster without.
    import networkx

    graph: networkx.Graph[str] = networkx.Graph()
    for name, other in sorted(links):
        leg = path_through([Corner(ties[name].at), Corner(ties[other].at)])
        graph.add_edge(name, other, weight=leg.path_dmm * _MANY_LEGS + 1)
    for name in graph:
        before, _ = networkx.dijkstra_predecessor_and_distance(graph, name)
        for other in sorted(before):
            if name < other:
                walk = [other]
                while walk[-1] != name:
                    walk.append(min(before[walk[-1]]))
                ways[other][name] = tuple(walk)
                ways[name][other] = tuple(reversed(walk))
    return ways
