"""An overview as a self-contained HTML page, on the frame all pages share."""

from __future__ import annotations

from lugwright.outputs.overview.bars import bars_drawn
from lugwright.outputs.overview.content import Overview, Part
from lugwright.outputs.overview.text import brief_columns
from lugwright.outputs.pages.render import render_frame
from lugwright.outputs.paper_size import Paper

TEMPLATE = "overview/overview.html.j2"


def overview_page(overview: Overview, paper: Paper) -> str:
    """The page; the same overview gives the same text."""
    facts = {
        "title": overview.title,
        "facts": overview.facts,
        "cautions": overview.cautions,
        "drawings": [(d.about, bars_drawn(d)) for d in overview.drawings if d.bars],
        "parts_of": [_as_table(part) for part in overview.parts],
    }
    return render_frame(TEMPLATE, facts, paper)


def _as_table(part: Part) -> dict[str, object]:
    """A table's caption, heads and cells; columns of numbers are set to the right."""
    columns = brief_columns(part)
    heads = [
        (">" if column.cells and all(not isinstance(x.value, str) for x in column.cells) else "")
        + column.heading
        for column in columns
    ]
    rows = list(zip(*([cell.shown for cell in column.cells] for column in columns), strict=True))
    return {"about": part.about, "heads": heads, "rows": rows}
