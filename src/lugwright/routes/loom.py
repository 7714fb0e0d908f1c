"""Paths over the loom: a spur to the nearest tie point, along the links, a spur to the joint.

A joint joins the loom at its nearest tie point and nowhere else: the one with the shortest spur,
of equally near ones the one with the lesser name. Between the two tie points a wire takes the
shortest way along the links. So wires are bundled wherever the loom runs beside them; could they
leave it at any tie point, the straighter way would always take them off it.

Links run both ways, whichever tie point states them. The loom itself runs straight between
linked tie points; spurs go round obstacles.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise

from lugwright.routes.errors import NoPath
from lugwright.routes.obstacles import Joint
from lugwright.routes.schema import Corner, Path
from lugwright.routes.shortest import START, shortest_ways
from lugwright.routes.visibility import Open, path_through, reverse
from lugwright.scenario.console import TiePoint

_MANY_LEGS = 1_000_000  # more than any way has, so that legs only settle equal lengths

Spur = tuple[str, Path]


class Loom:
    """The tie points of a console and the ways over them."""

    def __init__(self, tie_points: tuple[TiePoint, ...], open_back: Open) -> None:
        self._ties = {tie.name: tie for tie in sorted(tie_points, key=lambda tie: tie.name)}
        self._open = open_back
        self._along = _ways_along(self._ties)
        self._spur: Callable[[Joint], Spur] = lru_cache(maxsize=None)(self._spur_of)

    def path(self, a: Joint, b: Joint) -> Path:
        """The path from one joint to another over the tie points nearest to them.

        Raises NoPath when a joint can reach no tie point, and, naming both tie points, when no
        links lead from the one to the other.
        """
        if b < a:
            return reverse(self.path(b, a))
        first, on = self._spur(a)
        last, off = self._spur(b)
        names = self._along[first].get(last)
        if names is None:
            raise NoPath(a.id, b.id, (f"tie points {first} and {last}, which no links join",))
        legs = ((min(x, y), max(x, y)) for x, y in pairwise(names))
        along = [Corner(self._ties[name].at, name) for name in names]
        return path_through([*on.corners, *along, *reverse(off).corners], legs)

    def _spur_of(self, joint: Joint) -> Spur:
        """The tie point a joint joins the loom at, and the spur to it."""
        spurs = []
        for name, tie in self._ties.items():
            try:
                spurs.append((name, self._open.path(joint, _tie_joint(tie))))
            except NoPath:
                continue
        if not spurs:
            raise NoPath(joint.id, "the loom", ("what stands between it and the tie points",))
        return min(spurs, key=lambda spur: (spur[1].path_dmm, spur[0]))


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
    names = sorted({name for link in links for name in link})
    number = {name: index for index, name in enumerate(names)}
    near: list[dict[int, int]] = [{} for _ in names]
    for name, other in links:
        leg = path_through([Corner(ties[name].at), Corner(ties[other].at)])
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
