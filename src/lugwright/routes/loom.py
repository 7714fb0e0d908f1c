"""Paths over the loom: a spur to the nearest tie point, along the links, a spur to the joint.

A joint joins the loom at its nearest tie point and nowhere else: the one with the shortest spur,
of equally near ones the one with the lesser name. Between the two tie points a wire takes the
shortest way along the links. So wires are bundled wherever the loom runs beside them; could they
leave it at any tie point, the straighter way would always take them off it.

Links run both ways, whichever tie point states them. The loom itself runs straight between
linked tie points; spurs go round obstacles.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

from lugwright.routes.arrays import Indices, each_with_each
from lugwright.routes.errors import NoPath
from lugwright.routes.geometry import Place
from lugwright.routes.obstacles import Joint
from lugwright.routes.schema import Corner, Path, Way
from lugwright.routes.shortest import START, shortest_ways
from lugwright.routes.sight import SHUT
from lugwright.routes.visibility import Open, path_through, reverse
from lugwright.scenario.console import TiePoint

_MANY_LEGS = 1_000_000  # more than any way has, so that legs only settle equal lengths

Spur = tuple[int, str]
"""How long the spur of a joint is (0.1 mm), and the tie point it leads to."""


class Loom:
    """The tie points of a console and the ways over them. Rule R5."""

    def __init__(self, tie_points: tuple[TiePoint, ...], open_back: Open) -> None:
        self._ties = {tie.name: tie for tie in sorted(tie_points, key=lambda tie: tie.name)}
        self._open = open_back
        self._along = _ways_along(self._ties)
        self._spurs: dict[Joint, Spur | None] = {}
        self._spur_path = lru_cache(maxsize=None)(self._spur_path_of)
        self._loom_way = lru_cache(maxsize=None)(self._loom_way_of)

    def path(self, a: Joint, b: Joint) -> Path:
        """The path from one joint to another over the tie points nearest to them.

        Raises NoPath when a joint can reach no tie point, and, naming both tie points, when no
        links lead from the one to the other.
        """
        if b < a:
            return reverse(self.path(b, a))
        first, on = self._spur_path(a)
        last, off = self._spur_path(b)
        names = self._along[first].get(last)
        if names is None:
            raise NoPath(a.id, b.id, (f"tie points {first} and {last}, which no links join",))
        legs = ((min(x, y), max(x, y)) for x, y in pairwise(names))
        along = [Corner(self._ties[name].at, name) for name in names]
        return path_through([*on.corners, *along, *reverse(off).corners], legs)

    def ways(self, joints: Sequence[Joint], pairs: Indices) -> list[Way | None]:
        """The way between each pair of joints (rows of two numbers), None where there is none."""
        self._join(joints)
        spurs = [self._spurs[joint] for joint in joints]
        return [self._way(spurs[a], spurs[b]) for a, b in pairs.tolist()]

    def turns(self, joints: Sequence[Joint], pairs: Indices) -> set[Place]:
        """Where the paths of all pairs turn, tie points left out: the turns of their spurs."""
        ways = self.ways(joints, pairs)
        led = {end for way, ends in zip(ways, pairs.tolist(), strict=True) if way for end in ends}
        found: set[Place] = set()
        for number in led:
            _, spur = self._spur_path(joints[number])
            found.update((c.at.x_dmm, c.at.y_dmm) for c in spur.corners[1:-1] if not c.tie)
        return found

    def _way(self, on: Spur | None, off: Spur | None) -> Way | None:
        if on is None or off is None:
            return None
        along = self._loom_way(on[1], off[1])
        return along and Way(on[0] + along.path_dmm + off[0], along.loom_legs)

    def _loom_way_of(self, first: str, last: str) -> Way | None:
        """The way along the links from one tie point to another."""
        names = self._along[first].get(last)
        if names is None:
            return None
        legs = ((min(x, y), max(x, y)) for x, y in pairwise(names))
        path = path_through([Corner(self._ties[name].at) for name in names], legs)
        return Way(path.path_dmm, path.loom_legs)

    def _join(self, joints: Sequence[Joint]) -> None:
        """Find the spurs of the joints, where they are not known."""
        new = [joint for joint in dict.fromkeys(joints) if joint not in self._spurs]
        names, ends = list(self._ties), [_tie_joint(tie) for tie in self._ties.values()]
        pairs = each_with_each(len(new), len(ends))
        lengths = self._open.lengths_dmm([*new, *ends], pairs).reshape(len(new), len(ends))
        for joint, lengths_dmm in zip(new, lengths.tolist(), strict=True):
            spurs = zip(lengths_dmm, names, strict=True)
            self._spurs[joint] = min((spur for spur in spurs if spur[0] != SHUT), default=None)

    def _spur_path_of(self, joint: Joint) -> tuple[str, Path]:
        """The tie point a joint joins the loom at, and the path to it."""
        self._join([joint])
        spur = self._spurs[joint]
        if spur is None:
            raise NoPath(joint.id, "the loom", ("what stands between it and the tie points",))
        _, name = spur
        return name, self._open.path(joint, _tie_joint(self._ties[name]))


def _tie_joint(tie: TiePoint) -> Joint:
    return Joint(tie.at, f"tie point {tie.name}", "", tie.name)


def _ways_along(points: dict[str, TiePoint]) -> dict[str, dict[str, tuple[str, ...]]]:
    """The shortest way along the links between any two tie points, as names.

    Of equally short ways the one with fewer legs, then the one whose last tie point before the
    end has the lesser name, and so on back, seen from the end with the lesser name; the other
    direction is its reverse.
    """
    ways: dict[str, dict[str, tuple[str, ...]]] = {name: {name: (name,)} for name in points}
    links = {
        (name, other)
        for name, tie in points.items()
        for other in tie.to
        if other in points and other != name
    }
    if not links:
        return ways
    names = sorted({name for link in links for name in link})
    number = {name: index for index, name in enumerate(names)}
    near: list[dict[int, int]] = [{} for _ in names]
    for name, other in links:
        leg = path_through([Corner(points[name].at), Corner(points[other].at)])
        length = leg.path_dmm * _MANY_LEGS + 1
        near[number[name]][number[other]] = near[number[other]][number[name]] = length
    steps = [sorted(each.items()) for each in near]
    for name in names:
        before, away = shortest_ways(steps, [(number[name], 0)])
        for other in names:
            if name < other and away[number[other]] >= 0:
                walk = [number[other]]
                while (last := before[walk[-1]]) != START:
                    walk.append(last)
                way = tuple(names[index] for index in walk)
                ways[other][name], ways[name][other] = way, way[::-1]
    return ways
