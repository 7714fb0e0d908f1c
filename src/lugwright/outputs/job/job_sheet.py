"""The job sheet as one HTML file: everything from the first cut to key-on, with its drawings."""

from __future__ import annotations

from itertools import groupby

from lugwright.outputs.drawn import DrawnPlan
from lugwright.outputs.job.cards import Card, cards_of
from lugwright.outputs.job.needs import needs_of
from lugwright.outputs.job.tables import plain_tables
from lugwright.outputs.job.tasks import box_key
from lugwright.outputs.job.wires import Wires
from lugwright.outputs.looks import Picture
from lugwright.outputs.pages.render import render_page
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows import Rows
from lugwright.outputs.rows_ways import DEVICES_HEADS, DEVICES_TITLE, LIVE_HEADS, LIVE_TITLE
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import PIGTAIL_NOTE, cost_sentence, hub_sentence, proof_sentence

FILE = "job-sheet.html"
_STAGES = {
    "bench": "At the bench: panel on the table",
    "aboard": "Aboard: panel in the boat",
    "key-on": "Key-on test",
}
_SCRIPTS = ("pages/keep.js", "job/light.js")


def job_sheet(shown: ShownPlan, paper: Paper) -> str:
    """The whole page; drawings are seen from the back."""
    plan, rows, drawn = shown.plan, shown.rows, shown.drawn
    wires = Wires(plan)
    cards = cards_of(plan, rows.steps, wires)
    facts = {
        "rows": rows,
        "told": (hub_sentence(plan), proof_sentence(plan.proof), cost_sentence(plan)),
        "needs": needs_of(plan),
        "wire": wires.named,
        "barrels": {crimp.number: wires.barrels(crimp) for crimp in plan.crimps},
        "box": _list_boxes(rows),
        "stages": [
            (_STAGES[stage], [(card, _drawing(drawn, card)) for card in dealt])
            for stage, dealt in groupby(cards, lambda card: card.stage)
        ],
        "joint_view": drawn.joints.of,
        "drawn": {*(x.post for x in plan.stacks), *(x.joint for x in plan.crimps)},
        "whole": drawn.view,
        "pigtail_note": PIGTAIL_NOTE,
        **plain_tables(rows),
        "of_devices": (DEVICES_TITLE, DEVICES_HEADS, LIVE_TITLE, LIVE_HEADS),
    }
    return render_page(
        shown,
        paper,
        "job/job.html.j2",
        facts,
        sheet="Job sheet",
        side="drawings, places and o'clock are seen from the back",
        scripts=_SCRIPTS,
    )


def _drawing(drawn: DrawnPlan, card: Card) -> Picture | None:
    """The card's own small drawing; none where it is about no wire and no post."""
    if not (card.wires or card.joints):
        return None
    return drawn.step(card.wires, card.joints)


def _list_boxes(rows: Rows) -> dict[tuple[str, str], str]:
    """The key of the box behind a cut or a crimp of the lists: that of its step."""
    steps = {(step.verb, step.target): box_key(step.number) for step in rows.steps}
    listed = [("cut", x.label) for x in rows.cut] + [("crimp", str(x.number)) for x in rows.crimps]
    return {(verb, what): steps.get((verb, what), f"{verb} {what}") for verb, what in listed}


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The job sheet as a file."""
    return {FILE: job_sheet(shown, paper).encode()}
