"""``lugwright rework``: plan anew a console that already has a harness, changing little."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from lugwright.base.cautions import ALWAYS
from lugwright.base.errors import BadInput, Complaint
from lugwright.cli import options
from lugwright.cli.exits import Exit, exit_for
from lugwright.cli.progress_line import telling
from lugwright.cli.talk import say
from lugwright.outputs.words import one_line

if TYPE_CHECKING:
    from lugwright.limits.schema import Limits
    from lugwright.production.rework import Rework

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
    than replacing them. Told is only the work to do: --sheet prints it, --out writes the new
    plan's folder.
    """
    from lugwright import pipeline
    from lugwright.outputs.folder import check_target, write_folder
    from lugwright.outputs.one_file import check_one, put_one
    from lugwright.outputs.plan_json import read_unedited
    from lugwright.outputs.shown import ShownPlan
    from lugwright.production.rework import rework

    given = options.inputs_of(ctx, "out", "sheet")
    if out:
        check_target(out)
    if sheet:
        check_one(sheet, "--sheet", given, overwrite=overwrite)
    inputs = pipeline.read_inputs(
        scenario, limits_file, stock_folder, rule_set, options.with_objective(settings, objective)
    )
    old = read_unedited(built)
    worth = _worth(change_worth, inputs.limits)
    with telling(quiet=quiet) as listener:
        found = rework(inputs, old, worth, time_limit_s=seconds, listener=listener)
    rejected = found.report is not None and not found.report.passed
    code = exit_for(found.ending, interrupted=found.interrupted, rejected=rejected)
    shown = ShownPlan(found.plan) if found.plan and not rejected else None
    written = write_folder(shown, out, tell=options.tell) if out and shown else ()
    if sheet and shown and found.told:
        from lugwright.outputs.paper_size import Paper
        from lugwright.production.rework_sheet import rework_pdf

        data = rework_pdf(shown, found.told.work, Paper(page))
        put_one(sheet, data, "--sheet", given, overwrite=overwrite)
    if as_json:
        say(options.json_text("rework", ANSWER_FORMAT, _data(found, code, written)))
    elif shown:
        say("\n".join(_lines(found)))
    else:
        click.echo(f"{found.ending.value}: {found.note or 'no plan passes'}", err=True)
    ctx.exit(code)


def _worth(text: str | None, limits: Limits) -> int:
    """The worth of a change in units of the objective. Raises BadInput where it has none."""
    from lugwright.base.units import parse_length_mm, parse_money_micro, to_dmm

    if limits.objective not in ("default", "cheapest"):
        message = f"the objective is {limits.objective}, which has no worth of a change"
        hint = "use --objective default or --objective cheapest"
        raise BadInput(Complaint("--change-worth", 0, 0, "", message, hint))
    try:
        if limits.objective == "cheapest":
            return parse_money_micro(text or "2.00")
        return to_dmm(parse_length_mm(text or "100 mm"))
    except ValueError as error:
        raise BadInput(Complaint("--change-worth", 0, 0, "", str(error))) from error


def _data(found: Rework, code: Exit, written: tuple[str, ...]) -> dict[str, Any]:
    return {
        "exit": int(code),
        "ending": found.ending.value,
        "kept": found.kept,
        "moved": found.moved,
        "removed": found.removed,
        "new": found.new,
        "relanded": found.relanded,
        "cost": found.cost,
        "bound": found.bound,
        "work": list(found.told.work) if found.told else [],
        "files": list(written),
    }


def _lines(found: Rework) -> list[str]:
    best = "proved least" if found.cost == found.bound else "not proved least"
    plan = found.plan
    head = (
        f"{found.kept} jumpers kept, {found.moved} moved or shortened, {found.removed} taken out, "
        f"{found.new} new, {found.relanded} pigtails land elsewhere; {best}."
    )
    cautions = [one_line(caution) for caution in (plan.cautions if plan else ALWAYS)]
    if found.told is None or not found.told.work:
        nothing = "Nothing to do: the harness is as planned."
        return [head, "", "Before any work:", *cautions, "", nothing]
    work = [f"{n}. {one_line(text)}" for n, text in enumerate(found.told.work, 1)]
    return [head, "", "Before any work:", *cautions, "", "Work to do:", *work]
