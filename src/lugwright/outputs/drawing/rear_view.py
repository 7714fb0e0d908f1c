"""The sheet ``rear-view.svg``: the rear view with all that every sheet carries below it."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.before import Before
from lugwright.outputs.drawing.blank import blank_view
from lugwright.outputs.drawing.captions import write_list
from lugwright.outputs.drawing.panel import about
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan

REAR_VIEW = "rear-view.svg"


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The one file of this sheet: a drawing that fits the page, laid across or upright."""
    plan, (pen, view) = shown.plan, shown.drawn.panel()
    view = write_list(pen, view.grown(-2 * pen.unit), list(notes(shown)), 2).grown(2 * pen.unit)
    words = f"{plan.title}: the panel seen from the back"
    return {REAR_VIEW: _file(Drawing(pen.into, view, words, about(plan), page_mm=_page(paper)))}


def panel_files(before: Before, paper: Paper) -> dict[str, bytes]:
    """The rear view before planning: no wires, and what every sheet says."""
    said = [*before.cautions, f"Not planned yet. Rule set: {before.rule_set}. Page 1 of 1."]
    return {REAR_VIEW: _file(blank_view(before.panel, before.title, said, _page(paper)))}


def _page(paper: Paper) -> tuple[float, float]:
    """The upright page, mm."""
    return paper.width_dmm / DMM_PER_MM, paper.height_dmm / DMM_PER_MM


def _file(drawing: Drawing) -> bytes:
    """A drawing as a file of its own."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawing.file()}\n'.encode()


def notes(shown: ShownPlan) -> Iterator[str]:
    """What every sheet carries: cautions, rule set, waivers, the plan's digest."""
    plan = shown.plan
    yield from plan.cautions
    for waiver in plan.waivers:
        yield (
            f"Waived: {waiver.limit} {waiver.value} for {waiver.place}, {waiver.initials} "
            f"{waiver.date}: {waiver.reason}"
        )
    if not any(plan.rule_set in caution for caution in plan.cautions):
        yield f"Planned under the rule set: {plan.rule_set}."
    yield f"Plan {shown.digest}. Page 1 of 1."
