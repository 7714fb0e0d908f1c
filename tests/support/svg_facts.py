"""What a drawing says, read back from its SVG by an XML parser that knows nothing of the room."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


@dataclass(frozen=True)
class Rectangle:
    """A label's box, mm."""

    label: str
    x0: float
    y0: float
    x1: float
    y1: float

    def overlap_mm(self, other: Rectangle) -> float:
        """The lesser side of what two boxes share, mm; 0 for none."""
        wide = min(self.x1, other.x1) - max(self.x0, other.x0)
        high = min(self.y1, other.y1) - max(self.y0, other.y0)
        return max(0.0, min(wide, high))


@dataclass(frozen=True)
class WireLine:
    """A wire's line as drawn: its corners, and the length it is cut to (0.1 mm, 0: none)."""

    wire: str
    points: tuple[Point, ...]
    length_dmm: int


def tree_of(svg: str) -> ET.Element:
    """The parsed drawing."""
    return ET.fromstring(svg)  # noqa: S314 - our own drawing


def points_of(path: ET.Element) -> tuple[Point, ...]:
    """The corners of a path of straight lines."""
    numbers = [float(text) for text in re.findall(r"-?\d+(?:\.\d+)?", path.get("d", ""))]
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


def wire_lines(tree: ET.Element) -> list[WireLine]:
    """Every cut wire's line outside of details, in the order they are drawn."""
    found = []
    for group in _groups(tree, "data-wire"):
        for path in group.findall(f"{SVG}path"):
            if length := path.get("data-length-dmm"):
                found.append(WireLine(group.get("data-wire", ""), points_of(path), int(length)))
    return found


def post_places(tree: ET.Element) -> dict[str, Point]:
    """The middle of every post's mark, by id, outside of details."""
    return {group.get("data-post", ""): _middle(group) for group in _groups(tree, "data-post")}


def joint_places(tree: ET.Element) -> dict[str, Point]:
    """The middle of every splice's or butt's mark."""
    return {group.get("data-joint", ""): _middle(group) for group in _groups(tree, "data-joint")}


def label_boxes(tree: ET.Element) -> list[Rectangle]:
    """The box of every label outside of details."""
    found = []
    for group in _groups(tree, "data-label"):
        rectangle = group.find(f"{SVG}rect")
        assert rectangle is not None
        x, y, wide, high = (float(rectangle.get(key, "0")) for key in ("x", "y", "width", "height"))
        found.append(Rectangle(group.get("data-label", ""), x, y, x + wide, y + high))
    return found


def details(tree: ET.Element) -> list[ET.Element]:
    """The windows drawn larger, each as a drawing of its own."""
    return [each for group in tree.iter() if group.get("data-detail") for each in group]


def words_of(tree: ET.Element) -> list[str]:
    """Every line of text."""
    return [element.text or "" for element in tree.iter(f"{SVG}text")]


def mark_centre(tree: ET.Element) -> Point:
    """The middle of the black corner's three points."""
    [group] = _groups(tree, "data-mark")
    path = group.find(f"{SVG}path")
    assert path is not None
    points = points_of(path)
    return (sum(x for x, _ in points) / 3, sum(y for _, y in points) / 3)


def nearest_parallel_mm(
    one: WireLine, other: WireLine, skip_mm: float, knots: Sequence[Point] = ()
) -> float:
    """How near two lines run side by side, mm, ``skip_mm`` round the ends of both and ``knots``
    left out.

    Only legs that run the same way (within about 3 degrees) beside each other count; they are
    looked at every 2 mm.
    """
    best = float("inf")
    ends = (one.points[0], one.points[-1], other.points[0], other.points[-1], *knots)
    for a, b in pairwise(one.points):
        for c, d in pairwise(other.points):
            if not _runs_along(a, b, c, d):
                continue
            steps = max(1, round(dist(a, b) / 2))
            for k in range(steps + 1):
                spot = (a[0] + (b[0] - a[0]) * k / steps, a[1] + (b[1] - a[1]) * k / steps)
                if all(dist(spot, end) >= skip_mm for end in ends):
                    best = min(best, _beside_mm(spot, c, d))
    return best


def _runs_along(a: Point, b: Point, c: Point, d: Point) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    return abs(ux * vy - uy * vx) <= 0.05 * dist(a, b) * dist(c, d)


def _beside_mm(spot: Point, c: Point, d: Point) -> float:
    """Distance from a spot to a leg it lies beside; infinite before its beginning, after it."""
    leg = dist(c, d)
    if not leg:
        return float("inf")
    way = ((spot[0] - c[0]) * (d[0] - c[0]) + (spot[1] - c[1]) * (d[1] - c[1])) / leg
    if not 0 < way < leg:
        return float("inf")
    return abs((spot[0] - c[0]) * (d[1] - c[1]) - (spot[1] - c[1]) * (d[0] - c[0])) / leg


def _groups(tree: ET.Element, fact: str) -> list[ET.Element]:
    inside = {
        id(each) for detail in tree.iter() if detail.get("data-detail") for each in detail.iter()
    }
    return [each for each in tree.iter() if each.get(fact) is not None and id(each) not in inside]


def _middle(group: ET.Element) -> Point:
    """The middle of a group's first circle or rectangle."""
    for each in group:
        if each.tag == f"{SVG}circle":
            return (float(each.get("cx", "0")), float(each.get("cy", "0")))
        if each.tag == f"{SVG}rect":
            x, y, wide, high = (float(each.get(k, "0")) for k in ("x", "y", "width", "height"))
            return (round(x + wide / 2, 2), round(y + high / 2, 2))
    raise AssertionError("a mark without a shape")
