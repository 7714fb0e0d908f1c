"""Places a label of the build board may take: along its wire, round its post, in its body.

Every maker of places takes the label's width and height and the rings to try, all mm, y down, and
gives its places one by one, cheapest first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from heapq import merge
from math import cos, pi, sin

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.drawing.frame import Point, distance, line_length, point_along
from lugwright.outputs.drawing.placing import PRICE, Spot
from lugwright.outputs.drawing.scene import Scene
from lugwright.plans.panel import PanelInstrument

Spots = Callable[[float, float, Sequence[float]], Iterator[Spot]]
Stubs = Mapping[str, tuple[Point, Point]]
"""By wire: from its post to its free end."""

_ROUND = 16  # directions tried round a place
_RING_PRICE = 0.2
_ALONG_MM = 2.0
_STUB_MM = 9.0
_FAR_MM = 3 * _STUB_MM


@cache
def _directions() -> tuple[Point, ...]:
    """Unit steps all round."""
    turns = (2 * pi * k / _ROUND for k in range(_ROUND))
    return tuple((cos(turn), sin(turn)) for turn in turns)


def around(at: Point, price: float = 0.0) -> Spots:
    """On rings round a place, each with a line back to it; further is dearer."""

    def spots(wide: float, high: float, rings: Sequence[float]) -> Iterator[Spot]:
        x, y = at
        for ring, far in enumerate(rings):
            dear = price + 0.3 * ring + _RING_PRICE * far / 4
            for dx, dy in _directions():
                yield Spot((x + dx * (far + wide / 2), y + dy * (far + high / 2)), dear, at)

    return spots


def near_end(away: Sequence[Point]) -> Spots:
    """Along a wire from its end, up to its middle; then beside it."""

    def spots(wide: float, high: float, rings: Sequence[float]) -> Iterator[Spot]:
        most = line_length(away) * 0.45
        on_it = (
            Spot(point_along(away, 3.0 + step * _ALONG_MM / 2), step * 0.1)
            for step in range(int(max(0.0, most - 3.0) / (_ALONG_MM / 2)) + 1)
        )
        aside = (
            around(point_along(away, min(way, most)), 2.0)(wide, high, rings)
            for way in (4.0, 8.0, 12.0, 18.0)
        )
        return merge(on_it, *aside, key=PRICE)

    return spots


def near_middle(line: Sequence[Point]) -> Spots:
    """Along a wire from its middle to both ends; then round some places of it."""

    def spots(wide: float, high: float, rings: Sequence[float]) -> Iterator[Spot]:
        whole = line_length(line)
        on_it = (
            Spot(point_along(line, way), step * 0.05)
            for step in range(int(whole * 0.4 / _ALONG_MM) + 1)
            for way in (whole / 2 + step * _ALONG_MM, whole / 2 - step * _ALONG_MM)
        )
        aside = (
            around(point_along(line, whole * share), 1.0)(wide, high, rings)
            for share in (0.5, 0.35, 0.65)
        )
        return merge(on_it, *aside, key=PRICE)

    return spots


def in_body(at: Point, one: PanelInstrument) -> Spots:
    """In an instrument's body, its middle first; then round it."""

    def spots(wide: float, high: float, rings: Sequence[float]) -> Iterator[Spot]:
        step = max(one.body_dmm, one.body_width_dmm) / DMM_PER_MM / 8
        inside = (
            Spot((at[0] + dx * step, at[1] + dy * step), 0.2 * (abs(dx) + abs(dy)))
            for dy in range(-3, 4)
            for dx in range(-2, 3)
        )
        return merge(sorted(inside, key=PRICE), around(at, 4.0)(wide, high, rings), key=PRICE)

    return spots


def on_or_around(at: Point) -> Spots:
    """On a place itself; then round it."""

    def spots(wide: float, high: float, rings: Sequence[float]) -> Iterator[Spot]:
        yield Spot(at, 0.0)
        yield from around(at, 0.5)(wide, high, rings)

    return spots


def stubs_of(scene: Scene) -> Stubs:
    """Short ends for wires that arrive on no stated way: from their post towards freer ground."""
    stubs: dict[str, tuple[Point, Point]] = {}
    for given in scene.plan.given:
        if not given.path and given.joint in scene.places:
            at = scene.places[given.joint]
            stubs[given.wire] = (at, _freest(at, scene, [end for _, end in stubs.values()]))
    return stubs


def _freest(at: Point, scene: Scene, taken: Sequence[Point]) -> Point:
    """The end of a stub that lies furthest from posts, wires and other stubs."""
    ends = [(at[0] + _STUB_MM * dx, at[1] + _STUB_MM * dy) for dx, dy in _directions()]
    lines = [line for line in scene.lines if min(distance(at, p) for p in line) < _FAR_MM]
    others = [*scene.places.values(), *taken]
    others += [point_along(line, way) for line in lines for way in range(0, 60, 3)]
    near = [other for other in others if 0.1 < distance(at, other) < _FAR_MM]
    return max(ends, key=lambda end: (min([distance(end, one) for one in near] or [99.0]), end))
