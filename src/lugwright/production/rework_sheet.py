"""The work that changes a harness, as a printed sheet with boxes to tick."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.outputs.paper.cautions import caution_blocks
from lugwright.outputs.paper.flow import Column, flow_pages, gap, table_blocks, words
from lugwright.outputs.paper.fonts import BOLD
from lugwright.outputs.paper.frame import head_of, page_area, sheet_pdf
from lugwright.outputs.paper.lettering import TEXT_MM
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan

TITLE = "Rework sheet"


def rework_pdf(shown: ShownPlan, work: Sequence[str], paper: Paper) -> bytes:
    """Cautions, then the work line by line; same input, same bytes."""
    head, width = head_of(shown, TITLE), page_area(paper).width
    columns = (Column("", 8), Column("", 10, "right"), Column("what to do", width - 18))
    rows = [("☐", str(number), text) for number, text in enumerate(work, 1)]
    blocks = [
        *caution_blocks(head, width),
        gap(4),
        *words("Only what changes. All else stays as it is built.", width, BOLD),
        gap(2),
        *table_blocks(columns, rows or [("", "", "Nothing: the harness is as planned.")], TEXT_MM),
    ]
    return sheet_pdf(head, paper, flow_pages(blocks, paper))
