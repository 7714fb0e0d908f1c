"""The rear view: the whole plan on one drawing of the panel."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.outputs.drawing.captions import draw_foot, draw_head, legend
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, box_at
from lugwright.outputs.drawing.given_labels import aboard_labels, entry_labels
from lugwright.outputs.drawing.label_marks import draw_arriving, draw_label
from lugwright.outputs.drawing.labels import (
    Lettering,
    joint_labels,
    name_labels,
    post_labels,
    tag_labels,
)
from lugwright.outputs.drawing.layers import draw_joints, draw_wires, hubs_of
from lugwright.outputs.drawing.lines import POST
from lugwright.outputs.drawing.pen import Pen, finished
from lugwright.outputs.drawing.placing import Label, placed
from lugwright.outputs.drawing.scene import Scene, scene_of
from lugwright.plan.schema import Plan

_MARGIN = 8.0  # units round the plate that labels may use


def panel_view(plan: Plan) -> str:
    """The full rear view as SVG, in mm, without an XML prologue."""
    pen, view = drawn_panel(plan)
    return finished(pen, view, f"{plan.title}: the panel seen from the back", about(plan))


def drawn_panel(plan: Plan) -> tuple[Pen, Box]:
    """The rear view with its head and foot, and the box it fills."""
    scene = scene_of(plan)
    unit = scene.frame.unit_mm
    letters, pen = Lettering(unit), Pen(unit)
    plate = Box(0, 0, scene.frame.width_mm, scene.frame.height_mm)
    found, _ = placed(_wanted(scene, letters), crowd_of(scene), plate.grown(_MARGIN * unit), unit)
    draw_wires(pen, scene)
    for each in found:
        draw_arriving(pen, each)
    draw_joints(pen, scene)
    box = plate.grown(unit)
    for each in found:
        draw_label(pen, each, letters)
        box = box.joined(each.box)
    box = box.joined(draw_head(pen, box, plan.title))
    box = box.joined(draw_foot(pen, box, plan.panel, legend(plan)))
    return pen, box.grown(2 * unit)


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
        *tag_labels(scene, letters),
        *name_labels(scene, letters, hubs_of(scene.plan)),
    ]


def crowd_of(scene: Scene) -> Crowd:
    """What stands on the sheet before any label: posts, joints, wires, the plate's edge."""
    unit = scene.frame.unit_mm
    crowd = Crowd(8 * unit)
    for place in scene.places.values():
        crowd.add_box(box_at(place, 2 * POST * unit, 2 * POST * unit))
    for run, line in zip(scene.runs, scene.lines, strict=True):
        crowd.add_line(line, run.wire)
    wide, high = scene.frame.width_mm, scene.frame.height_mm
    crowd.add_line([(0, 0), (wide, 0), (wide, high), (0, high), (0, 0)], "plate")
    return crowd
