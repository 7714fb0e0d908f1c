"""``lugwright hubs``: every hub candidate side by side, each at its own proved best."""

from __future__ import annotations

import time
from pathlib import Path

import click

from lugwright.base import stop
from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.progress_line import telling
from lugwright.cli.talk import say
from lugwright.outputs.hubs_table import COLUMNS, hubs_csv
from lugwright.outputs.plot import TRADES

PLANS_FOLDER = Path("plans")
NO_PAGE = "Interrupted; the page hubs.html was not made."


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
    from lugwright.cli.answers.hubs import answer_text, exit_of, told_text, write_page
    from lugwright.cli.answers.hubs_asked import told_of
    from lugwright.outputs.folder import check_target
    from lugwright.outputs.one_file import check_one, put_one

    target = out or PLANS_FOLDER / scenario.stem
    check_target(target)
    given = options.inputs_of(ctx, "out", "csv_file")
    if csv_file is not None:
        check_one(csv_file, "--csv", given, overwrite=overwrite)
    objectives = options.with_objective(settings, objective)
    brief = pipeline.read_inputs(scenario, limits_file, stock_folder, rule_set, objectives)
    brief = pipeline.holding(brief, holds)
    wanted = [name for name in TRADES if name in trades or (frontier and name == TRADES[0])]
    until_s = None if seconds is None else time.monotonic() + seconds
    posed = pipeline.pose(brief)
    with stop.keeping(), telling(quiet=quiet) as listener:
        told = told_of(brief, posed, wanted, tight=tight, until_s=until_s, progress=listener)
        told = told.sorted_by(column, backwards=backwards)
        code = exit_of(told.table, told.frontiers, told.spots)
        page = None if stop.asked() else write_page(brief, told, target)
        if stop.asked() and code is not Exit.REJECTED:
            code = Exit.INTERRUPTED
        if csv_file is not None:
            put_one(csv_file, hubs_csv(told.rows).encode(), "--csv", given, overwrite=overwrite)
        say(answer_text(told, code, page) if as_json else told_text(told))
    if page is None or not quiet:
        options.tell(f"page: {page.as_posix()}" if page else NO_PAGE)
    ctx.exit(code)
