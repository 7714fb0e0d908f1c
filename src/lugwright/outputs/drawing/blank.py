"""The rear view before anything is planned: for the person with calipers and no data."""

from __future__ import annotations

from lugwright.outputs.drawing.asides import POST
from lugwright.outputs.drawing.captions import draw_foot, draw_head, post_legend
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, box_at
from lugwright.outputs.drawing.label_marks import draw_label
from lugwright.outputs.drawing.labels import Lettering, name_labels, post_labels
from lugwright.outputs.drawing.layers import draw_ground, draw_posts
from lugwright.outputs.drawing.pen import Pen, finished
from lugwright.outputs.drawing.placing import placed
from lugwright.outputs.drawing.scene import ground_of
from lugwright.plan.panel import Panel, PanelPost


def blank_view(panel: Panel, title: str) -> str:
    """Plate, bodies and posts with id and function, no wires, as SVG without an XML prologue."""
    ground = ground_of(panel)
    unit = ground.frame.unit_mm
    letters, pen, crowd = Lettering(unit), Pen(unit), Crowd(8 * unit)
    for at in ground.places.values():
        crowd.add_box(box_at(at, 2 * POST * unit, 2 * POST * unit))
    plate = Box(0, 0, ground.frame.width_mm, ground.frame.height_mm)
    wanted = [*post_labels(ground, letters, blank_words), *name_labels(ground, letters, {})]
    draw_ground(pen, ground)
    draw_posts(pen, ground)
    box = plate.grown(unit)
    for each in placed(wanted, crowd, plate.grown(8 * unit), unit)[0]:
        draw_label(pen, each, letters)
        box = box.joined(each.box)
    box = box.joined(draw_head(pen, box, title))
    box = box.joined(draw_foot(pen, box, panel, post_legend(panel)))
    about = f"{len(panel.instruments)} instruments seen from the back, before planning."
    return finished(pen, box.grown(2 * unit), f"{title}: the panel seen from the back", about)


def blank_words(post: PanelPost) -> tuple[str, ...]:
    """A post by its id, and what it is."""
    what = {"stud": post.thread, "tab": post.tab_size, "lead": post.lead_size}[post.kind]
    return (post.id, f"{post.function or 'no function'}, {post.kind} {what}".rstrip())
