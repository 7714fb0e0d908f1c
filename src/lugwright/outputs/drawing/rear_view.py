"""The sheet ``rear-view.svg``: the rear view with all that every sheet carries below it."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.drawing.frame import Box
from lugwright.outputs.drawing.letters import filled
from lugwright.outputs.drawing.panel import about, drawn_panel
from lugwright.outputs.drawing.pen import TEXT, Pen, finished
from lugwright.outputs.paper_size import Paper
from lugwright.plan.schema import Plan

REAR_VIEW = "rear-view.svg"
_PITCH = 1.35  # lines over letter size


def sheet_files(plan: Plan, paper: Paper) -> dict[str, bytes]:
    """The one file of this sheet; it is in millimetres whatever the paper."""
    pen, view = drawn_panel(plan)
    view = view.joined(_write_notes(pen, view, list(notes(plan))))
    words = f"{plan.title}: the panel seen from the back"
    text = '<?xml version="1.0" encoding="UTF-8"?>\n' + finished(pen, view, words, about(plan))
    return {REAR_VIEW: f"{text}\n".encode()}


def notes(plan: Plan) -> Iterator[str]:
    """What every sheet carries: cautions, rule set, waivers, the plan's digest."""
    yield from plan.cautions
    for waiver in plan.waivers:
        yield (
            f"Waived: {waiver.limit} {waiver.value} for {waiver.place}, {waiver.initials} "
            f"{waiver.date}: {waiver.reason}"
        )
    yield f"Rule set {plan.practice}. Plan {plan_digest(plan)}. Page 1 of 1."


def _write_notes(pen: Pen, above: Box, words: list[str]) -> Box:
    """Sentences below a box, in its width. Gives the box they fill."""
    size, left = TEXT * pen.unit, above.x0 + 2 * pen.unit
    y = above.y1
    for sentence in words:
        for line in filled(sentence, size, above.wide - 4 * pen.unit):
            y += size * _PITCH
            pen.text((left, y), line, TEXT, "start")
    return Box(above.x0, above.y1, above.x1, y + 3 * pen.unit)
