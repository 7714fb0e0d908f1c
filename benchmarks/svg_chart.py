"""A plain line chart as SVG: axes, lines told apart by dashes and marks, names at their ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from math import log10

WIDTH, HEIGHT = 440.0, 280.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 122.0, 26.0, 36.0
GAP_BETWEEN_NAMES = 12.0
DASHES = ("none", "7 3", "2 2", "7 3 2 3", "12 4", "4 4")
STROKES = ("#0b4f8a", "#b3400f", "#2d7a33", "#7a2d74", "#555555", "#a07a00")


@dataclass(frozen=True)
class Point:
    """One measured point; an open mark where it did not end by itself, none on a mere corner."""

    x: float
    y: float
    ended: bool
    mark: bool = True


@dataclass(frozen=True)
class Axis:
    """What it measures, its ends, the values written along it, and whether it is logarithmic."""

    name: str
    least: float
    most: float
    ticks: Sequence[float]
    log: bool = True

    def share(self, value: float) -> float:
        """How far along the axis a value lies, 0 to 1; values beyond its ends lie at them."""
        inside = min(max(value, self.least), self.most)
        if self.log:
            return (log10(inside) - log10(self.least)) / (log10(self.most) - log10(self.least))
        return (inside - self.least) / (self.most - self.least)

    @property
    def marks(self) -> Sequence[float]:
        """The values to write: the stated ones, else fifths."""
        return self.ticks or [self.least + (self.most - self.least) * i / 5 for i in range(6)]


@dataclass
class Chart:
    """A chart in the making."""

    title: str
    x: Axis
    y: Axis
    lines: list[tuple[str, list[Point]]] = field(default_factory=list)

    def line(self, name: str, points: list[Point]) -> None:
        """Add a line; one without points is left out."""
        if points:
            self.lines.append((name, points))

    def place(self, point: Point) -> tuple[float, float]:
        """Where a point lies in the chart."""
        x = LEFT + self.x.share(point.x) * (WIDTH - LEFT - RIGHT)
        return x, HEIGHT - BOTTOM - self.y.share(point.y) * (HEIGHT - TOP - BOTTOM)

    def svg(self) -> list[str]:
        """The chart's elements."""
        found = [f'<text x="{LEFT}" y="14" font-weight="bold">{escape(self.title)}</text>']
        found += [*self._grid()]
        names = self._names()
        for number, (name, points) in enumerate(self.lines):
            stroke = STROKES[number % len(STROKES)]
            dashes = DASHES[number % len(DASHES)]
            places = [self.place(point) for point in points]
            path = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
            found.append(f'<g data-line="{escape(name)}" stroke="{stroke}">')
            found.append(
                f'<polyline points="{path}" fill="none" stroke-width="1.5" '
                f'stroke-dasharray="{dashes}"/>'
            )
            for point, (x, y) in zip(points, places, strict=True):
                if point.mark:
                    fill = stroke if point.ended else "#ffffff"
                    found.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.8" fill="{fill}"/>')
            x, y = places[-1]
            found.append(
                f'<text x="{WIDTH - RIGHT + 10:.1f}" y="{names[number]:.1f}" fill="{stroke}" '
                f'stroke="none">{escape(name)}</text>'
            )
            found.append(
                f'<path d="M{x + 4:.1f} {y:.1f}L{WIDTH - RIGHT + 8:.1f} {names[number] - 4:.1f}" '
                'stroke-width="0.4"/></g>'
            )
        return found

    def _names(self) -> list[float]:
        """Heights of the names, each near its line's end and none on another."""
        ends = [self.place(points[-1])[1] + 4 for _, points in self.lines]
        order = sorted(range(len(ends)), key=lambda number: ends[number])
        last = TOP
        for number in order:
            ends[number] = max(ends[number], last)
            last = ends[number] + GAP_BETWEEN_NAMES
        over = max(0.0, last - GAP_BETWEEN_NAMES - (HEIGHT - 4))
        return [end - over for end in ends]

    def _grid(self) -> list[str]:
        found = []
        for value in self.y.marks:
            _, y = self.place(Point(self.x.least, value, True))
            found.append(f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="#d0d0d0"/>')
            found.append(f'<text x="{LEFT - 5}" y="{y + 4:.1f}" text-anchor="end">{value:g}</text>')
        for value in self.x.marks:
            x, _ = self.place(Point(value, self.y.least, True))
            found.append(f'<path d="M{x:.1f} {HEIGHT - BOTTOM}v4" stroke="#000000"/>')
            found.append(
                f'<text x="{x:.1f}" y="{HEIGHT - BOTTOM + 16}" text-anchor="middle">'
                f"{value:g}</text>"
            )
        found.append(
            f'<path d="M{LEFT} {TOP}V{HEIGHT - BOTTOM}H{WIDTH - RIGHT}" '
            'fill="none" stroke="#000000"/>'
        )
        middle = (LEFT + WIDTH - RIGHT) / 2
        found.append(
            f'<text x="{middle}" y="{HEIGHT - 5}" text-anchor="middle">{escape(self.x.name)}</text>'
        )
        found.append(
            f'<text transform="translate(12 {(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)" '
            f'text-anchor="middle">{escape(self.y.name)}</text>'
        )
        return found


def page(charts: Sequence[Chart]) -> str:
    """Charts one below the other on a white page."""
    height = HEIGHT * len(charts)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" '
        'font-family="sans-serif" font-size="10">',
        '<rect width="100%" height="100%" fill="#ffffff"/>',
    ]
    for number, chart in enumerate(charts):
        lines.append(f'<g transform="translate(0 {number * HEIGHT:g})">')
        lines += [*chart.svg(), "</g>"]
    return "\n".join([*lines, "</svg>"]) + "\n"
