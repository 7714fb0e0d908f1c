"""Where each barrel of a stud points: a clock face seen from the back, one ray for each lug."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from lugwright.outputs.drawing.frame import Point
from lugwright.outputs.drawing.paint import INK, PAPER
from lugwright.outputs.stacks.sketch import SIZE, Sketch

RADIUS = 29.0
_FLAG = 7.5  # radius of the disc with a lug's number, outside the rim
SIDE = 2 * (RADIUS + 2 * _FLAG) + 2.0  # of the square it takes
_STUD = 4.0
_HOURS = RADIUS - 8.5  # how far out the numbers of the hours stand
_CLEAR = 6.0  # half of what such a number takes
_QUARTERS = (12, 3, 6, 9)
_HOUR_DEG = 30


@dataclass(frozen=True)
class Bearing:
    """One lug: its place from the base, the hour its barrel points to, whether it comes aboard."""

    order: int
    hour: int
    aboard: bool


def draw_clock(sketch: Sketch, centre: Point, bearings: Sequence[Bearing]) -> None:
    """The face: quarter hours inside the rim, lug numbers in black discs outside."""
    sketch.circle(centre, RADIUS)
    for bearing in bearings:
        for part in _ray(centre, bearing.hour):
            sketch.line(part, dashed=bearing.aboard)
    for hour in _QUARTERS:
        _number(sketch, _at(centre, hour, _HOURS), hour)
    sketch.circle(centre, _STUD)
    for bearing in bearings:
        place = _at(centre, bearing.hour, RADIUS + _FLAG)
        sketch.circle(place, _FLAG, fill=INK)
        _number(sketch, place, bearing.order, bold=True, ink=PAPER)


def _ray(centre: Point, hour: int) -> list[list[Point]]:
    """From the stud to the disc; a number of the face in its way is left free."""
    inner, outer = _at(centre, hour, _STUD), _at(centre, hour, RADIUS + _FLAG)
    if hour not in _QUARTERS:
        return [[inner, outer]]
    return [
        [inner, _at(centre, hour, _HOURS - _CLEAR)],
        [_at(centre, hour, _HOURS + _CLEAR), outer],
    ]


def _number(
    sketch: Sketch, middle: Point, number: int, *, bold: bool = False, ink: str = INK
) -> None:
    """A number with its middle there."""
    sketch.word((middle[0], middle[1] + SIZE * 0.36), str(number), bold=bold, ink=ink)


def _at(centre: Point, hour: int, radius: float) -> Point:
    """A point at an hour, clockwise from twelve at the top."""
    angle = radians(hour * _HOUR_DEG)
    return centre[0] + radius * sin(angle), centre[1] - radius * cos(angle)
