"""The test sheet as CSV: one row a line, the last column empty for what the meter shows."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.outputs.csv_text import csv_text
from lugwright.readings.read_csv import PLAN_LINE
from lugwright.readings.schema import Line, Sheet
from lugwright.readings.words import band_text

FORM_FILE = "test-readings.csv"


@dataclass(frozen=True)
class FormRow:
    """One row of the form; the names are the column heads ``readings`` looks for."""

    line: str
    part: str
    circuit: str
    start: str
    at: str
    what: str
    band: str
    reading: str


def plan_mark(digest: str) -> str:
    """How the form says which plan it is of. The word keeps a spreadsheet from reading a number."""
    return f"plan {digest}"


def form_text(sheet: Sheet, digest: str) -> str:
    """The form. The first row names the plan; readings of another plan are refused."""
    about = f"{sheet.plan.title}: leave this row as it is"
    mark = FormRow(PLAN_LINE, "", "", "", "", about, plan_mark(digest), "")
    return csv_text(FormRow, [mark, *map(form_row, sheet.lines)])


def form_row(line: Line) -> FormRow:
    """One line with nothing read yet."""
    return FormRow(
        line.id, line.part, line.circuit, line.start_words, line.at_words, line.what,
        band_text(line), "",
    )  # fmt: skip
