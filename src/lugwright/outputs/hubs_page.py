"""The page that sets hubs side by side: a table in words and small drawings. One file, no script.

Every drawing is seen from the back. Bodies are outlines, wires coloured lines set off by a white
gap; a circuit is told by its name on every wire and by its dashes, never by colour alone.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET  # builds only: nothing foreign is ever parsed
from collections.abc import Sequence
from dataclasses import dataclass, fields

from lugwright.outputs.hubs_table import (
    HubLine,
    HubRow,
    best_row,
    difference_text,
    gap_text,
    hub_label,
    line_of,
    reason_text,
    why_best,
)
from lugwright.outputs.plot import INK, PALE, part
from lugwright.outputs.words import one_line
from lugwright.plan.schema import Jumper, Plan

HUBS_PAGE = "hubs.html"
# the published colour names as screens show them; the name always stands beside the line
SCREEN = {
    "black": "#111111",
    "blue": "#2060c0",
    "brown": "#7a4a1e",
    "dark blue": "#10307a",
    "gray": "#777777",
    "green": "#1f7a36",
    "light blue": "#4aa3d8",
    "orange": "#d9730d",
    "pink": "#d8709a",
    "purple": "#7a2a9a",
    "red": "#c02020",
    "tan": "#b08a5a",
    "white": "#cfcfcf",
    "yellow": "#b89b00",
}
DASHES = ("", "14 5", "4 4", "16 4 3 4", "9 3 3 3 3 3")
STYLE = (
    "body{font-family:sans-serif;color:#1a1a1a;background:#fff;margin:1.5rem;line-height:1.4}"
    "table{border-collapse:collapse;font-size:.85rem}"
    "th,td{border-bottom:1px solid #bbb;padding:.25rem .5rem;text-align:left;vertical-align:top}"
    "td.n{text-align:right}div.wide{overflow-x:auto}"
    "div.side{display:flex;flex-wrap:wrap;gap:1rem}"
    "figure{margin:0;border:1px solid #bbb;padding:.6rem;width:30rem;max-width:100%;"
    "box-sizing:border-box;break-inside:avoid}"
    "figcaption{font-weight:bold;margin-bottom:.4rem}figcaption span{font-weight:normal}"
    "svg{width:100%;height:auto}"
)


@dataclass(frozen=True)
class Body:
    """Outline of a body: centre and size in 0.1 mm, seen from the back; ``round`` or square."""

    name: str
    x_dmm: int
    y_dmm: int
    width_dmm: int
    height_dmm: int
    round: bool


@dataclass(frozen=True)
class Backdrop:
    """What every drawing of a console shows: plate, bodies and posts, 0.1 mm, from the back."""

    title: str
    width_dmm: int
    height_dmm: int
    bodies: tuple[Body, ...]
    posts: tuple[tuple[str, int, int], ...]


def hubs_page(
    rows: Sequence[HubRow],
    backdrop: Backdrop,
    told: Sequence[str] = (),
    more: Sequence[ET.Element] = (),
) -> str:
    """The whole page. ``told`` are sentences under the heading, ``more`` parts at the end."""
    title = f"Hubs side by side: {backdrop.title}"
    sentences = [part("p", {}, line) for line in (why_best(rows), *told) if line]
    page = part(
        "html",
        {"lang": "en"},
        part(
            "head",
            {},
            part("meta", {"charset": "utf-8"}),
            part("meta", {"name": "viewport", "content": "width=device-width"}),
            part("title", {}, title),
            part("style", {}, STYLE),
        ),
        part(
            "body",
            {},
            part("h1", {}, title),
            *sentences,
            part("div", {"class": "wide"}, _table(rows)),
            part("h2", {}, "Drawings, seen from the back"),
            part("div", {"class": "side"}, *(_figure(row, rows, backdrop) for row in rows)),
            *more,
        ),
    )
    text = ET.tostring(page, encoding="unicode", method="html")
    return f"<!DOCTYPE html>\n{text}\n"


_NUMBERS = frozenset(
    f.name for f in fields(HubLine) if f.name.endswith(("_mm", "_mv", "_cost", "minutes"))
) | {"jumpers", "fittings", "stacked_lugs", "tallest_stack", "splices"}


def table_part(
    columns: Sequence[str], lines: Sequence[Sequence[str]], right: Sequence[int]
) -> ET.Element:
    """A table with a heading; columns named in ``right`` are set to the right."""
    head = part("tr", {}, *(part("th", {"scope": "col"}, name) for name in columns))
    body = []
    for line in lines:
        cells = [
            part("td", {"class": "n"} if index in right else {}, cell)
            for index, cell in enumerate(line)
        ]
        body.append(part("tr", {}, *cells))
    return part("table", {}, part("thead", {}, head), part("tbody", {}, *body))


def _table(rows: Sequence[HubRow]) -> ET.Element:
    """Every figure of every hub; a column that says nothing anywhere is left out."""
    best = best_row(rows)
    lines = [line_of(row, best) for row in rows]
    names = [f.name for f in fields(HubLine) if any(getattr(line, f.name) for line in lines)]
    cells = [[str(getattr(line, name)) for name in names] for line in lines]
    right = [index for index, name in enumerate(names) if name in _NUMBERS]
    return table_part([column_words(name) for name in names], cells, right)


def column_words(name: str) -> str:
    """A column's heading with its unit behind a comma."""
    for suffix, unit in (("_mm", "mm"), ("_mv", "mV")):
        if name.endswith(suffix):
            return f"{name.removesuffix(suffix).replace('_', ' ')}, {unit}"
    return name.replace("_", " ")


def _figure(row: HubRow, rows: Sequence[HubRow], backdrop: Backdrop) -> ET.Element:
    """One hub: its name, how it compares, its drawing or the reason why there is none."""
    told = difference_text(row, best_row(rows)) or reason_text(row)
    gap = gap_text(row)
    words = f": {told}" + (f"; {gap}" if gap else "")
    caption = part("figcaption", {}, hub_label(row), part("span", {}, words.rstrip(": ")))
    if row.plan is None:
        return part("figure", {}, caption, _drawing(backdrop, None, row.hub))
    return part("figure", {}, caption, _drawing(backdrop, row.plan, row.hub), _legend(row.plan))


def _dashes(plan: Plan) -> dict[str, str]:
    return {
        wire.circuit: DASHES[index % len(DASHES)] for index, wire in enumerate(plan.circuit_wires)
    }


def _screen(colour: str) -> str:
    return SCREEN.get(colour, INK)


def _legend(plan: Plan) -> ET.Element:
    """Every circuit's line with its name, colour and wire size in words."""
    dashes, entries = _dashes(plan), []
    for wire in plan.circuit_wires:
        if not wire.wire_size:
            continue
        line = {
            "d": "M0 5H46",
            "stroke": _screen(wire.colour),
            "stroke-width": "3",
            "stroke-dasharray": dashes[wire.circuit],
        }
        sample = {"viewBox": "0 0 48 10", "style": "width:3rem;height:.6rem", "aria-hidden": "true"}
        words = f"{wire.circuit}: {wire.colour}, {wire.wire_size}"
        entries.append(part("div", {}, part("svg", sample, part("path", line)), "\u00a0", words))
    return part("div", {}, *entries)


def _drawing(backdrop: Backdrop, plan: Plan | None, hub: str) -> ET.Element:
    """The panel from the back, with the plan's wires in it."""
    wide, high = backdrop.width_dmm, backdrop.height_dmm
    unit = max(wide, high) / 100
    hubs = {x.post.partition(".")[0] for x in plan.landings} if plan else {hub}
    name = f"The panel seen from the back, hub {hub}"
    made = part(
        "svg",
        {
            "viewBox": f"{-3 * unit:.0f} {-3 * unit:.0f} {wide + 6 * unit:.0f} "
            f"{high + 10 * unit:.0f}",
            "role": "img",
            "font-family": "sans-serif",
            "font-size": f"{2.6 * unit:.0f}",
        },
        part("title", {}, name),
        _outline("rect", unit, x="0", y="0", width=str(wide), height=str(high)),
    )
    pen = _Pen(high, unit)
    for body in backdrop.bodies:
        made.extend(pen.body(body, body.name in hubs))
    if plan:
        dashes = _dashes(plan)
        for jumper in plan.jumpers:
            made.extend(pen.wire(jumper, dashes.get(jumper.circuit, "")))
    for _, x, y in backdrop.posts:
        made.append(pen.post(x, y))
    if plan:
        for jumper in plan.jumpers:
            made.extend(pen.tag(jumper))
    made.extend(pen.mark())
    return made


def _outline(tag: str, unit: float, **attributes: str) -> ET.Element:
    look = {"fill": "none", "stroke": PALE, "stroke-width": f"{unit * 0.3:.1f}"}
    return part(tag, {**attributes, **look})


class _Pen:
    """Draws in the panel's own measure: y upwards from the plate's lower edge."""

    def __init__(self, high: int, unit: float) -> None:
        self.high, self.unit = high, unit

    def body(self, body: Body, is_hub: bool) -> list[ET.Element]:
        """A body in outline with its name; the hub twice, with the word."""
        x, y = body.x_dmm, self.high - body.y_dmm
        wide, high = body.width_dmm, body.height_dmm
        found = []
        for grow in (0.0, 1.2 * self.unit) if is_hub else (0.0,):
            if body.round:
                radius = f"{wide / 2 + grow:.0f}"
                found.append(_outline("circle", self.unit, cx=str(x), cy=str(y), r=radius))
            else:
                box = {
                    "x": f"{x - wide / 2 - grow:.0f}",
                    "y": f"{y - high / 2 - grow:.0f}",
                    "width": f"{wide + 2 * grow:.0f}",
                    "height": f"{high + 2 * grow:.0f}",
                }
                found.append(_outline("rect", self.unit, **box))
            if is_hub:
                found[-1].set("stroke", INK)
        words = f"{body.name} (hub)" if is_hub else body.name
        found.append(self.words(x, y, words, "bold" if is_hub else "normal"))
        return found

    def wire(self, jumper: Jumper, dash: str) -> list[ET.Element]:
        """A wire over its white gap; a pale colour gets an edge."""
        points = " ".join(f"{p.x_dmm},{self.high - p.y_dmm}" for p in jumper.path)
        line = {"points": points, "fill": "none", "stroke-linejoin": "round"}
        gap = {**line, "stroke": "#ffffff", "stroke-width": f"{2.2 * self.unit:.0f}"}
        own = {
            **line,
            "stroke": _screen(jumper.colour),
            "stroke-width": f"{0.8 * self.unit:.1f}",
        }
        if dash:
            own["stroke-dasharray"] = " ".join(
                f"{float(length) * self.unit / 6:.0f}" for length in dash.split()
            )
        return [part("polyline", gap), part("polyline", own)]

    def tag(self, jumper: Jumper) -> list[ET.Element]:
        """Circuit and number, at the middle of the wire's longest leg."""
        legs = [
            ((a.x_dmm - b.x_dmm) ** 2 + (a.y_dmm - b.y_dmm) ** 2, -index, a, b)
            for index, (a, b) in enumerate(zip(jumper.path, jumper.path[1:], strict=False))
        ]
        if not legs:
            return []
        _, _, a, b = max(legs, key=lambda leg: leg[:2])
        x, y = (a.x_dmm + b.x_dmm) // 2, self.high - (a.y_dmm + b.y_dmm) // 2
        return [self.words(x, y, jumper.label, "normal")]

    def post(self, x: int, y: int) -> ET.Element:
        """A post as a small ring."""
        ring = {"cx": str(x), "cy": str(self.high - y), "r": f"{0.9 * self.unit:.0f}"}
        look = {"fill": "#ffffff", "stroke": INK, "stroke-width": f"{0.3 * self.unit:.1f}"}
        return part("circle", {**ring, **look})

    def words(self, x: float, y: float, words: str, weight: str) -> ET.Element:
        """Text in the middle of a place, set off by white."""
        look = {
            "text-anchor": "middle",
            "paint-order": "stroke",
            "stroke": "#ffffff",
            "stroke-width": f"{0.8 * self.unit:.1f}",
            "fill": INK,
            "font-weight": weight,
        }
        return part("text", {"x": f"{x:.0f}", "y": f"{y:.0f}", **look}, one_line(words))

    def mark(self) -> list[ET.Element]:
        """The side shown, in words, and a corner mark that a mirror would put elsewhere."""
        unit, high = self.unit, self.high
        corner = f"M0 {high:.0f}h{4 * unit:.0f}l{-4 * unit:.0f} {-4 * unit:.0f}z"
        words = "seen from the back; the black corner is at the lower left"
        text = {"x": "0", "y": f"{high + 4.5 * unit:.0f}", "fill": INK}
        return [part("path", {"d": corner, "fill": INK}), part("text", text, words)]
