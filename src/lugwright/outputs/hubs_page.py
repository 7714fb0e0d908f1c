"""The page that sets hubs side by side: a table in words and small drawings. One file, no script.

Every drawing is seen from the back, each with its legend; a circuit is told by its dashes and,
where there is room, by a label on the wire, never by colour alone.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET  # builds only: nothing foreign is ever parsed
from collections.abc import Sequence
from dataclasses import fields

from lugwright.base.cautions import ALWAYS
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.drawing.small import circuit_dashes, small_blank, small_view
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
from lugwright.outputs.plot import part
from lugwright.outputs.sides import side_notes
from lugwright.outputs.words import colour_text
from lugwright.plans.panel import Panel
from lugwright.plans.schema import Plan

HUBS_PAGE = "hubs.html"
_PLACE = "<drawing></drawing>"
_HUBS_ABREAST = 5  # columns of one table, the best hub first in each: fits 1100 px and A4 across
STYLE = (
    "body{font-family:sans-serif;color:#1a1a1a;background:#fff;margin:1.5rem;line-height:1.4}"
    "table.hubs{table-layout:fixed;margin-bottom:1rem}table.hubs th,table.hubs td{width:11rem;"
    "overflow-wrap:anywhere}table.hubs th[scope=row]{width:8rem;font-weight:normal}"
    "table{border-collapse:collapse;font-size:.85rem}"
    "th,td{border-bottom:1px solid #bbb;padding:.25rem .5rem;text-align:left;vertical-align:top}"
    "td.n{text-align:right}div.wide{overflow-x:auto}"
    "div.side{display:flex;flex-wrap:wrap;gap:1rem}"
    "figure{margin:0;border:1px solid #bbb;padding:.6rem;width:30rem;max-width:100%;"
    "box-sizing:border-box;break-inside:avoid}"
    "figcaption{font-weight:bold;margin-bottom:.4rem}figcaption span{font-weight:normal}"
    "svg{width:100%;height:auto}"
)


def hubs_page(
    rows: Sequence[HubRow],
    console: str,
    panel: Panel,
    told: Sequence[str] = (),
    more: Sequence[ET.Element] = (),
) -> str:
    """The whole page for a console of that title.

    ``panel`` is drawn where a hub has no plan. ``told`` are sentences under the heading, ``more``
    parts at the end.
    """
    title = f"Hubs side by side: {console}"
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
            part("h2", {}, "Cautions"),
            part("ul", {}, *(part("li", {}, text) for text in _cautions(rows))),
            *sentences,
            *(part("div", {"class": "wide"}, table) for table in _tables(rows)),
            part("h2", {}, "Drawings, seen from the back"),
            *(part("p", {}, note) for note in side_notes(panel)),
            part("div", {"class": "side"}, *(_figure(row, rows) for row in rows)),
            *more,
        ),
    )
    text = ET.tostring(page, encoding="unicode", method="html")
    for row in rows:
        # nobody's words can look like this: what they write is escaped
        text = text.replace(_PLACE, _drawing(row, panel), 1)
    return f"<!DOCTYPE html>\n{text}\n"


def _cautions(rows: Sequence[HubRow]) -> Sequence[str]:
    """Those of the best plan; without any plan, those of every sheet."""
    best = best_row(rows)
    return best.plan.cautions if best and best.plan else ALWAYS


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


def _tables(rows: Sequence[HubRow]) -> list[ET.Element]:
    """Every figure of every hub, a column per hub, the best one beside all others.

    A figure that says nothing anywhere is left out.
    """
    best = best_row(rows)
    lines = [line_of(row, best) for row in rows]
    figures = [f.name for f in fields(HubLine) if any(getattr(line, f.name) for line in lines)]
    first = [line_of(best, best)] if best else []
    others = [line for line in lines if line not in first]
    abreast = _HUBS_ABREAST - len(first)
    groups = [others[at : at + abreast] for at in range(0, len(others), abreast)] or [[]]
    return [_table([*first, *group], figures[1:]) for group in groups]


def _table(lines: Sequence[HubLine], figures: Sequence[str]) -> ET.Element:
    """One table: hubs across, figures down."""
    corner = part("td")
    head = part("tr", {}, corner, *(part("th", {"scope": "col"}, line.hub) for line in lines))
    body = [
        part(
            "tr",
            {},
            part("th", {"scope": "row"}, column_words(figure)),
            *(part("td", {}, str(getattr(line, figure))) for line in lines),
        )
        for figure in figures
    ]
    return part("table", {"class": "hubs"}, part("thead", {}, head), part("tbody", {}, *body))


def column_words(name: str) -> str:
    """A column's heading with its unit behind a comma."""
    for suffix, unit in (("_mm", "mm"), ("_mv", "mV")):
        if name.endswith(suffix):
            return f"{name.removesuffix(suffix).replace('_', ' ')}, {unit}"
    return name.replace("_", " ")


def _figure(row: HubRow, rows: Sequence[HubRow]) -> ET.Element:
    """One hub: its name, how it compares or why it has no plan, room for its drawing."""
    told = difference_text(row, best_row(rows)) or reason_text(row)
    gap = gap_text(row)
    words = f": {told}" + (f"; {gap}" if gap else "")
    caption = part("figcaption", {}, hub_label(row), part("span", {}, words.rstrip(": ")))
    legend = [_legend(row.plan)] if row.plan else []
    return part("figure", {}, caption, part("drawing"), *legend)


def _drawing(row: HubRow, panel: Panel) -> str:
    """The panel from the back, with the hub's plan in it where there is one."""
    if row.plan is None:
        title = f"The panel seen from the back, hub {row.hub}: no plan"
        return small_blank(panel, title, row.hub)
    return small_view(row.plan)


def _legend(plan: Plan) -> ET.Element:
    """Every circuit's line with its name, colour and wire size in words."""
    dashes, entries = circuit_dashes(plan), []
    for wire in plan.circuit_wires:
        if not wire.wire_size:
            continue
        paint = paint_of(wire.colour)
        line = {"d": "M0 5H46", "stroke": paint.border or paint.fill, "stroke-width": "3"}
        if dash := dashes[wire.circuit]:
            line["stroke-dasharray"] = " ".join(f"{length * 4.5:g}" for length in dash)
        sample = {"viewBox": "0 0 48 10", "style": "width:3rem;height:.6rem", "aria-hidden": "true"}
        colour = colour_text(wire.colour, wire.colour_code)
        words = f"{wire.circuit}: {colour}, {wire.wire_size}"
        entries.append(part("div", {}, part("svg", sample, part("path", line)), "\u00a0", words))
    return part("div", {}, *entries)
