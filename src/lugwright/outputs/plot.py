"""The plot of one thing against another. Plain: no script, no font file."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # builds only: nothing foreign is ever parsed
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lugwright.outputs.svg_parts import INK, PALE, Built, part

_WIDTH, _HEIGHT = 640, 400
_LEFT, _RIGHT, _TOP, _BOTTOM = 90, 24, 24, 60


# What may be set against what, value first. The model knows them as trades; a test holds both.
TRADES = ("wire:lugs", "money:lugs", "money:wire", "wire:drop", "money:drop", "lugs:drop")


def plot_file(trade: str) -> str:
    """The file of a trade's plot: ``frontier-wire-lugs.svg``."""
    return f"frontier-{trade.replace(':', '-')}.svg"


@dataclass(frozen=True)
class PlotPoint:
    """One plan in the plot: across what is capped, up what is least, and its name beside it."""

    x: int
    y: int
    label: str


@dataclass(frozen=True)
class Axes:
    """What the plot is of: its title, the names of both axes, and how their numbers are read.

    ``whole``: the numbers across are counted in ones.
    """

    title: str
    x_name: str
    y_name: str
    x_text: Callable[[int], str]
    y_text: Callable[[int], str]
    whole: bool


def frontier_plot(points: Sequence[PlotPoint], hand: PlotPoint | None, axes: Axes) -> Built:
    """The proved points, joined by the stairs below which no plan is.

    An empty frontier gives the axes alone; the plan made by eye is a cross.
    """
    shown = [*points, *([hand] if hand else [])]
    scale = _Scale(shown)
    made = part(
        "svg",
        {
            "viewBox": f"0 0 {_WIDTH} {_HEIGHT}",
            "width": str(_WIDTH),
            "role": "img",
            "font-family": "sans-serif",
            "font-size": "13",
        },
        part("title", {}, axes.title),
    )
    made.extend(_axes(scale, axes))
    made.extend(_stairs(points, scale))
    for point in points:
        x, y = scale.at(point)
        dot = {"cx": str(x), "cy": str(y), "r": "5", "fill": INK}
        made.append(part("circle", dot))
        made.append(_text(x + 8, y - 8, point.label))
    if hand:
        x, y = scale.at(hand)
        cross = f"M{x - 6} {y - 6}L{x + 6} {y + 6}M{x - 6} {y + 6}L{x + 6} {y - 6}"
        made.append(part("path", {"d": cross, "stroke": INK, "stroke-width": "2"}))
        # what is far to the right has its words on the left, inside the picture
        anchor = "end" if x > _WIDTH * 2 // 3 else "start"
        made.append(_text(x - 10 if anchor == "end" else x + 10, y + 5, hand.label, anchor))
    return Built(made)


class _Scale:
    """From the numbers of plans to places in the picture."""

    def __init__(self, points: Sequence[PlotPoint]) -> None:
        across = [point.x for point in points] or [0]
        up = [point.y for point in points] or [0]
        self.x0, self.x1 = min(across), max(max(across), min(across) + 1)
        room = max(10, (max(up) - min(up)) // 10)
        self.y0, self.y1 = max(0, min(up) - room), max(up) + room

    def x(self, value: int) -> int:
        wide = _WIDTH - _LEFT - _RIGHT - 60
        return _LEFT + 20 + (value - self.x0) * wide // (self.x1 - self.x0)

    def y(self, value: int) -> int:
        high = _HEIGHT - _TOP - _BOTTOM
        return _HEIGHT - _BOTTOM - (value - self.y0) * high // (self.y1 - self.y0)

    def at(self, point: PlotPoint) -> tuple[int, int]:
        return self.x(point.x), self.y(point.y)

    def ticks(self, whole: bool) -> list[int]:
        """Where the numbers across stand: every one where few are counted, else five."""
        span = self.x1 - self.x0
        if whole:
            return list(range(self.x0, self.x1 + 1, max(1, span // 10)))
        return sorted({self.x0 + span * quarter // 4 for quarter in range(5)})


def _axes(scale: _Scale, axes: Axes) -> list[ET.Element]:
    right, floor = _WIDTH - _RIGHT, _HEIGHT - _BOTTOM
    frame = f"M{_LEFT} {_TOP}V{floor}H{right}"
    found = [part("path", {"d": frame, "fill": "none", "stroke": INK})]
    for value in scale.ticks(axes.whole):
        x = scale.x(value)
        found.append(part("path", {"d": f"M{x} {floor}v5", "stroke": INK}))
        found.append(_text(x, floor + 20, axes.x_text(value), "middle"))
    for quarter in range(5):
        value = scale.y0 + (scale.y1 - scale.y0) * quarter // 4
        y = scale.y(value)
        found.append(part("path", {"d": f"M{_LEFT - 5} {y}h5", "stroke": INK}))
        found.append(_text(_LEFT - 9, y + 4, axes.y_text(value), "end"))
    found.append(_text((_LEFT + right) // 2, _HEIGHT - 14, axes.x_name, "middle"))
    found.append(_text(6, 15, axes.y_name))
    return found


def _stairs(points: Sequence[PlotPoint], scale: _Scale) -> list[ET.Element]:
    """No plan lies below: what the next point allows across takes no less up than this one."""
    if len(points) < 2:
        return []
    ordered = sorted(points, key=lambda point: point.x)
    x, y = scale.at(ordered[0])
    way = f"M{x} {y}"
    for point in ordered[1:]:
        x, y = scale.at(point)
        way += f"H{x}V{y}"
    line = {"d": way, "fill": "none", "stroke": PALE, "stroke-dasharray": "4 3"}
    return [part("path", line)]


def _text(x: int, y: int, words: str, anchor: str = "start") -> ET.Element:
    return part("text", {"x": str(x), "y": str(y), "fill": INK, "text-anchor": anchor}, words)
