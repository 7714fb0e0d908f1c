"""The files of the test sheet."""

from __future__ import annotations

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.test_sheet.csv_form import FORM_FILE, form_text
from lugwright.outputs.test_sheet.page import PAGE_FILE, page_text
from lugwright.plans.schema import Plan
from lugwright.readings.lines import sheet_of


def sheet_files(plan: Plan, paper: Paper) -> dict[str, bytes]:
    """The page, and the form to type readings into, which knows no paper size."""
    sheet = sheet_of(plan)
    return {
        FORM_FILE: form_text(sheet).encode(),
        PAGE_FILE: page_text(sheet, paper).encode(),
    }
