"""One number per line, drawn as a bar from the line of nought; numbers stand beside the bars."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # builds only: nothing foreign is ever parsed

from lugwright.outputs.overview.content import Bar, Bars
from lugwright.outputs.svg_parts import INK, PALE, Built, part

_WIDTH, _LABEL, _NUMBER, _LINE = 720, 190, 110, 18
_MOST_LABEL = 26  # characters of a label; the whole of it stands in the bar's title


def bars_drawn(drawing: Bars) -> Built:
    """The drawing. A bar below nought runs to the left and is hatched by its outline."""
    bars = drawing.bars
    least = min(0, *(bar.value for bar in bars), 0)
    span = max(1, max(0, *(bar.value for bar in bars), 0) - least)
    left = _LABEL + (_NUMBER if least else 0)  # numbers of bars to the left stand there
    room = _WIDTH - left - _NUMBER
    zero = left + room * -least // span
    made = part(
        "svg",
        {
            "viewBox": f"0 0 {_WIDTH} {_LINE * len(bars) + 8}",
            "role": "img",
            "font-family": "sans-serif",
            "font-size": "12",
        },
        part("title", {}, drawing.about),
    )
    for number, bar in enumerate(bars):
        made.append(_line(bar, 4 + _LINE * number, zero, room * bar.value // span))
    axis = {"d": f"M{zero} 0V{_LINE * len(bars) + 8}", "stroke": INK}
    made.append(part("path", axis))
    return Built(made)


def _line(bar: Bar, top: int, zero: int, length: int) -> ET.Element:
    """One label, its bar and its number."""
    shown = bar.label if len(bar.label) <= _MOST_LABEL else bar.label[: _MOST_LABEL - 1] + "…"
    base = str(top + 12)
    box = {
        "x": str(min(zero, zero + length)),
        "y": str(top + 2),
        "width": str(abs(length)),
        "height": str(_LINE - 6),
        "fill": PALE if length >= 0 else "none",
        "stroke": INK,
    }
    end = zero + length
    at = {"x": str(end + 6 if length >= 0 else end - 6), "y": base, "fill": INK}
    at["text-anchor"] = "start" if length >= 0 else "end"
    return part(
        "g",
        {},
        part("title", {}, f"{bar.label}: {bar.text}"),
        part("text", {"x": "0", "y": base, "fill": INK}, shown),
        part("rect", box),
        part("text", at, bar.text),
    )
