"""A small drawing of one step: the wires and joints it is about, and where on the plate that is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lugwright.outputs.drawing.asides import POST
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, box_around, box_at
from lugwright.outputs.drawing.given_labels import aboard_labels
from lugwright.outputs.drawing.label_marks import draw_arriving, draw_label
from lugwright.outputs.drawing.labels import Lettering, joint_words, spoken
from lugwright.outputs.drawing.paint import INK, PALE, PAPER, paint_of
from lugwright.outputs.drawing.parts import (
    body_box,
    draw_entry,
    draw_instrument,
    draw_joint,
    draw_lead,
    draw_post,
)
from lugwright.outputs.drawing.pen import THIN, Pen, finished
from lugwright.outputs.drawing.placing import Label, placed
from lugwright.outputs.drawing.scene import Scene, scene_of
from lugwright.outputs.drawing.tags import tag_labels
from lugwright.plan.panel import PanelPost
from lugwright.plan.schema import Plan

_PRINTED_MM = 95.0  # a step drawing is about this wide on paper
_LEAST_MM = 70.0  # no closer look than this
_SHAPE = 0.55  # height over width, about
_STRONG = 1.1  # units: the width of a wire the step is about
_LOCATOR = 15.0  # units: the width of the little plate that shows where


def step_view(plan: Plan, *, wires: Sequence[str] = (), joints: Sequence[str] = ()) -> str:
    """The named wires strong and tagged, the named joints ringed and named, bodies in outline.

    Wires are named as in ``EndRef.wire``, joints by post id or label. Raises KeyError for a name
    the plan has not.
    """
    scene = scene_of(plan)
    _known(scene, wires, joints)
    view = _crop(scene, wires, joints)
    unit = max(view.wide / _PRINTED_MM, view.high / (_PRINTED_MM * _SHAPE))
    pen = Pen(unit)
    _bodies(pen, scene, view)
    found = placed(
        _labels(scene, wires, joints, unit), _crowd(scene, wires, joints, unit), view, unit
    )[0]
    _draw_wires(pen, scene, wires)
    for each in found:
        draw_arriving(pen, each)
    _joints(pen, scene, wires, joints)
    letters = Lettering(unit)
    for each in found:
        draw_label(pen, each, letters)
    _locator(pen, scene, view)
    words = ", ".join((*wires, *joints)) or "the panel"
    return finished(pen, view, f"{words}, seen from the back", f"Where {words} is.")


def _known(scene: Scene, wires: Iterable[str], joints: Iterable[str]) -> None:
    known = {run.wire for run in scene.runs} | set(scene.entries)
    known |= {wire.wire for wire in scene.plan.given} | _leads(scene).keys()
    for wire in wires:
        if wire not in known:
            raise KeyError(wire)
    for joint in joints:
        if joint not in scene.places:
            raise KeyError(joint)


def _leads(scene: Scene) -> dict[str, PanelPost]:
    """The leads of instruments by their name as a wire, ``lead depth.ground``."""
    return {f"lead {post.id}": post for post in scene.panel.posts if post.kind == "lead"}


def _crop(scene: Scene, wires: Sequence[str], joints: Sequence[str]) -> Box:
    """The part of the plate to show: all that is named, with the bodies it belongs to."""
    frame = scene.frame
    plate = Box(0, 0, frame.width_mm, frame.height_mm).grown(3 * frame.unit_mm)
    points = [scene.places[joint] for joint in joints]
    for run, line in zip(scene.runs, scene.lines, strict=True):
        points += line if run.wire in wires else ()
    points += [at for wire, at in scene.entries.items() if wire in wires]
    points += [scene.places[w.joint] for w in scene.plan.given if w.wire in wires]
    points += [scene.places[post.id] for name, post in _leads(scene).items() if name in wires]
    if not points:
        return plate
    near = box_around(points)
    for instrument in scene.panel.instruments:
        body = body_box(frame, instrument)
        if any(body.holds(point) for point in points):
            near = near.joined(body)
    near = near.grown(0.08 * max(near.wide, near.high) + 4)
    wide = max(near.wide, near.high / _SHAPE, _LEAST_MM)
    return box_at(near.centre, wide, max(near.high, wide * _SHAPE))


def _bodies(pen: Pen, scene: Scene, view: Box) -> None:
    frame = scene.frame
    pen.box(Box(0, 0, frame.width_mm, frame.height_mm), PALE, THIN)
    for instrument in scene.panel.instruments:
        body = body_box(frame, instrument)
        if view.meets(body):
            draw_instrument(pen, frame, instrument, rims=False)


def _draw_wires(pen: Pen, scene: Scene, wires: Sequence[str]) -> None:
    """The wires along a path, and the own wires of leads."""
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if run.wire in wires:
            inner = pen.inner(data_wire=run.wire)
            inner.wire(line, paint_of(run.colour), aboard=run.aboard, wide=_STRONG)
    owners = {instrument.name: instrument for instrument in scene.panel.instruments}
    for name, post in _leads(scene).items():
        if name in wires:
            inner = pen.inner(data_wire=name)
            draw_lead(inner, scene.frame, post, owners[post.instrument], scene.places[post.id])


def _joints(pen: Pen, scene: Scene, wires: Sequence[str], joints: Sequence[str]) -> None:
    """The joints named, ringed, and those at the ends of the wires named."""
    ends = {
        joint for run in scene.runs if run.wire in wires for joint in (run.from_joint, run.to_joint)
    }
    ends |= {wire.joint for wire in scene.plan.given if wire.wire in wires}
    ends |= {post.id for name, post in _leads(scene).items() if name in wires}
    ends |= set(joints)
    for post in scene.panel.posts:
        if post.id in ends:
            draw_post(pen, post, scene.places[post.id], ringed=post.id in joints)
    for joint in sorted(ends - {post.id for post in scene.panel.posts} - {""}):
        draw_joint(pen, joint, scene.places[joint], ringed=joint in joints)
    for wire, at in scene.entries.items():
        if wire in wires:
            draw_entry(pen, wire, at, "")


def _labels(scene: Scene, wires: Sequence[str], joints: Sequence[str], unit: float) -> list[Label]:
    letters = Lettering(unit)
    labels = [
        spoken(joint, joint_words(scene, joint), scene.places[joint], letters) for joint in joints
    ]
    labels += [
        spoken(wire, (wire,), at, letters)
        for wire, at in scene.entries.items()
        if wire in wires and all(run.wire != wire for run in scene.runs)
    ]
    labels += tag_labels(scene, letters, wires)
    return [*labels, *aboard_labels(scene, letters, wires)]


def _crowd(scene: Scene, wires: Sequence[str], joints: Sequence[str], unit: float) -> Crowd:
    crowd = Crowd(8 * unit)
    for joint in joints:
        crowd.add_box(box_at(scene.places[joint], 4 * POST * unit, 4 * POST * unit))
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if run.wire in wires:
            crowd.add_line(line, run.wire)
    return crowd


def _locator(pen: Pen, scene: Scene, view: Box) -> None:
    """A little plate in the corner with the part shown, unless nearly all of it is."""
    wide, high = scene.frame.width_mm, scene.frame.height_mm
    if view.wide > 0.8 * wide:
        return
    scale = _LOCATOR * pen.unit / wide
    x, y = view.x0 + 0.8 * pen.unit, view.y0 + 0.8 * pen.unit

    def small(box: Box) -> Box:
        return Box(x + box.x0 * scale, y + box.y0 * scale, x + box.x1 * scale, y + box.y1 * scale)

    pen.box(small(Box(0, 0, wide, high)), INK, THIN, PAPER)
    shown = Box(max(view.x0, 0), max(view.y0, 0), min(view.x1, wide), min(view.y1, high))
    pen.box(small(shown), wide=0, fill=PALE)
