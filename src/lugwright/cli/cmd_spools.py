"""``lugwright spools``: which piece of a run is cut from which spool or offcut."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lugwright.cli import options, production_options
from lugwright.cli.exits import Exit
from lugwright.cli.table import table
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.production.spool_plan import SpoolPlan

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
        content = {"exit": int(code), "spools": [_data(one) for one in found]}
        say(options.json_text("spools", ANSWER_FORMAT, content))
    else:
        say("\n".join(_lines(found)))
    if rest is not None:
        data = offcuts_csv(found, hand).encode()
        put_one(rest, data, "--rest", inputs, overwrite=overwrite)
    ctx.exit(code)


def _data(one: SpoolPlan) -> dict[str, Any]:
    packing = one.packing
    return {
        "spool": one.spool,
        "least": one.question.least,
        "proved": packing.proved(one.question.least),
        "need_dmm": one.question.total_dmm,
        "new_spools": packing.spools,
        "new_spools_bound": packing.spools_bound,
        "scrap_dmm": packing.scrap_dmm,
        "scrap_bound_dmm": packing.scrap_bound_dmm,
        "filled": [asdict(filled) | {"rest_dmm": filled.rest_dmm} for filled in packing.filled],
    }


def _lines(found: tuple[SpoolPlan, ...]) -> list[str]:
    from lugwright.base.scale import mm_text
    from lugwright.production.tables import spool_row_runs, spool_rows

    lines: list[str] = []
    for one in found:
        lines += ["", _sentence(one)] if lines else [_sentence(one)]
        rows = [
            (number, row.stock_mm, row.new, row.cuts, row.rest_mm, row.rest_is)
            for number, row in spool_row_runs(spool_rows((one,)))
        ]
        head = ("spool", "length mm", "from", "cut, mm", "rest mm", "rest is")
        lines.append(table(head, rows, right=(1, 4)))
    total = sum(one.packing.scrap_dmm for one in found)
    news = sum(one.packing.spools for one in found)
    return [*lines, "", f"New spools {news}; scrap {mm_text(total)} mm."]


def _sentence(one: SpoolPlan) -> str:
    from lugwright.base.scale import mm_text

    packing = one.packing
    if packing.proved(one.question.least):
        known = "proved least"
    else:
        known = (
            f"not proved: at least {packing.spools_bound} new spools and "
            f"{mm_text(packing.scrap_bound_dmm)} mm of scrap"
        )
    return (
        f"{one.spool}: {mm_text(one.question.total_dmm)} mm wanted, {packing.spools} new spools, "
        f"scrap {mm_text(packing.scrap_dmm)} mm; {known}."
    )
