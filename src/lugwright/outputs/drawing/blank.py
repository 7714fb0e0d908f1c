"""The rear view before anything is planned: for the person with callipers and no data."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.outputs.drawing.captions import draw_foot, draw_head, post_legend, write_list
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, box_at
from lugwright.outputs.drawing.label_marks import draw_label
from lugwright.outputs.drawing.labels import Lettering, name_labels, post_labels
from lugwright.outputs.drawing.layers import draw_ground, draw_posts
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.pen import Pen
from lugwright.outputs.drawing.placing import Placed, placed
from lugwright.outputs.drawing.scene import Ground, ground_of
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.words import post_use
from lugwright.plans.panel import Panel, PanelPost


def blank_view(
    panel: Panel,
    title: str,
    notes: Sequence[str] = (),
    page_mm: tuple[float, float] | None = None,
) -> Drawing:
    """Plate, bodies and posts with id and function, no wires.

    A post whose words find no room has a number, and its words stand in a list below; ``notes``
    are sentences below all. ``page_mm``: the upright page it has to fit.
    """
    ground = ground_of(panel)
    unit = ground.frame.unit_mm
    letters, pen = Lettering(unit), Pen(unit)
    plate = Box(0, 0, ground.frame.width_mm, ground.frame.height_mm)
    found, listed = _arranged(ground, letters, plate.grown(8 * unit))
    draw_ground(pen, ground)
    draw_posts(pen, ground)
    box = plate.grown(unit)
    for each in found:
        draw_label(pen, each, letters)
        box = box.joined(each.box)
    head = draw_head(pen, box, title)
    box = box.joined(write_list(pen, box, listed, 3))
    box = box.joined(draw_foot(pen, box, panel, post_legend(panel))).joined(head)
    if notes:
        box = box.joined(write_list(pen, box, list(notes), 2))
    about = f"{len(panel.instruments)} instruments seen from the back, before planning."
    words = f"{title}: the panel seen from the back"
    return Drawing(pen.into, box.grown(2 * unit), words, about, page_mm=page_mm)


def _arranged(ground: Ground, letters: Lettering, within: Box) -> tuple[list[Placed], list[str]]:
    """The labels with their places, and the lines of the list."""
    unit, crowd = letters.unit_mm, Crowd(8 * letters.unit_mm)
    for at in ground.places.values():
        crowd.add_box(box_at(at, 2 * POST * unit, 2 * POST * unit))
    wanted = [*name_labels(ground, letters, {}), *post_labels(ground, letters, blank_words)]
    found, left = placed(wanted, crowd, within, unit)
    numbers = {label.key[1]: str(number) for number, label in enumerate(left, 1)}
    again = post_labels(ground, letters, lambda post: (numbers.get(post.id, ""),))
    short = [label for label in again if label.key[1] in numbers]
    found += placed(short, crowd, within, unit, worst=float("inf"))[0]
    return found, [f"{numbers[label.key[1]]}: {', '.join(label.lines)}" for label in left]


def blank_words(post: PanelPost) -> tuple[str, ...]:
    """A post by its id, and what it is."""
    what = {"stud": post.thread, "tab": post.tab_size, "lead": post.lead_size}[post.kind]
    return (post.id, f"{post_use(post) or 'no function'}, {post.kind} {what}".rstrip())
