"""SVG parts, and the plot of wire length against stacked lugs. Plain: no script, no font file."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # builds only: nothing foreign is ever parsed
from collections.abc import Sequence
from dataclasses import dataclass

from lugwright.base.scale import mm_text
from lugwright.outputs.words import one_line

SVG = "http://www.w3.org/2000/svg"
INK, PALE = "#1a1a1a", "#8a8a8a"
_WIDTH, _HEIGHT = 640, 400
_LEFT, _RIGHT, _TOP, _BOTTOM = 90, 24, 24, 60


def part(
    tag: str, attributes: dict[str, str] | None = None, *inside: ET.Element | str
) -> ET.Element:
    """An element with its attributes, holding text and elements in order."""
    made = ET.Element(tag, attributes or {})
    last: ET.Element | None = None
    for each in inside:
        if isinstance(each, ET.Element):
            made.append(each)
            last = each
        elif last is None:
            made.text = (made.text or "") + _clean(each)
        else:
            last.tail = (last.tail or "") + _clean(each)
    return made


def _clean(text: str) -> str:
    """One line, a no-break space by itself kept."""
    return text if text == "\u00a0" else one_line(text)


@dataclass(frozen=True)
class PlotPoint:
    """One plan in the plot: 0.1 mm of wire, stacked lugs, and its name beside it."""

    stacked: int
    wire_dmm: int
    label: str


def frontier_svg(points: Sequence[PlotPoint], hand: PlotPoint | None) -> str:
    """The frontier as a file of its own; the plan made by eye is a cross."""
    drawing = frontier_plot(points, hand)
    drawing.set("xmlns", SVG)
    ET.indent(drawing)
    return ET.tostring(drawing, encoding="unicode") + "\n"


def frontier_plot(points: Sequence[PlotPoint], hand: PlotPoint | None) -> ET.Element:
    """Wire length over stacked lugs, the proved points joined by the stairs below which no plan is.

    An empty frontier gives the axes alone.
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
        part("title", {}, "Wire length against stacked lugs"),
    )
    made.extend(_axes(scale))
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
    return made


class _Scale:
    """From stacked lugs and 0.1 mm to places in the picture."""

    def __init__(self, points: Sequence[PlotPoint]) -> None:
        stacked = [point.stacked for point in points] or [0]
        wire = [point.wire_dmm for point in points] or [0]
        self.x0, self.x1 = min(stacked), max(max(stacked), min(stacked) + 1)
        room = max(10, (max(wire) - min(wire)) // 10)
        self.y0, self.y1 = max(0, min(wire) - room), max(wire) + room

    def x(self, stacked: int) -> int:
        return (
            _LEFT + 20 + (stacked - self.x0) * (_WIDTH - _LEFT - _RIGHT - 60) // (self.x1 - self.x0)
        )

    def y(self, wire_dmm: int) -> int:
        high = _HEIGHT - _TOP - _BOTTOM
        return _HEIGHT - _BOTTOM - (wire_dmm - self.y0) * high // (self.y1 - self.y0)

    def at(self, point: PlotPoint) -> tuple[int, int]:
        return self.x(point.stacked), self.y(point.wire_dmm)


def _axes(scale: _Scale) -> list[ET.Element]:
    right, floor = _WIDTH - _RIGHT, _HEIGHT - _BOTTOM
    frame = f"M{_LEFT} {_TOP}V{floor}H{right}"
    found = [part("path", {"d": frame, "fill": "none", "stroke": INK})]
    step = max(1, (scale.x1 - scale.x0) // 10)
    for stacked in range(scale.x0, scale.x1 + 1, step):
        x = scale.x(stacked)
        found.append(part("path", {"d": f"M{x} {floor}v5", "stroke": INK}))
        found.append(_text(x, floor + 20, str(stacked), "middle"))
    for quarter in range(5):
        wire_dmm = scale.y0 + (scale.y1 - scale.y0) * quarter // 4
        y = scale.y(wire_dmm)
        found.append(part("path", {"d": f"M{_LEFT - 5} {y}h5", "stroke": INK}))
        found.append(_text(_LEFT - 9, y + 4, mm_text(wire_dmm), "end"))
    found.append(_text((_LEFT + right) // 2, _HEIGHT - 14, "stacked lugs", "middle"))
    found.append(_text(6, 15, "wire, mm"))
    return found


def _stairs(points: Sequence[PlotPoint], scale: _Scale) -> list[ET.Element]:
    """No plan lies below: as many lugs as the next point allow no less wire than this one."""
    if len(points) < 2:
        return []
    ordered = sorted(points, key=lambda point: point.stacked)
    x, y = scale.at(ordered[0])
    way = f"M{x} {y}"
    for point in ordered[1:]:
        x, y = scale.at(point)
        way += f"H{x}V{y}"
    line = {"d": way, "fill": "none", "stroke": PALE, "stroke-dasharray": "4 3"}
    return [part("path", line)]


def _text(x: int, y: int, words: str, anchor: str = "start") -> ET.Element:
    return part("text", {"x": str(x), "y": str(y), "fill": INK, "text-anchor": anchor}, words)
