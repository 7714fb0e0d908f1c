"""What ``lugwright hubs`` answers: how it ends, the page, the table as text and as data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from pathlib import Path
from typing import Any

from lugwright.cli import options
from lugwright.cli.answers.hubs_asked import Told
from lugwright.cli.exits import Exit
from lugwright.cli.table import table
from lugwright.outputs.folder import write_beside
from lugwright.outputs.hubs_page import (
    HUBS_PAGE,
    TIGHT_TITLE,
    TradeShown,
    column_words,
    hubs_page,
)
from lugwright.outputs.hubs_table import (
    REJECTED,
    HubLine,
    HubRow,
    best_row,
    figures,
    line_of,
    why_best,
)
from lugwright.outputs.plot import frontier_plot, plot_file
from lugwright.pipeline import before_planning
from lugwright.plans.outcome import Ending
from lugwright.scenario.brief import Brief
from lugwright.studies.frontier import HEAD, RIGHT, TradeOff, axes_of, data, plot_points, title_of
from lugwright.studies.frontier import rows as points
from lugwright.studies.hubs import HubTable
from lugwright.studies.tight_spots import TightSpots, tight_data, tight_lines

ANSWER_FORMAT = 1
_WORDS = ("hub", "ending", "difference", "gap", "wire_sizes", "worst_drop_at", "reason")


def exit_of(
    table: HubTable, found: Sequence[TradeOff] = (), spots: TightSpots | None = None
) -> Exit:
    """How the command ends: a rejected plan outweighs all, then an interrupt, then what is open."""
    endings = {row.ending for row in table.rows}
    if REJECTED in endings or any(one.rejected for one in found):
        return Exit.REJECTED
    stopped = [one.interrupted for one in found]
    if table.interrupted or any(stopped) or (spots is not None and spots.interrupted):
        return Exit.INTERRUPTED
    planned = any(row.plan is not None for row in table.rows)
    if endings & {Ending.WITHIN_BOUND.value, Ending.NO_ANSWER.value}:
        return Exit.NOT_PROVED if planned else Exit.NO_ANSWER
    if not planned:
        return Exit.NO_PLAN
    unsettled = not all(one.complete for one in found) or (
        spots is not None and bool(spots.unsettled)
    )
    return Exit.NOT_PROVED if unsettled else Exit.DONE


def write_page(brief: Brief, told: Told, target: Path) -> Path:
    """Write the page, and a plot for each frontier, into their folder; where the page is."""
    files, trades = {}, []
    columns = [f">{name}" if index in RIGHT else name for index, name in enumerate(HEAD)]
    for found in told.frontiers:
        axes = axes_of(found.trade)
        plot = frontier_plot(*plot_points(found), axes)
        files[plot_file(found.trade.name)] = plot.file()
        trades.append(TradeShown(axes.title, found.told, columns, points(found), plot))
    tight = () if told.spots is None else tight_lines(told.spots)
    before = before_planning(brief)
    files[HUBS_PAGE] = hubs_page(told.rows, before, told.table.told, trades, tight)
    write_beside(target, files, options.tell)
    return target / HUBS_PAGE


def answer_text(told: Told, code: Exit, page: Path | None) -> str:
    """The table as data: numbers in the units of the program's scales, null where there is no plan.

    ``difference`` is the cost less that of the best hub, level by level.
    """
    best = best_row(told.rows)
    content = {
        "exit": int(code),
        "interrupted": code is Exit.INTERRUPTED,
        "best": None if best is None else best.hub,
        "why": why_best(told.rows),
        "told": list(told.table.told),
        "page": page.as_posix() if page else None,
        "hubs": [_row_data(row, best) for row in told.rows],
        "frontiers": [data(found) for found in told.frontiers],
        "tight": None if told.spots is None else tight_data(told.spots),
    }
    return options.json_text("hubs", ANSWER_FORMAT, content)


def _row_data(row: HubRow, best: HubRow | None) -> dict[str, Any]:
    known = row.plan is not None and best is not None
    least = best.cost if best is not None else ()
    return {
        "hub": row.hub,
        "ending": row.ending,
        "levels": list(row.levels),
        "cost": list(row.cost) if row.cost else None,
        "bound": list(row.bound) if row.bound else None,
        "difference": [a - b for a, b in zip(row.cost, least, strict=True)] if known else None,
        "reason": line_of(row, best).reason,
        "landings": {x.circuit: x.post for x in row.plan.landings} if row.plan else None,
        **figures(row),
    }


def told_text(told: Told) -> str:
    """The table without what says nothing anywhere, why the best hub is best, and the rest."""
    best = best_row(told.rows)
    lines = [line_of(row, best) for row in told.rows]
    names = [f.name for f in fields(HubLine) if any(getattr(line, f.name) for line in lines)]
    cells = [[getattr(line, name) for name in names] for line in lines]
    right = [index for index, name in enumerate(names) if name not in _WORDS]
    parts = [table([column_words(name) for name in names], cells, right=right)]
    parts += [why_best(told.rows), *told.table.told]
    for found in told.frontiers:
        parts.append(title_of(found.trade))
        if found.plans:
            parts.append(table(HEAD, points(found), right=RIGHT))
        parts += found.told
    if told.spots is not None:
        parts.append("\n".join((TIGHT_TITLE, *tight_lines(told.spots))))
    return "\n\n".join(part for part in parts if part)
