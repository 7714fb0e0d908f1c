"""From the front to the back: mirroring, turning, and the one rounding to 0.1 mm.

Cut-outs are given as seen from the front, posts as seen from the back. Behind the panel
x_back = width - x_front and y stays. An instrument is turned clockwise as seen from the front,
which is counter-clockwise seen from the back.
"""

from __future__ import annotations

from fractions import Fraction

from lugwright.base.shapes import directed
from lugwright.base.units import to_dmm
from lugwright.scenario.console import Point

Pair = tuple[Fraction, Fraction]


def to_back(place_front: Pair, width_mm: Fraction) -> Pair:
    """A place given as seen from the front, as seen from the back; mm, exact."""
    return width_mm - place_front[0], place_front[1]


def turned(offset: Pair, turn_deg: Fraction) -> Pair:
    """An offset seen from the back (mm), turned clockwise as seen from the front."""
    cosine, sine = directed(turn_deg)
    x, y = offset
    return x * cosine - y * sine, x * sine + y * cosine


def turned_extent(width_mm: Fraction, height_mm: Fraction, turn_deg: Fraction) -> Pair:
    """Width and height of the upright rectangle round a turned one (mm)."""
    cosine, sine = (abs(part) for part in directed(turn_deg))
    return width_mm * cosine + height_mm * sine, width_mm * sine + height_mm * cosine


def point(place_back: Pair, height_mm: Fraction) -> Point:
    """A point of the console, rounded to 0.1 mm, half away from zero. Rule R1."""
    return Point(to_dmm(place_back[0]), to_dmm(place_back[1]), to_dmm(height_mm))
