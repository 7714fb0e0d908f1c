"""``lugwright spools``: which piece of a run is cut from which spool or offcut."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options, production_options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1


@click.command("spools", short_help="Cut a run's wire from spools and offcuts, proved least.")
@production_options.plans_argument
@production_options.boats_option
@production_options.wire_options
@click.option(
    "--rest",
    type=click.Path(dir_okay=False, writable=True, path_type=Path),
    metavar="CSV",
    help="Write what will be on hand after the run, for the next --on-hand.",
)
@options.overwrite_option
@options.time_option
@options.json_option
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    plans: tuple[Path, ...],
    boats: tuple[int, ...],
    on_hand: Path | None,
    keep: str,
    least: str,
    rest: Path | None,
    overwrite: bool,
    seconds: float | None,
    as_json: bool,
) -> None:
    """Say for every spool and offcut what is cut from it, for N boats of each PLAN.

    New spools are least (or scrap, as --least says), proved or with the bound that is known.
    Ends with 0 when all is proved, 4 when time ran out before.
    """
    from lugwright.cli.answers.spools import as_data, as_lines
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.production.spool_plan import read_on_hand, spool_plans
    from lugwright.production.tables import offcuts_csv

    inputs = options.inputs_of(ctx, "rest")
    if rest is not None:
        check_one(rest, "--rest", inputs, overwrite=overwrite)
    models = production_options.read_models(plans, boats)
    known = {piece.spool for model in models for piece in model.plan.jumpers}
    hand = read_on_hand(on_hand, known) if on_hand else {}
    found = spool_plans(
        models,
        hand,
        production_options.keep_dmm(keep),
        production_options.least_of(least),
        time_limit_s=seconds,
    )
    proved = all(one.packing.proved(one.question.least) for one in found)
    code = Exit.DONE if proved else Exit.NOT_PROVED
    if as_json:
        content = {"exit": int(code), "spools": [as_data(one) for one in found]}
        say(options.json_text("spools", ANSWER_FORMAT, content))
    else:
        say("\n".join(as_lines(found)))
    if rest is not None:
        data = offcuts_csv(found, hand).encode()
        put_one(rest, data, "--rest", inputs, overwrite=overwrite)
    ctx.exit(code)
