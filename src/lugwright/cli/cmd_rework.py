"""``lugwright rework``: plan anew a console that already has a harness, changing little."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import exit_for
from lugwright.cli.progress_line import telling
from lugwright.cli.talk import say

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1
BUILT = click.Path(exists=True, readable=True, path_type=Path)


@click.command("rework", short_help="Plan a built console again; keep what pays to keep.")
@options.scenario_argument
@click.argument("built", metavar="BUILT", type=BUILT)
@click.option(
    "--change-worth",
    default=None,
    metavar="WORTH",
    help="What one change is worth: a length (100 mm), or money where the objective is cheapest "
    "(2.50). Default: 100 mm, or 2.00.",
)
@options.limits_options
@options.stock_option
@options.objective_option
@options.time_option
@options.out_option
@click.option(
    "--sheet",
    type=click.Path(dir_okay=False, writable=True, path_type=Path),
    metavar="PDF",
    help="Write the work to do as a sheet with boxes to tick.",
)
@click.option(
    "--page",
    type=click.Choice(["A4", "Letter"]),
    default="A4",
    show_default=True,
    help="Paper of the sheet.",
)
@options.overwrite_option
@options.json_option
@click.option("--quiet", "-q", is_flag=True, help="Say nothing of how the search goes.")
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    scenario: Path,
    built: Path,
    change_worth: str | None,
    limits_file: Path | None,
    rule_set: str | None,
    settings: tuple[str, ...],
    stock_folder: Path | None,
    objective: str | None,
    seconds: float | None,
    out: Path | None,
    sheet: Path | None,
    overwrite: bool,
    page: str,
    as_json: bool,
    quiet: bool,
) -> None:
    """Plan SCENARIO, whose panel carries a harness built to the plan BUILT.

    A jumper moved, taken out or made new, and a pigtail that lands elsewhere, counts as one
    change and is worth so much wire or money; existing jumpers are kept where that costs less
    than replacing them. Only the work to do is told: --sheet prints it, --out
    writes the new plan's folder.
    """
    from lugwright import pipeline
    from lugwright.cli.answers.rework import as_data, as_lines, files_of, worth_of
    from lugwright.outputs.folder import check_target
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.outputs.plan_json import read_unedited
    from lugwright.production.rework import rework

    given = options.inputs_of(ctx, "out", "sheet")
    if out:
        check_target(out)
    if sheet:
        check_one(sheet, "--sheet", given, overwrite=overwrite)
    brief = pipeline.read_inputs(
        scenario, limits_file, stock_folder, rule_set, options.with_objective(settings, objective)
    )
    old, worth = read_unedited(built), worth_of(change_worth, brief.limits)
    with telling(quiet=quiet) as listener:
        found = rework(brief, old, worth, time_limit_s=seconds, listener=listener)
    rejected = found.report is not None and not found.report.passed
    code = exit_for(found.ending, interrupted=found.interrupted, rejected=rejected)
    made = files_of(found, out, sheet is not None, page)
    if sheet and made.sheet:
        put_one(sheet, made.sheet, "--sheet", given, overwrite=overwrite)
    if as_json:
        say(options.json_text("rework", ANSWER_FORMAT, as_data(found, code, made.files)))
    elif found.plan is not None and not rejected:
        say("\n".join(as_lines(found)))
    else:
        click.echo(f"{found.ending.value}: {found.note or 'no plan passes'}", err=True)
    ctx.exit(code)
