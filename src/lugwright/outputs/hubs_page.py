"""The page that sets hubs side by side: tables and small drawings, on the frame all pages share.

Every drawing is seen from the back, each with its legend; a circuit is told by its dashes and,
where there is room, by a label on the wire, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

from lugwright.base.version import __version__
from lugwright.outputs.before import Before
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.drawing.small import circuit_dashes, small_blank
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
from lugwright.outputs.looks import Picture
from lugwright.outputs.pages.render import Head, head_of, render_under
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.sides import side_notes
from lugwright.outputs.words import colour_text
from lugwright.plans.panel import Panel
from lugwright.plans.schema import Plan

HUBS_PAGE = "hubs.html"
TIGHT_TITLE = "Tight spots: one step more, and what it would save"
_HUBS_ABREAST = 5  # columns of one table, the best hub first in each: fits 1100 px and A4 across


@dataclass(frozen=True)
class TradeShown:
    """One thing against another as the page shows it: sentences, table, plot.

    A column whose name begins with ``>`` is set to the right.
    """

    title: str
    told: Sequence[str]
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]
    plot: Picture


def hubs_page(
    rows: Sequence[HubRow],
    before: Before,
    told: Sequence[str] = (),
    trades: Sequence[TradeShown] = (),
    tight: Sequence[str] = (),
) -> str:
    """The whole page.

    ``before`` is what is known of the console without a plan: its panel is drawn where a hub has
    none. ``told`` are sentences under the heading, ``tight`` lines on tight spots.
    """
    shown = {row.hub: ShownPlan(row.plan) for row in rows if row.plan}
    facts = {
        "told": [line for line in (why_best(rows), *told) if line],
        "tables": _tables(rows, shown),
        "figures": [_figure(row, rows, shown.get(row.hub), before.panel) for row in rows],
        "trades": trades,
        "tight": tight,
        "tight_title": TIGHT_TITLE,
        "long_words": False,
    }
    return render_under(
        *(_head(rows, shown, before), Paper(), "hubs.html.j2", facts),
        sheet="Hubs side by side",
        side="back",
    )


def _head(rows: Sequence[HubRow], shown: Mapping[str, ShownPlan], before: Before) -> Head:
    """That of the best plan; without any plan, what is known before one."""
    best = best_row(rows)
    if best and best.plan:
        return head_of(shown[best.hub])
    made_with = f"lugwright {__version__}"
    notes = side_notes(before.panel)
    return Head(before.title, before.rule_set, "", made_with, before.cautions, notes=notes)


@dataclass(frozen=True)
class _Table:
    """Hubs across, figures down."""

    hubs: Sequence[str]
    figures: Sequence[tuple[str, Sequence[str]]]


def _tables(rows: Sequence[HubRow], shown: Mapping[str, ShownPlan]) -> list[_Table]:
    """Every figure of every hub, a column per hub, the best one beside all others.

    A figure that says nothing anywhere is left out.
    """
    best = best_row(rows)
    others = [row for row in rows if row is not best]
    first = [best] if best else []
    abreast = _HUBS_ABREAST - len(first)
    groups = [others[at : at + abreast] for at in range(0, len(others), abreast)] or [[]]
    lines = [line_of(row, best) for row in rows]
    names = [f.name for f in fields(HubLine) if any(getattr(line, f.name) for line in lines)]
    numbers = {hub: one.digest for hub, one in shown.items()}
    return [_table([*first, *group], best, names[1:], numbers) for group in groups]


def _table(
    rows: Sequence[HubRow], best: HubRow | None, names: Sequence[str], numbers: Mapping[str, str]
) -> _Table:
    lines = [line_of(row, best) for row in rows]
    figures = [(column_words(x), [str(getattr(line, x)) for line in lines]) for x in names]
    told = [numbers.get(row.hub, "") for row in rows]
    if any(told):
        figures.append(("plan", told))
    return _Table([line.hub for line in lines], figures)


def column_words(name: str) -> str:
    """A column's heading with its unit behind a comma."""
    for suffix, unit in (("_mm", "mm"), ("_mv", "mV")):
        if name.endswith(suffix):
            return f"{name.removesuffix(suffix).replace('_', ' ')}, {unit}"
    return name.replace("_", " ")


@dataclass(frozen=True)
class _Line:
    """A circuit's line in a legend: its looks, and what it is."""

    looks: Mapping[str, str]
    words: str


@dataclass(frozen=True)
class _Figure:
    """One hub: its name, how it compares or why it has no plan, its drawing and legend."""

    hub: str
    words: str
    drawing: Picture
    legend: Sequence[_Line]


def _figure(
    row: HubRow, rows: Sequence[HubRow], shown: ShownPlan | None, panel: Panel
) -> _Figure:
    told = difference_text(row, best_row(rows)) or reason_text(row)
    words = "; ".join(filter(None, (told, gap_text(row))))
    legend = _legend(shown.plan) if shown else ()
    return _Figure(hub_label(row), words, _drawing(row, shown, panel), legend)


def _drawing(row: HubRow, shown: ShownPlan | None, panel: Panel) -> Picture:
    """The panel from the back, with the hub's plan in it where there is one."""
    if shown is None:
        title = f"The panel seen from the back, hub {row.hub}: no plan"
        return small_blank(panel, title, row.hub)
    return shown.drawn.small


def _legend(plan: Plan) -> Sequence[_Line]:
    """Every circuit's line with its name, colour and wire size in words."""
    dashes, found = circuit_dashes(plan), []
    for wire in plan.circuit_wires:
        if wire.wire_size:
            paint = paint_of(wire.colour)
            lengths = " ".join(f"{length * 4.5:g}" for length in dashes[wire.circuit])
            colour = colour_text(wire.colour, wire.colour_code)
            words = f"{wire.circuit}: {colour}, {wire.wire_size}"
            looks = {"stroke": paint.border or paint.fill, "stroke-width": "3"}
            looks |= {"stroke-dasharray": lengths} if lengths else {}
            found.append(_Line(looks, words))
    return found
