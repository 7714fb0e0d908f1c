"""``lugwright readings``: judge what a meter showed, and find the joint that is bad."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.talk import say

if TYPE_CHECKING:
    from lugwright.outputs.test_sheet.report import Report

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
    from lugwright.outputs.test_sheet.report import report_data, report_text

    report = _report(plan_path, csv_path)
    code = Exit.REJECTED if report.failing else Exit.DONE
    if as_json:
        content = {"exit": int(code), **report_data(report)}
        say(options.json_text("readings", ANSWER_FORMAT, content))
    else:
        say(report_text(report))
    ctx.exit(code)


def _report(plan_path: Path, csv_path: Path) -> Report:
    """Read, judge and, where something fails, look for the bad joint."""
    from lugwright.base.files import refused
    from lugwright.outputs.digest import plan_digest
    from lugwright.outputs.plan_json import read_unedited
    from lugwright.outputs.test_sheet.csv_form import plan_mark
    from lugwright.outputs.test_sheet.report import Report
    from lugwright.readings.judge import judge
    from lugwright.readings.lines import sheet_of
    from lugwright.readings.read_csv import Reading, read_readings

    plan = read_unedited(plan_path)
    sheet = sheet_of(plan)
    readings = read_readings(csv_path, (*sheet.lines, *sheet.extra), plan_mark(plan_digest(plan)))
    if not readings:
        raise refused(csv_path, 'holds no reading: fill in its column "reading"')
    judged = judge(sheet, readings)
    report = Report(plan, judged, None)
    if not report.failing:
        return report
    from lugwright.readings.diagnose import BadJoints, can_blame, diagnose

    supply = readings.get(sheet.supply_line, Reading()).thousandths
    found = diagnose(BadJoints(sheet), judged, supply) if can_blame(judged) else None
    return Report(plan, judged, found)
