"""Paper of a plate too large to paste together: to scale, and at 1:1 on request alone."""

from __future__ import annotations

import io

import pdfplumber
import pytest
from support.made_plan import small_plan

from lugwright.outputs.paper.build_board import sheet_files as board_files
from lugwright.outputs.paper.drill_template import sheet_files as drill_files
from lugwright.outputs.paper.frame import Area
from lugwright.outputs.paper.reduced import reduced
from lugwright.outputs.paper.tiling import MOST_PAGES
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

LIMIT_DMM = 12_000


def plan_of(side_mm: int) -> Plan:
    """The small plan on a square plate."""
    plan, side = small_plan(), {"width_dmm": side_mm * 10, "height_dmm": side_mm * 10}
    side["full_size_side_dmm"] = LIMIT_DMM
    return plan.model_copy(update={"panel": plan.panel.model_copy(update=side)})


def printed(plan: Plan, paper: Paper) -> list[tuple[str, int]]:
    """Text of the first page, and number of pages, of drilling template and build board."""
    shown = ShownPlan(plan)
    made = (*drill_files(shown, paper).values(), *board_files(shown, paper).values())
    opened = [pdfplumber.open(io.BytesIO(pdf)).pages for pdf in made]
    return [
        (" ".join(pages[0].extract_text(use_text_flow=True).split()), len(pages))
        for pages in opened
    ]


def test_a_plate_as_long_as_the_limit_is_printed_at_full_size() -> None:
    """1200 mm, square, on A4: 40 pages at 1:1 in each, none asked for."""
    for first, pages in printed(plan_of(1200), Paper()):
        assert 41 <= pages <= 43 and "not to scale" in first


@pytest.mark.parametrize("side_mm", [1201, 3000, 9000])
def test_a_larger_plate_is_drawn_to_scale_alone(side_mm: int) -> None:
    """No page at 1:1; the scale is said, and how to get the pages where they can be had."""
    for first, pages in printed(plan_of(side_mm), Paper()):
        assert pages <= 3
        assert "scale 1:" in first and "not to scale" not in first
        assert ("full_size_side" in first) == (side_mm < 9000)


def test_full_size_is_made_when_asked_for_and_never_more_than_can_be_pasted() -> None:
    """3 m: some two hundred pages; 9 m: none, and the sheet says why."""
    asked = Paper(full_size=True)
    assert all(200 < pages <= MOST_PAGES for _, pages in printed(plan_of(3000), asked))
    for first, pages in printed(plan_of(9000), asked):
        assert pages <= 3
        assert f"more than the {MOST_PAGES} that are ever made" in first


def test_a_wire_from_far_away_does_not_run_up_paper() -> None:
    """The board holds wires that come from beyond the plate: ninety metres are not printed."""
    plan = plan_of(400)
    far = tuple(entry.model_copy(update={"x_dmm": 900_000}) for entry in plan.panel.entries)
    plan = plan.model_copy(update={"panel": plan.panel.model_copy(update={"entries": far})})
    assert all(pages <= MOST_PAGES + 3 for _, pages in printed(plan, Paper(full_size=True)))


@pytest.mark.parametrize(
    ("side_mm", "scale"), [(190, 1), (200, 2), (400, 5), (2000, 20), (5000, 50), (9000, 50)]
)
def test_scales_are_standard_ones(side_mm: int, scale: int) -> None:
    """The largest reduction of ISO 5455 table 1 (1:2, 1:5, 1:10, 1:20, 1:50; from memory)."""
    room = Area(0, 0, 190, 250)
    assert reduced(side_mm, side_mm, room, to_scale=True) == 1 / scale
    assert reduced(side_mm, side_mm, room, to_scale=False) == min(1, 190 / side_mm)
