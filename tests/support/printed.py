"""Printed 1:1 sheets read back: lines and curves of a PDF in millimetres, tiles put together.

Pages are joined as a person joins them, by their numbered register crosses, and the joined
drawing is measured from the plate's own corner. Nothing of the program that drew them is asked.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import pdfplumber
from pdfplumber.page import Page

MM = 72 / 25.4
CROSS_ARM_MM = 4.0
HEAD_MM = 20.0

Point = tuple[float, float]


@dataclass(frozen=True)
class Round:
    """A closed curve of four arcs: its middle, and points of it at each 45 degrees."""

    x: float
    y: float
    around: tuple[Point, ...]

    @property
    def radii(self) -> list[float]:
        """Distance of each point from the middle."""
        return [hypot(x - self.x, y - self.y) for x, y in self.around]


@dataclass(frozen=True)
class Tile:
    """One 1:1 page. ``offset`` takes a place on the page to the joined drawing, mm."""

    page: Page
    window: tuple[float, float, float, float]
    offset: Point = (0.0, 0.0)

    def shows(self, point: Point) -> bool:
        """True where a place of the joined drawing lies in this page's window."""
        x, y = point[0] - self.offset[0], point[1] - self.offset[1]
        x0, y0, x1, y1 = self.window
        return x0 <= x <= x1 and y0 <= y <= y1


def pages(pdf: bytes) -> list[Page]:
    """The pages of a PDF."""
    return list(pdfplumber.open(io.BytesIO(pdf)).pages)


def is_tile(page: Page) -> bool:
    """True for a 1:1 page, by the note in its head."""
    head = page.crop((0, 0, page.width, HEAD_MM * MM), strict=False)
    return "1:1," in str(head.extract_text())


def tiles(pdf: bytes) -> list[Tile]:
    """The 1:1 pages, each with its place in the drawing they make together.

    Raises ValueError when a page has no cross in common with those before it.
    """
    found = [Tile(page, _window(page)) for page in pages(pdf) if is_tile(page)]
    joined, known = [found[0]], dict(_crosses(found[0]))
    for tile in found[1:]:
        common = [(known[n], place) for n, place in _crosses(tile).items() if n in known]
        if not common:
            raise ValueError("a page shares no register cross with the pages before it")
        (there, here), *_ = common
        placed = Tile(tile.page, tile.window, (there[0] - here[0], there[1] - here[1]))
        joined.append(placed)
        known |= {n: moved(place, placed) for n, place in _crosses(tile).items()}
    return joined


def moved(place: Point, tile: Tile) -> Point:
    """A place on a page as a place of the joined drawing."""
    return place[0] + tile.offset[0], place[1] + tile.offset[1]


def _window(page: Page) -> tuple[float, float, float, float]:
    """The frame of a page's drawing: the largest rectangle that lies on the page."""
    inside = [
        box
        for box in page.rects
        if box["x0"] > 0 and box["y0"] > 0 and box["x1"] < page.width and box["y1"] < page.height
    ]
    box = max(inside, key=lambda one: one["width"] * one["height"])
    return box["x0"] / MM, box["y0"] / MM, box["x1"] / MM, box["y1"] / MM


def _crosses(tile: Tile) -> dict[str, Point]:
    """Register crosses of a page by number: two equal lines that cross in their middles."""
    page = tile.page
    level = {_middle(line) for line in lines(page) if _is_arm(line, 0)}
    upright = {_middle(line) for line in lines(page) if _is_arm(line, 1)}
    found, words = {}, page.extract_words()
    for x, y in level & upright:
        word = min(
            words,
            key=lambda word, x=x, y=y: hypot(word["x0"] / MM - x - 0.6, _low(page, word) - y - 2.4),
        )
        found[word["text"]] = (x, y)
    return found


def _low(page: Page, word: dict[str, float]) -> float:
    """The lower edge of a word, mm."""
    return (float(page.height) - word["bottom"]) / MM


def _is_arm(line: tuple[Point, Point], axis: int) -> bool:
    """True for a line along an axis that is as long as a cross is wide."""
    (x0, y0), (x1, y1) = line
    along, across = (abs(x1 - x0), abs(y1 - y0))[:: 1 if axis == 0 else -1]
    return across < 0.01 and abs(along - 2 * CROSS_ARM_MM) < 0.3


def _middle(line: tuple[Point, Point]) -> Point:
    (x0, y0), (x1, y1) = line
    return round((x0 + x1) / 2, 3), round((y0 + y1) / 2, 3)


def up(page: Page, point: Point) -> Point:
    """A point of the page in mm from its lower left corner."""
    return point[0] / MM, (float(page.height) - point[1]) / MM


def bezier(points: list[Point], t: float) -> Point:
    """A point of a cubic Bézier arc (Bernstein form)."""
    weights = ((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3)
    x, y = (sum(w * p[axis] for w, p in zip(weights, points, strict=True)) for axis in (0, 1))
    return x, y


def rounds(page: Page) -> Iterator[Round]:
    """Every circle or ellipse of a page."""
    for curve in page.curves:
        arcs = list(_arcs(page, curve["path"]))
        if len(arcs) == 4:
            x, y = (sum(arc[0][axis] for arc in arcs) / 4 for axis in (0, 1))
            around = tuple(point for arc in arcs for point in (arc[0], bezier(arc, 0.5)))
            yield Round(x, y, around)


def _arcs(page: Page, path: list[tuple[str, *tuple[Point, ...]]]) -> Iterator[list[Point]]:
    """The Bézier arcs of a path, in mm."""
    here: Point = (0.0, 0.0)
    for operator, *points in path:
        placed = [up(page, point) for point in points]
        if operator == "c":
            yield [here, *placed]
        if placed:
            here = placed[-1]


def lines(page: Page) -> Iterator[tuple[Point, Point]]:
    """Every straight line of a page, in mm."""
    for line in page.lines:
        start, end = (up(page, point) for point in line["pts"][:2])
        yield start, end


def marked_corner(sheet: Sequence[Tile]) -> Point:
    """The right angle of the solid triangle, in the joined drawing, mm.

    Raises ValueError when no page shows one.
    """
    for tile in sheet:
        for curve in tile.page.curves:
            points = [up(tile.page, point) for point in curve["pts"]]
            if curve["fill"] and len(set(points)) == 3:
                xs, ys = [x for x, _ in points], [y for _, y in points]
                corner = moved((max(set(xs), key=xs.count), min(ys)), tile)
                if tile.shows(corner):
                    return corner
    raise ValueError("no solid triangle on any page")
