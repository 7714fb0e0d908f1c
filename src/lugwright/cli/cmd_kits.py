"""``lugwright kits``: a production run of N boats, as kits, batches, buy list and sheets."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options, production_options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say
from lugwright.outputs.words import one_line

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1


@click.command("kits", short_help="Make a run of N boats: kits, batches, buy list, sheets.")
@production_options.plans_argument
@production_options.boats_option
@click.option(
    "--serial",
    "serials",
    multiple=True,
    metavar="FIRST",
    help="Serial number of a plan's first boat (SK-101); once for each plan.",
)
@production_options.wire_options
@click.option(
    "--times",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    metavar="TOML",
    help="Your shop's minutes of setting up (default: a built-in table).",
)
@options.time_option
@options.out_option
@options.json_option
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    plans: tuple[Path, ...],
    boats: tuple[int, ...],
    serials: tuple[str, ...],
    on_hand: Path | None,
    keep: str,
    least: str,
    times: Path | None,
    seconds: float | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Gather a production run: N boats of each PLAN, one model or a mix.

    What goes into one kit, what is bought in whole packs, how wire is cut from spools, batches
    to cut and crimp, minutes and money for a boat and for the run. With --out a folder of tables
    and a sheet for every boat. Ends with 0, or 4 when the spool plan was not proved in time.
    """
    from lugwright.cli.answers.kits import as_data, as_lines, write_run
    from lugwright.production.spool_plan import read_on_hand
    from lugwright.production.times import built_in_times, read_times
    from lugwright.production.whole_run import check_gathered, gather

    models = production_options.read_models(plans, boats, serials)
    known = {piece.spool for model in models for piece in model.plan.jumpers}
    try:
        run = gather(
            models,
            times=read_times(times) if times else built_in_times(),
            on_hand=read_on_hand(on_hand, known) if on_hand else {},
            keep_dmm=production_options.keep_dmm(keep),
            least=production_options.least_of(least),
            time_limit_s=seconds,
        )
    except ValueError as error:
        raise BadInput(Complaint("PLAN", 0, 0, "", str(error))) from error
    report = check_gathered(run)
    if not report.passed:
        click.echo("\n".join(one_line(str(finding)) for finding in report.findings), err=True)
        ctx.exit(Exit.REJECTED)
    code = Exit.DONE if run.proved else Exit.NOT_PROVED
    files = write_run(run, out) if out else ()
    data = as_data(run, code, files)
    say(options.json_text("kits", ANSWER_FORMAT, data) if as_json else "\n".join(as_lines(run)))
    if files and not as_json and out is not None:
        click.echo(f"{len(files)} files in {out.as_posix()}", err=True)
    ctx.exit(code)
