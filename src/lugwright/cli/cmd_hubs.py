"""``lugwright hubs``: every hub candidate side by side, each at its own proved best."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lugwright.base import stop
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.progress_line import telling
from lugwright.cli.talk import say
from lugwright.outputs.hubs_table import (
    COLUMNS,
    REJECTED,
    HubLine,
    HubRow,
    best_row,
    figures,
    hubs_csv,
    in_order,
    line_of,
    why_best,
)
from lugwright.outputs.plot import TRADES
from lugwright.plans.outcome import Ending

if TYPE_CHECKING:
    from lugwright.pipeline import Inputs
    from lugwright.studies.frontier import TradeOff
    from lugwright.studies.hubs import HubTable
    from lugwright.studies.tight_spots import TightSpots

ANSWER_FORMAT = 1
PLANS_FOLDER = Path("plans")
_WORDS = ("hub", "ending", "difference", "gap", "wire_sizes", "worst_drop_at", "reason")


@click.command("hubs", short_help="Set every hub side by side, each at its own best.")
@options.scenario_argument
@options.out_option
@options.limits_options
@options.stock_option
@options.objective_option
@options.hold_option
@options.time_option
@click.option(
    "--sort",
    "column",
    type=click.Choice(tuple(COLUMNS)),
    default="difference",
    help="Column to sort by, least first (default: difference).",
)
@click.option("--reverse", "backwards", is_flag=True, help="Sort with the largest first.")
@click.option(
    "--csv",
    "csv_file",
    type=click.Path(dir_okay=False, writable=True, path_type=Path),
    metavar="FILE",
    help="Write the table to FILE as CSV.",
)
@options.overwrite_option
@click.option(
    "--frontier",
    is_flag=True,
    help="Also find every plan that no other beats in both wire length and stacked lugs; table "
    "and plot (frontier-wire-lugs.svg).",
)
@click.option(
    "--frontier-of",
    "trades",
    type=click.Choice(TRADES),
    multiple=True,
    help="The same for two other things: what is to be least, and what it is set against. "
    "Drop is the worst drop as a share of what its load is allowed. May be given several times.",
)
@click.option(
    "--tight",
    is_flag=True,
    help="Also move every limit by one step and say what that would save, the best first.",
)
@options.json_option
@click.option("--quiet", "-q", is_flag=True, help="Say nothing of how the search goes.")
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    scenario: Path,
    out: Path | None,
    limits_file: Path | None,
    rule_set: str | None,
    settings: tuple[str, ...],
    stock_folder: Path | None,
    objective: str | None,
    holds: tuple[tuple[str, str], ...],
    seconds: float | None,
    column: str,
    backwards: bool,
    csv_file: Path | None,
    overwrite: bool,
    frontier: bool,
    trades: tuple[str, ...],
    tight: bool,
    as_json: bool,
    quiet: bool,
) -> None:
    """Solve the console of SCENARIO once for every hub candidate and set the plans side by side.

    The table goes to standard output, a page with drawings (hubs.html) into the plan folder,
    which is plans/NAME-OF-THE-SCENARIO without --out. A hub without a plan stays in the table
    with its reason.
    """
    from lugwright import pipeline
    from lugwright.model.variants.trade import TRADES as KNOWN
    from lugwright.outputs.folder import check_target
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.studies.frontier import trade_off
    from lugwright.studies.hubs import compare_hubs
    from lugwright.studies.tight_spots import tight_spots

    target = out or PLANS_FOLDER / scenario.stem
    check_target(target)
    given = options.inputs_of(ctx, "out", "csv_file")
    if csv_file is not None:
        check_one(csv_file, "--csv", given, overwrite=overwrite)
    inputs = pipeline.read_inputs(
        scenario, limits_file, stock_folder, rule_set, options.with_objective(settings, objective)
    )
    inputs = pipeline.holding(inputs, holds)
    started = time.monotonic()
    posed = pipeline.pose(inputs)
    found: list[TradeOff] = []
    wanted = [name for name in TRADES if name in trades or (frontier and name == TRADES[0])]
    spots: TightSpots | None = None
    with stop.keeping(), telling(quiet=quiet) as listener:
        table = compare_hubs(
            inputs, time_limit_s=_left(seconds, started), progress=listener, posed=posed
        )
        stopped = table.interrupted
        with contextlib.suppress(KeyboardInterrupt), stop.raised():
            for name in wanted:
                if not stopped:
                    left_s = _left(seconds, started)
                    found.append(
                        trade_off(
                            inputs, KNOWN[name], time_limit_s=left_s, progress=listener, posed=posed
                        )
                    )
                    stopped = found[-1].interrupted
            if tight and not stopped:
                left_s = _left(seconds, started)
                spots = tight_spots(inputs, time_limit_s=left_s, progress=listener, posed=posed)
        rows = in_order(table.rows, column, backwards=backwards)
        told = Told(rows, table, tuple(found), spots)
        code = exit_of(table, found, spots)
        page = None if stop.asked() else _write(inputs, told, target)
        if stop.asked() and code is not Exit.REJECTED:
            code = Exit.INTERRUPTED
        if csv_file is not None:
            put_one(csv_file, hubs_csv(rows).encode(), "--csv", given, overwrite=overwrite)
        say(_answer(told, code, page) if as_json else _text(told))
    if page is None:
        click.echo("Interrupted; the page hubs.html was not made.", err=True)
    elif not quiet:
        click.echo(f"page: {page.as_posix()}", err=True)
    ctx.exit(code)


@dataclass(frozen=True)
class Told:
    """Everything there is to tell: rows in order, and what else was asked for (None: not)."""

    rows: Sequence[HubRow]
    table: HubTable
    frontiers: Sequence[TradeOff]
    spots: TightSpots | None


def _left(seconds: float | None, started: float) -> float | None:
    """Seconds left of the time given."""
    return None if seconds is None else max(0.0, seconds - time.monotonic() + started)


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


def _write(inputs: Inputs, told: Told, target: Path) -> Path:
    """Write the page, and a plot for each frontier, into their folder; where the page is."""
    from lugwright import pipeline
    from lugwright.outputs.folder import write_beside
    from lugwright.outputs.hubs_page import HUBS_PAGE, TradeShown, hubs_page
    from lugwright.outputs.plot import frontier_svg, plot_file
    from lugwright.studies.frontier import HEAD, RIGHT, axes_of, plot_points
    from lugwright.studies.frontier import rows as lines
    from lugwright.studies.tight_spots import tight_lines

    files, trades = {}, []
    columns = [f">{name}" if index in RIGHT else name for index, name in enumerate(HEAD)]
    for found in told.frontiers:
        axes = axes_of(found.trade)
        plot = frontier_svg(*plot_points(found), axes)
        files[plot_file(found.trade.name)] = plot
        trades.append(TradeShown(axes.title, found.told, columns, lines(found), plot))
    tight = () if told.spots is None else tight_lines(told.spots)
    before = pipeline.before_planning(inputs)
    files[HUBS_PAGE] = hubs_page(told.rows, before, told.table.told, trades, tight)
    write_beside(target, files, options.tell)
    return target / HUBS_PAGE


def _answer(told: Told, code: Exit, page: Path | None) -> str:
    """The table as data: numbers in the units of the program's scales, null where there is no plan.

    ``difference`` is the cost less that of the best hub, level by level.
    """
    from lugwright.studies.frontier import data
    from lugwright.studies.tight_spots import tight_data

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


def _text(told: Told) -> str:
    """The table without what says nothing anywhere, why the best hub is best, and the rest."""
    from lugwright.cli.table import table as aligned
    from lugwright.outputs.hubs_page import TIGHT_TITLE, column_words
    from lugwright.studies.frontier import HEAD, RIGHT, title_of
    from lugwright.studies.frontier import rows as points
    from lugwright.studies.tight_spots import tight_lines

    best = best_row(told.rows)
    lines = [line_of(row, best) for row in told.rows]
    names = [f.name for f in fields(HubLine) if any(getattr(line, f.name) for line in lines)]
    cells = [[getattr(line, name) for name in names] for line in lines]
    right = [index for index, name in enumerate(names) if name not in _WORDS]
    parts = [aligned([column_words(name) for name in names], cells, right=right)]
    parts += [why_best(told.rows), *told.table.told]
    for found in told.frontiers:
        parts.append(title_of(found.trade))
        if found.plans:
            parts.append(aligned(HEAD, points(found), right=RIGHT))
        parts += found.told
    if told.spots is not None:
        parts.append("\n".join((TIGHT_TITLE, *tight_lines(told.spots))))
    return "\n\n".join(part for part in parts if part)
