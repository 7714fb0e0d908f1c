"""``lugwright lengths``: which standard jumper lengths to stock."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.production_options import BOATS, PATH
from lugwright.cli.talk import say

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1


@click.command("lengths", short_help="Choose the standard jumper lengths that waste least wire.")
@click.argument("plans", metavar="PLAN...", type=PATH, nargs=-1, required=True)
@click.option(
    "--boats",
    multiple=True,
    type=BOATS,
    metavar="N",
    help="Boats of each plan: once for all, or once for each in order (default 1).",
)
@click.option(
    "--most",
    type=click.IntRange(1, 1000),
    default=12,
    show_default=True,
    help="Show the best sets of 1 to so many lengths.",
)
@click.option(
    "--series",
    type=click.Choice(["R5", "R10", "R20", "R40"]),
    help="Choose only from a series of preferred numbers (ISO 3).",
)
@click.option(
    "--plot",
    type=click.Path(dir_okay=False, writable=True, path_type=Path),
    metavar="SVG",
    help="Write the curve of waste over the number of lengths.",
)
@options.overwrite_option
@options.json_option
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    plans: tuple[Path, ...],
    boats: tuple[int, ...],
    most: int,
    series: str | None,
    plot: Path | None,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Choose K standard jumper lengths over all PLANs, exactly, for every K up to --most.

    A PLAN is a plan folder, a plan.json, a folder of plan folders, or where a planned catalogue
    is kept (catalogues/NAME). A line of the answer put
    under [limits] as standard_lengths = [...] makes plans that are cut to them.
    """
    from lugwright.cli.answers.lengths import as_lines, curve, needed_lengths
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.production.standard_lengths import best_lengths, series_dmm

    inputs = options.inputs_of(ctx, "plot")
    if plot is not None:
        check_one(plot, "--plot", inputs, overwrite=overwrite)

    needs = needed_lengths(plans, boats)
    offered = series_dmm(series, max(needs)) if series else None
    sets = best_lengths(needs, most, offered)
    if as_json:
        say(options.json_text("lengths", ANSWER_FORMAT, {"sets": [asdict(one) for one in sets]}))
    else:
        say("\n".join(as_lines(sets, sum(needs.values()))))
    if plot is not None:
        put_one(plot, curve(sets).encode(), "--plot", inputs, overwrite=overwrite)
    ctx.exit(Exit.DONE)
