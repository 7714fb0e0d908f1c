"""The files of the test sheet."""

from __future__ import annotations

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.test_sheet.csv_form import FORM_FILE, form_text
from lugwright.outputs.test_sheet.page import PAGE_FILE, page_text
from lugwright.readings.lines import sheet_of


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The page, and the form to type readings into, which knows no paper size."""
    sheet = sheet_of(shown.plan)
    return {
        FORM_FILE: form_text(sheet, shown.digest).encode(),
        PAGE_FILE: page_text(shown, sheet, paper).encode(),
    }
