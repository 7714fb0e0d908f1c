"""Names that say another side than the one they lie on, told on every sheet that shows it."""

from __future__ import annotations

import io

import pdfplumber
import pytest
from support.plans import plan_of

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.sheets import files_of, sheets_named
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.sides import Shown, side_notes
from lugwright.plans.panel import Panel, PanelTiePoint
from lugwright.plans.schema import Plan


def with_tie(plan: Plan, name: str, x_dmm: int) -> Plan:
    """The plan with one tie point of that name, its place seen from the back."""
    tie = PanelTiePoint(name=name, x_dmm=x_dmm, y_dmm=100, z_dmm=0, to=())
    panel = plan.panel.model_copy(update={"tie_points": (tie,)})
    return plan.model_copy(update={"panel": panel})


def panel_with(name: str, x_dmm: int) -> Panel:
    """The skiff's panel with one tie point."""
    return with_tie(plan_of("sandbar-skiff"), name, x_dmm).panel


@pytest.mark.parametrize(
    ("name", "from_left_dmm", "shown", "here"),
    [
        ("right", 100, "back", "left"),
        ("right", 4000, "back", ""),
        ("right", 100, "front", ""),
        ("right", 4000, "front", "left"),
        ("Port loom", 4000, "back", "right"),
        ("starboard-1", 100, "back", "left"),
        ("upright", 100, "back", ""),
        ("left or right", 100, "back", ""),
        ("right", 2100, "back", ""),
    ],
)
def test_a_side_in_a_name(name: str, from_left_dmm: int, shown: Shown, here: str) -> None:
    """Told where the name says the other half of the side shown; the plate is 420 mm wide."""
    said = side_notes(panel_with(name, from_left_dmm), shown)
    told = f'Seen from the {shown}: what is called "{name}" lies at the {here} here.'
    assert said == ((told,) if here else ())


@pytest.mark.parametrize(
    ("sheet", "file"),
    [
        ("list", "build-list.txt"),
        ("rear-view", "rear-view.svg"),
        ("job", "job-sheet.html"),
        ("stacks", "stacks.html"),
        ("test", "test-sheet.html"),
        ("board", "build-board.pdf"),
    ],
)
def test_every_sheet_from_the_back_tells_it(sheet: str, file: str) -> None:
    """The same words on each of them; none where the names agree."""
    plan = plan_of("sandbar-skiff")
    astray = with_tie(plan, "right", 100)
    assert "lies at the left here" in text_of(astray, sheet, file)
    assert "lies at the left here" not in text_of(plan, sheet, file)


def text_of(plan: Plan, sheet: str, file: str) -> str:
    """What a sheet says, in one line."""
    data = files_of(ShownPlan(plan), sheets_named([sheet]), Paper())[file]
    if file.endswith(".pdf"):
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            return " ".join(pdf.pages[0].extract_text().split())
    return " ".join(data.decode().replace("</text>", " ").split())
