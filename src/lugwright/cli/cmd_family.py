"""``lugwright family``: one model with options, planned so that variants share parts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lugwright.cli import options
from lugwright.cli.exits import Exit, exit_for
from lugwright.cli.progress_line import telling
from lugwright.cli.table import table
from lugwright.cli.talk import say
from lugwright.outputs.words import one_line

if TYPE_CHECKING:
    from lugwright.production.family import Family
    from lugwright.production.family_file import FamilyFile

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
    written = _write(family, found, out) if out and found.members and not rejected else ()
    if as_json:
        say(options.json_text("family", ANSWER_FORMAT, _data(found, code, written)))
    elif found.members:
        say("\n".join(_lines(found)))
    for member in rejected:
        for finding in member.report.findings:
            click.echo(f"{member.name}: {one_line(str(finding))}", err=True)
    if not found.members:
        click.echo(f"{found.ending.value}: {found.note or 'see each variant by itself'}", err=True)
    elif written and not quiet and out is not None:
        click.echo(f"{len(written)} plan folders in {out.as_posix()}", err=True)
    ctx.exit(code)


def _write(family: FamilyFile, found: Family, out: Path) -> tuple[str, ...]:
    """A plan folder for every variant, and the scenario of one with something left out."""
    from lugwright.outputs.folder import check_target, write_folder
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.outputs.shown import ShownPlan

    texts = {
        out / variant.scenario.file: variant.scenario.text.encode()
        for variant in family.variants
        if variant.scenario.file == f"{variant.name}.toml"
    }
    fresh = {file: data for file, data in texts.items() if not _holds(file, data)}
    for member in found.members:
        check_target(out / member.name)
    for file in fresh if out.is_dir() else ():
        check_one(file, "--out", (), overwrite=False)
    for member in found.members:
        write_folder(ShownPlan(member.plan), out / member.name, tell=options.tell)
    for file, data in fresh.items():
        put_one(file, data, "--out", overwrite=False)
    return tuple(member.name for member in found.members)


def _holds(file: Path, data: bytes) -> bool:
    """Whether a file holds just that already."""
    return file.is_file() and file.read_bytes() == data


def _data(found: Family, code: Exit, written: tuple[str, ...]) -> dict[str, Any]:
    return {
        "exit": int(code),
        "ending": found.ending.value,
        "hub": found.hub,
        "cost_micro": found.cost_micro,
        "bound_micro": found.bound_micro,
        "distinct_jumpers": found.parts,
        "part_price_micro": found.part_micro,
        "alone_cost_micro": found.alone_micro,
        "alone_distinct_jumpers": found.alone_parts,
        "variants": [
            {
                "name": member.name,
                "boats": member.boats,
                "money_micro": member.money_micro,
                "alone_money_micro": member.alone_micro,
                "alone_hub": member.alone_hub,
                "jumpers": [piece.label for piece in member.plan.jumpers],
            }
            for member in found.members
        ],
        "folders": list(written),
    }


def _lines(found: Family) -> list[str]:
    from lugwright.base.scale import money_text
    from lugwright.outputs.words import currency

    coin = currency(found.members[0].plan)
    best = (
        "proved: no common hub and jumpers cost less"
        if found.cost_micro == found.bound_micro
        else f"not proved; no family costs less than {money_text(found.bound_micro)}"
    )
    return [
        f"{one_line(found.title)}: hub {one_line(found.hub)}, {found.parts} distinct jumpers.",
        f"Cost of the mix {money_text(found.cost_micro)} {coin}; {best}.",
        f"Each variant by itself: {money_text(found.alone_micro)} {coin} with "
        f"{found.alone_parts} distinct jumpers.",
        *("", _variants(found)),
        *("", _parts(found)),
    ]


def _variants(found: Family) -> str:
    """The variants side by side, each as it is and as it would be by itself."""
    from lugwright.base.scale import money_text

    rows = [
        (
            member.name,
            str(member.boats),
            money_text(member.money_micro),
            money_text(member.alone_micro),
            one_line(member.alone_hub),
            str(len(member.plan.jumpers)),
        )
        for member in found.members
    ]
    head = ("variant", "boats", "money", "by itself", "hub by itself", "jumpers")
    return table(head, rows, right=(1, 2, 3, 5))


def _parts(found: Family) -> str:
    """The jumpers, and which variants share each."""
    from lugwright.production.family import shared_rows

    rows = [
        (row.label, row.what, row.length, ", ".join(row.variants)) for row in shared_rows(found)
    ]
    return table(("part", "from, to and wire", "length mm", "in"), rows, right=(2,))
