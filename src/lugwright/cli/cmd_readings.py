"""``lugwright readings``: judge what a meter showed, and find the joint that is bad."""

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


@click.command("readings", short_help="Judge readings taken with the test sheet.")
@click.argument(
    "plan_path",
    metavar="PLAN",
    type=click.Path(exists=True, readable=True, path_type=Path),
)
@click.argument(
    "csv_path",
    metavar="CSV",
    type=click.Path(exists=True, readable=True, dir_okay=False, path_type=Path),
)
@options.json_option
@click.pass_context
@options.ends_well
def command(ctx: click.Context, /, *, plan_path: Path, csv_path: Path, as_json: bool) -> None:
    """Judge the readings in CSV against PLAN, a plan folder or its plan.json.

    CSV is the plan's own test-readings.csv with the column "reading" filled in; lines without a
    reading are left out. Every line gets a verdict. Where one fails, the joints are named that,
    open or resistive, would have made the readings what they are, likeliest first, and what to
    measure next if there are several. Ends with 0 when all pass, with 6 when one does not.
    """
    from lugwright.cli.answers.readings import report_of
    from lugwright.outputs.test_sheet.report import report_data, report_text

    report = report_of(plan_path, csv_path)
    code = Exit.REJECTED if report.failing else Exit.DONE
    if as_json:
        content = {"exit": int(code), **report_data(report)}
        say(options.json_text("readings", ANSWER_FORMAT, content))
    else:
        say(report_text(report))
    ctx.exit(code)
