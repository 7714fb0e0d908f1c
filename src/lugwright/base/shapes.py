"""Plane shapes of the plate, exact: round, rectangular, with rounded corners, turned.

Every shape is a rectangle, its core, with a round edge drawn about it: a hole is a core without
size and its radius, a cut-out with rounded corners a smaller rectangle and theirs. Two shapes are
then as far apart as their cores, less both radii; all is told by whole squares, no root is drawn.
Lengths in any one unit, places in one view, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

Pair = tuple[Fraction, Fraction]
Exact = Fraction | int
_NIL = Fraction(0)


@dataclass(frozen=True)
class Shape:
    """A rectangle round a centre with rounded corners; a circle where its radius is its half.

    ``half_width`` and ``half_height`` reach to the straight sides, before turning; ``direction``
    is cosine and sine of the turn, counter-clockwise as the shape is seen.
    """

    x: Fraction
    y: Fraction
    half_width: Fraction
    half_height: Fraction
    radius: Fraction = _NIL
    direction: Pair = (Fraction(1), _NIL)

    @cached_property
    def core(self) -> Pair:
        """Half width and half height of what is left inside the radius."""
        return self.half_width - self.radius, self.half_height - self.radius

    @property
    def is_round(self) -> bool:
        """True for a circle."""
        return not any(self.core)

    @property
    def is_upright(self) -> bool:
        """True where its sides run along the plate's, whichever way round."""
        return not all(self.direction)

    @cached_property
    def reach(self) -> Pair:
        """How far it reaches from its centre, across and up."""
        (wide, high), (cosine, sine) = self.core, map(abs, self.direction)
        return (
            wide * cosine + high * sine + self.radius,
            wide * sine + high * cosine + self.radius,
        )

    @cached_property
    def corners(self) -> tuple[Pair, ...]:
        """Corners of the core, in order round it."""
        (wide, high), (cosine, sine) = self.core, self.direction
        return tuple(
            (self.x + dx * cosine - dy * sine, self.y + dx * sine + dy * cosine)
            for dx, dy in ((wide, high), (-wide, high), (-wide, -high), (wide, -high))
        )

    def overlaps(self, other: Shape) -> bool:
        """True where the two share more than a line or a point that they touch in."""
        (wide, high), (its_wide, its_high) = self.reach, other.reach
        if abs(self.x - other.x) >= wide + its_wide or abs(self.y - other.y) >= high + its_high:
            return False
        near = self.radius + other.radius
        if not near:
            return not _are_parted(self, other, touching=True)
        return not _are_parted(self, other) or _square_between(self, other) < near * near


def directed(turn_deg: Fraction) -> Pair:
    """Cosine and sine of a turn; exactly where they are whole or a half."""
    quarters, rest = divmod(turn_deg % 360, 90)
    angle = math.radians(rest)
    cosine, sine = _exact(math.cos(angle)), _exact(math.sin(angle))
    for _ in range(int(quarters)):
        cosine, sine = -sine, cosine
    return cosine, sine


def _exact(value: float) -> Fraction:
    """The float as it is, but 0, 1/2 and 1 exactly where it misses them by its last digits."""
    halves = round(value * 2)
    if abs(value * 2 - halves) < 1e-12:
        return Fraction(halves, 2)
    return Fraction(value)


def rectangle(
    centre: tuple[Exact, Exact], sides: tuple[Exact, Exact], radius: Exact, direction: Pair
) -> Shape:
    """A rectangle with rounded corners, ``sides`` its width and height before turning."""
    (x, y), (wide, high) = map(Fraction, centre), map(Fraction, sides)
    return Shape(x, y, wide / 2, high / 2, Fraction(radius), direction)


def circle(x: Exact, y: Exact, diameter: Exact) -> Shape:
    """A round shape."""
    half = Fraction(diameter) / 2
    return Shape(Fraction(x), Fraction(y), half, half, half)


def outline(shape: Shape, steps: int = 6) -> list[tuple[float, float]]:
    """Places along its edge for a drawing, in order; each rounded corner in so many steps."""
    (across, up), radius = shape.direction, float(shape.radius)
    steps = steps if radius else 0
    found = []
    for corner, (x, y) in enumerate(shape.corners):
        for step in range(steps + 1):
            angle = math.pi / 2 * (corner + (step / steps if steps else 0))
            dx, dy = radius * math.cos(angle), radius * math.sin(angle)
            found.append(
                (float(x) + dx * float(across) - dy * float(up),
                 float(y) + dx * float(up) + dy * float(across))
            )  # fmt: skip
    return found


def covers(outer: Shape, inner: Shape) -> bool:
    """Whether the outer one holds the inner one; both upright, round one centre.

    So for a body that goes through its cut-out: of a rectangle in a round hole the corners decide.
    """
    if outer.half_width < inner.half_width or outer.half_height < inner.half_height:
        return False
    across, up = (
        max(_NIL, own - its) for own, its in zip(inner.core, outer.core, strict=True)
    )
    spare = max(_NIL, outer.radius - inner.radius)
    return across * across + up * up <= spare * spare


def quarter_turned(shape: Shape) -> Shape:
    """The same with its sides the other way round."""
    return Shape(shape.x, shape.y, shape.half_height, shape.half_width, shape.radius)


def _are_parted(one: Shape, other: Shape, *, touching: bool = False) -> bool:
    """Whether a line parts the cores; ``touching``: they may have a line or a point in common.

    Two rectangles are parted along a side of one of them, or not at all.
    """
    for along, up in (one.direction, other.direction):
        for dx, dy in ((along, up), (-up, along)):
            own = [x * dx + y * dy for x, y in one.corners]
            its = [x * dx + y * dy for x, y in other.corners]
            gap = max(min(its) - max(own), min(own) - max(its))
            if gap > 0 or (touching and gap == 0):
                return True
    return False


def _square_between(one: Shape, other: Shape) -> Fraction:
    """Square of the least distance between two cores that are parted: from a corner to a side."""
    return min(
        _square_to(corner, side)
        for a, b in ((one, other), (other, one))
        for corner in a.corners
        for side in _sides(b)
    )


def _sides(shape: Shape) -> Iterator[tuple[Pair, Pair]]:
    yield from zip(shape.corners, (*shape.corners[1:], shape.corners[0]), strict=True)


def _square_to(place: Pair, side: tuple[Pair, Pair]) -> Fraction:
    """Square of the distance from a place to a line with two ends."""
    (x0, y0), (x1, y1) = side
    dx, dy, x, y = x1 - x0, y1 - y0, place[0] - x0, place[1] - y0
    length = dx * dx + dy * dy
    share = min(max((x * dx + y * dy) / length, _NIL), Fraction(1)) if length else _NIL
    across, up = x - share * dx, y - share * dy
    return across * across + up * up
