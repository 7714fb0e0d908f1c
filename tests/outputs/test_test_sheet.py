"""The test sheet's files."""

from __future__ import annotations

import csv
import io

from support.made_plan import small_plan

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.test_sheet.test_sheet_files import sheet_files
from lugwright.readings.lines import sheet_of


def rows(name: str = "test-readings.csv", **changes: object) -> list[list[str]]:
    """The rows of the form of the small plan with changes."""
    text = sheet_files(ShownPlan(small_plan(**changes)), Paper())[name].decode()
    return list(csv.reader(io.StringIO(text)))


def test_the_form_has_every_line_and_room_for_its_reading() -> None:
    """One row a line, all with an empty last cell."""
    ids = [line.id for line in sheet_of(small_plan()).lines]
    assert ["line", "plan", *ids] == [row[0] for row in rows()]
    assert rows()[0][-1] == "reading"
    assert {""} == {row[-1] for row in rows()[1:]}


def test_no_cell_of_the_form_is_a_formula() -> None:
    """Whatever an instrument is called, no spreadsheet runs it."""
    plan = small_plan()
    hostile = '=1+1"<script>\t' + "x" * 200
    named = plan.panel.model_copy(
        update={
            "instruments": tuple(
                one.model_copy(update={"key_on": hostile}) for one in plan.panel.instruments
            )
        }
    )
    cells = [cell for row in rows(panel=named, title=hostile) for cell in row]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "-", "@", "\t")]
