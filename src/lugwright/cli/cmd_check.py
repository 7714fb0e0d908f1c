"""``lugwright check``: judge a plan, a plan folder, or a jumper list of a panel already built."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say

if TYPE_CHECKING:
    pass

ANSWER_FORMAT = 1


@click.command("check", short_help="Judge a plan, or a jumper list of a built panel.")
@options.scenario_argument
@click.argument(
    "files",
    metavar="PLAN_OR_CSV...",
    type=click.Path(exists=True, readable=True, path_type=Path),
    nargs=-1,
    required=True,
)
@options.limits_options
@options.stock_option
@click.option(
    "--accept",
    is_flag=True,
    help="Where an edited plan.json passes, write it again, sealed, as a plan nobody searched for.",
)
@options.json_option
@click.pass_context
@options.ends_well
def command(
    ctx: click.Context,
    /,
    *,
    scenario: Path,
    files: tuple[Path, ...],
    limits_file: Path | None,
    rule_set: str | None,
    settings: tuple[str, ...],
    stock_folder: Path | None,
    accept: bool,
    as_json: bool,
) -> None:
    """Judge each PLAN_OR_CSV against SCENARIO and the limits in force.

    A plan.json, a plan folder, or a jumper list written by hand as CSV. Everything is computed
    again; what was found is printed with rule, place, what was measured, the limit and where the
    limit comes from. Ends with 0 when all pass, with 6 when one does not.

    A plan.json that was edited by hand claims no proof; --accept takes the claim out of one that
    is right in all else, so that sheets and kits can be made from it.
    """
    from lugwright import pipeline
    from lugwright.cli.answers.check import accepted, as_data, as_lines

    brief = pipeline.read_inputs(scenario, limits_file, stock_folder, rule_set, settings)
    verdicts = []
    for file in files:
        plan, report, notes = pipeline.check_file(brief, file)
        if accept and plan.edited:
            report, notes = accepted(brief, plan, file, report, notes)
        verdicts.append((file, report, notes))
    code = Exit.DONE if all(report.passed for _, report, _ in verdicts) else Exit.REJECTED
    if as_json:
        content = {"exit": int(code), "files": [as_data(*verdict) for verdict in verdicts]}
        say(options.json_text("check", ANSWER_FORMAT, content))
    else:
        say("\n".join(line for verdict in verdicts for line in as_lines(*verdict)))
    ctx.exit(code)
