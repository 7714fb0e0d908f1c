"""``lugwright family``: one model with options, planned so that variants share parts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import exit_for
from lugwright.cli.progress_line import telling
from lugwright.cli.talk import say
from lugwright.outputs.words import one_line

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1


@click.command("family", short_help="Plan a model with options so that variants share parts.")
@click.argument("file", metavar="FAMILY", type=click.Path(exists=True, path_type=Path))
@options.limits_options
@options.stock_option
@click.option("--hub", default="", metavar="NAME", help="Hold the hub of all variants.")
@options.time_option
@options.out_option
@options.json_option
@click.option("--quiet", "-q", is_flag=True, help="Say nothing of how the search goes.")
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    file: Path,
    limits_file: Path | None,
    rule_set: str | None,
    settings: tuple[str, ...],
    stock_folder: Path | None,
    hub: str,
    seconds: float | None,
    out: Path | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Choose one hub and common jumpers for all variants of FAMILY, cheapest for the mix, proved.

    Each variant's wire, fittings and minutes count by its boats, each distinct jumper counts its
    price once. With --out every variant gets its plan folder (and its scenario, where something
    was left out); the same part has the same label in all of them.
    """
    from lugwright import pipeline
    from lugwright.cli.answers.family import as_data, as_lines, write_folders
    from lugwright.production.family import plan_family
    from lugwright.production.family_file import read_family

    family = read_family(file)
    by_money = options.with_objective(settings, "cheapest")
    inputs = [
        pipeline.read_inputs(variant.scenario, limits_file, stock_folder, rule_set, by_money)
        for variant in family.variants
    ]
    with telling(quiet=quiet) as listener:
        found = plan_family(family, inputs, hub=hub, time_limit_s=seconds, listener=listener)
    rejected = [member for member in found.members if not member.report.passed]
    code = exit_for(found.ending, interrupted=found.interrupted, rejected=bool(rejected))
    written = write_folders(family, found, out) if out and found.members and not rejected else ()
    if as_json:
        say(options.json_text("family", ANSWER_FORMAT, as_data(found, code, written)))
    elif found.members:
        say("\n".join(as_lines(found)))
    for member in rejected:
        for finding in member.report.findings:
            click.echo(f"{member.name}: {one_line(str(finding))}", err=True)
    if not found.members:
        click.echo(f"{found.ending.value}: {found.note or 'see each variant by itself'}", err=True)
    elif written and not quiet and out is not None:
        click.echo(f"{len(written)} plan folders in {out.as_posix()}", err=True)
    ctx.exit(code)
