"""What ``lugwright readings`` reads, judges and explains."""

from __future__ import annotations

from pathlib import Path

from lugwright.base.files import refused
from lugwright.outputs.digest import plan_digest
from lugwright.outputs.plan_json import read_unedited
from lugwright.outputs.test_sheet.csv_form import plan_mark
from lugwright.outputs.test_sheet.report import Report
from lugwright.readings.judge import judge
from lugwright.readings.lines import sheet_of
from lugwright.readings.read_csv import Reading, read_readings


def report_of(plan_path: Path, csv_path: Path) -> Report:
    """Read, judge and, where something fails, look for the bad joint."""
    plan = read_unedited(plan_path)
    sheet = sheet_of(plan)
    readings = read_readings(csv_path, (*sheet.lines, *sheet.extra), plan_mark(plan_digest(plan)))
    if not readings:
        raise refused(csv_path, 'holds no reading: fill in its column "reading"')
    judged = judge(sheet, readings)
    report = Report(plan, judged, None)
    if not report.failing:
        return report
    from lugwright.readings.diagnose import BadJoints, can_blame, diagnose  # numpy

    supply = readings.get(sheet.supply_line, Reading()).thousandths
    found = diagnose(BadJoints(sheet), judged, supply) if can_blame(judged) else None
    return Report(plan, judged, found)
