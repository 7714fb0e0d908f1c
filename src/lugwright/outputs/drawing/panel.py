"""The rear view: the whole plan on one drawing of the panel."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.outputs.drawing.captions import draw_foot, draw_head, legend, write_list
from lugwright.outputs.drawing.detail_marks import draw_details, draw_windows
from lugwright.outputs.drawing.details import Arranged, arranged
from lugwright.outputs.drawing.frame import Box
from lugwright.outputs.drawing.given_labels import aboard_labels, entry_labels, place_labels
from lugwright.outputs.drawing.label_marks import draw_boat_wire, draw_label
from lugwright.outputs.drawing.labels import (
    Lettering,
    joint_labels,
    name_labels,
    post_labels,
    strap_labels,
)
from lugwright.outputs.drawing.layers import draw_joints, draw_wires, hubs_of
from lugwright.outputs.drawing.pen import Pen
from lugwright.outputs.drawing.placing import Label
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.drawing.tags import tag_labels
from lugwright.plans.panel import Panel
from lugwright.plans.schema import Plan

_MARGIN = 8.0  # units round the plate that labels may use


def panel_view(plan: Plan, pen: Pen, view: Box) -> Drawing:
    """The full rear view, from what ``drawn_panel`` gave."""
    return Drawing(pen.into, view, f"{plan.title}: the panel seen from the back", about(plan))


def drawn_panel(scene: Scene) -> tuple[Pen, Box]:
    """The rear view with its head, details and foot, and the box it fills."""
    unit = scene.frame.unit_mm
    letters, pen = Lettering(unit), Pen(unit)
    plate = Box(0, 0, scene.frame.width_mm, scene.frame.height_mm)
    within = plate.grown(_MARGIN * unit)
    sheet = arranged(scene, _wanted(scene, letters), within)
    draw_wires(pen, scene)
    labels = [*sheet.labels, *draw_windows(pen, scene, sheet, within)]
    for each in labels:
        draw_boat_wire(pen, each)
    draw_joints(pen, scene)
    box = plate.grown(unit)
    for each in labels:
        draw_label(pen, each, letters)
        box = box.joined(each.box)
    head = draw_head(pen, box, scene.plan.title)
    if sheet.details:
        box = box.joined(draw_details(pen, scene, sheet.details, box))
    box = box.joined(write_list(pen, box, [*_left(sheet), *positions_told(scene.panel)]))
    box = box.joined(draw_foot(pen, box, scene.panel, legend(scene.plan))).joined(head)
    return pen, box.grown(2 * unit)


def _left(sheet: Arranged) -> list[str]:
    """What found no place anywhere, in words: nothing is ever left out in silence."""
    labels = [*sheet.left, *(label for detail in sheet.details for label in detail.left)]
    words = [
        " at ".join((" ".join(label.lines), *label.joints[:1]))
        for label in labels
        if label.key[0] != "place"
    ]
    return [f"No room on the drawing for {each}" for each in words]


def positions_told(panel: Panel) -> list[str]:
    """What each device may be set to, the position at rest first."""
    told = []
    for one in panel.instruments:
        if one.positions:
            words = f"{one.name}: {', '.join(one.positions)}; at rest {one.positions[0]}"
            told.append(words + ("; lanyard in or out" if one.lanyard else ""))
    return told


def about(plan: Plan) -> str:
    """The rear view in words."""
    return (
        f"{len(plan.panel.instruments)} instruments and {len(plan.jumpers)} jumpers, seen from the "
        f"back, x to the right. Supplies land on {', '.join(hubs_of(plan)) or 'no instrument'}. "
        "Every wire carries its label and colour code."
    )


def _wanted(scene: Scene, letters: Lettering) -> Sequence[Label]:
    return [
        *entry_labels(scene, letters),
        *joint_labels(scene, letters),
        *post_labels(scene, letters),
        *aboard_labels(scene, letters),
        *strap_labels(scene, letters),
        *name_labels(scene, letters, hubs_of(scene.plan)),
        *tag_labels(scene, letters),
        *place_labels(scene, letters),
    ]
