"""The shortest way round obstacles: a visibility graph of their outlines' corners.

Where the straight leg is free it is the path, and numpy is not imported.
Otherwise the way runs along tangents: lines that only bear on outlines (any text on computational
geometry: a taut string round convex obstacles turns only at their corners, along tangents).
Lines are weighed by their plane length rounded up, so lengths are exact integers.

Of equally short ways it is the one whose last corner, seen from the joint at the lesser place
(x, y, z, then id), has the lesser (x, y), and so on back to that joint.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from lugwright.base.scale import ceil_hypot
from lugwright.routes.errors import NoPath
from lugwright.routes.geometry import Outline, Place, is_inside, touching_corners
from lugwright.routes.obstacles import Exceptions, Joint, Layer, Layers
from lugwright.routes.schema import Corner, Path
from lugwright.routes.shortest import START, shortest_ways
from lugwright.scenario.console import Point

if TYPE_CHECKING:
    from lugwright.routes.many_lines import Turn

_NONE: Exceptions = {}

Line = tuple[Place, Place]
Tree = tuple[list[int], list[int]]


def plane_dmm(a: Place, b: Place) -> int:
    """Plane length of a leg, rounded up to 0.1 mm."""
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
    """Paths over the open back of the panel: straight, or the shortest way round."""

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

    def _sight(self, layer: Layer) -> Sight:
        number = len(layer.obstacles)
        if number not in self._sights:
            self._sights[number] = Sight(layer)
        return self._sights[number]


class Sight:
    """The visibility graph of one layer, made when the first leg has to go round something."""

    def __init__(self, layer: Layer) -> None:
        # Imported here: most panels have nothing in the way and start faster without.
        from lugwright.routes.many_lines import Outlines

        self._layer = layer
        self._outlines = Outlines(layer.outlines)
        lines = self._clear(_tangents(layer.outlines), _NONE)
        self._places = sorted({place for outline in layer.outlines for place in outline.corners})
        self._number = {place: number for number, place in enumerate(self._places)}
        self._near: list[list[tuple[int, int]]] = [[] for _ in self._places]
        for a, b in lines:
            one, other, dmm = self._number[a], self._number[b], plane_dmm(a, b)
            self._near[one].append((other, dmm))
            self._near[other].append((one, dmm))
        self._exits: Callable[[Joint], list[Place]] = lru_cache(maxsize=None)(self._exits_of)
        self._tree: Callable[[Joint], Tree] = lru_cache(maxsize=None)(self._tree_of)

    def corners(self, a: Joint, b: Joint) -> list[Place]:
        """The corners of the shortest way from ``a`` to ``b``; raises NoPath when there is none."""
        before, away_dmm = self._tree(a)
        ways = [
            (away_dmm[number] + plane_dmm(place, b.place), number)
            for place in self._exits(b)
            if away_dmm[number := self._number[place]] >= 0
        ]
        if not ways:
            exceptions = self._layer.exceptions_of_both(a, b)
            cut = self._layer.cut_by(a.place, b.place, exceptions)
            names = tuple(self._layer.obstacles[index].name for index in cut)
            raise NoPath(a.id, b.id, names)
        walk = [min(ways)[1]]
        while (last := before[walk[-1]]) != START:
            walk.append(last)
        walked = (self._places[number] for number in reversed(walk))
        # A corner at the very place of a joint is no corner.
        return [place for place in walked if place not in (a.place, b.place)]

    def _tree_of(self, joint: Joint) -> Tree:
        """Shortest ways from a joint to every corner it can reach."""
        starts = [
            (self._number[place], plane_dmm(joint.place, place)) for place in self._exits(joint)
        ]
        return shortest_ways(self._near, starts)

    def _exits_of(self, joint: Joint) -> list[Place]:
        """The corners a joint can be led to straight."""
        exceptions = self._layer.exceptions(joint)
        lines: list[Line] = []
        for index, outline in enumerate(self._layer.outlines):
            inside = index in exceptions
            # From inside an outline any of its corners may be the first.
            bearing = outline.corners if inside else touching_corners(joint.place, outline)
            lines += ((joint.place, corner) for corner in bearing)
        return sorted({corner for _, corner in self._clear(lines, exceptions)})

    def _clear(self, lines: Sequence[Line], exceptions: Exceptions) -> list[Line]:
        """The lines that cut through no outline."""
        cut = self._outlines.cut(lines)
        shut = {line for line, outline in cut if outline not in exceptions}
        for index in exceptions:
            shut |= {
                number
                for number, (a, b) in enumerate(lines)
                if number not in shut and self._layer.is_cut(index, a, b, exceptions)
            }
        return [line for number, line in enumerate(lines) if number not in shut]


def _tangents(outlines: Sequence[Outline]) -> list[Line]:
    """Sides of the outlines, and the lines that bear on two of them, each once."""
    from lugwright.routes.many_lines import bearing_pairs

    lines: set[Line] = set()
    for outline in outlines:
        corners = outline.corners
        lines |= {_line(corners[index - 1], corner) for index, corner in enumerate(corners)}
    turns = [_turns(outline, outlines) for outline in outlines]
    lines |= {_line(a, b) for a, b in bearing_pairs(turns)}
    return sorted(lines)


def _turns(outline: Outline, outlines: Sequence[Outline]) -> list[Turn]:
    """The corners of an outline with their neighbours; those inside another outline left out."""
    corners = outline.corners
    return [
        (corners[index - 1], corner, corners[(index + 1) % len(corners)])
        for index, corner in enumerate(corners)
        if not any(is_inside(corner, other) for other in outlines)
    ]


def _line(a: Place, b: Place) -> Line:
    return (a, b) if a < b else (b, a)
