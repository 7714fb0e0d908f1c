"""A small drawing of one step: the wires and joints it is about, and where on the plate that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, Point, box_around, box_at
from lugwright.outputs.drawing.given_labels import aboard_labels
from lugwright.outputs.drawing.label_marks import draw_boat_wire, draw_label
from lugwright.outputs.drawing.labels import Lettering, joint_words, spoken, strap_labels
from lugwright.outputs.drawing.paint import INK, PALE, PAPER, paint_of
from lugwright.outputs.drawing.parts import (
    body_box,
    draw_entry,
    draw_instrument,
    draw_joint,
    draw_lead,
    draw_post,
    draw_strap,
)
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.pen import THIN, Pen
from lugwright.outputs.drawing.placing import Label, Placed, placed
from lugwright.outputs.drawing.runs import Run
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.drawing.tags import tag_labels
from lugwright.plans.panel import PanelPost, PanelStrap
from lugwright.trade.names import lead_wire, strap_name

_PRINTED_MM = 95.0  # a step drawing is about this wide on paper
_LEAST_MM = 70.0  # no closer look than this
_SHAPE = 0.55  # height over width, about
_STRONG = 1.1  # units: the width of a wire the step is about
_LOCATOR = 15.0  # units: the width of the little plate that shows where
_TRIES, _WIDER = 4, 1.3  # a view without room for its words is tried again, wider


def step_view(scene: Scene, *, wires: Sequence[str] = (), joints: Sequence[str] = ()) -> Drawing:
    """The named wires strong and tagged, the named joints ringed and named, bodies in outline.

    Wires are named as in ``EndRef.wire``, joints by post id or label. Raises KeyError for a name
    the plan has not.
    """
    about = _About(scene, tuple(wires), tuple(joints))
    about.refuse_strangers()
    view = about.crop()
    for turn in range(_TRIES):
        pen = Pen(max(view.wide / _PRINTED_MM, view.high / (_PRINTED_MM * _SHAPE)))
        corner = _corner(about, view, pen.unit)
        last = turn + 1 == _TRIES
        found, left = _words(about, view, corner, pen.unit, all_or_none=not last)
        if not left:
            break
        view = box_at(view.centre, view.wide * _WIDER, view.high * _WIDER)
    _draw(pen, about, view, found)
    if corner:
        _locator(pen, about.scene, view, corner)
    words = ", ".join((*wires, *joints)) or "the panel"
    return Drawing(pen.into, view, f"{words}, seen from the back", f"Where {words} is.")


@dataclass(frozen=True)
class _About:
    """What a step is about."""

    scene: Scene
    wires: tuple[str, ...]
    joints: tuple[str, ...]

    @cached_property
    def leads(self) -> dict[str, PanelPost]:
        """The leads of instruments by their name as a wire, ``lead depth.ground``."""
        posts = self.scene.panel.posts
        return {lead_wire(post.id): post for post in posts if post.kind == "lead"}

    @cached_property
    def runs(self) -> list[tuple[Run, tuple[Point, ...]]]:
        """The wires that have a path, with their lines."""
        pairs = zip(self.scene.runs, self.scene.lines, strict=True)
        return [(run, line) for run, line in pairs if run.wire in self.wires]

    @cached_property
    def straps(self) -> list[PanelStrap]:
        """The straps among the wires."""
        straps = self.scene.panel.straps
        return [strap for strap in straps if strap_name(strap.name) in self.wires]

    @cached_property
    def ends(self) -> list[str]:
        """Every joint at an end of the wires, or named itself; named ones first."""
        found = dict.fromkeys(self.joints)
        for run, _ in self.runs:
            found |= dict.fromkeys(joint for joint in (run.from_joint, run.to_joint) if joint)
        given = [wire.joint for wire in self.scene.plan.given if wire.wire in self.wires]
        found |= dict.fromkeys(given)
        found |= dict.fromkeys(post for strap in self.straps for post in strap.posts)
        found |= {post.id: None for name, post in self.leads.items() if name in self.wires}
        return list(found)

    def refuse_strangers(self) -> None:
        """KeyError for a wire or joint the plan has not."""
        known = {run.wire for run in self.scene.runs} | set(self.scene.entries) | set(self.leads)
        known |= {wire.wire for wire in self.scene.plan.given}
        known |= {strap_name(strap.name) for strap in self.straps}
        strangers = [wire for wire in self.wires if wire not in known]
        strangers += [joint for joint in self.joints if joint not in self.scene.places]
        for name in strangers:
            raise KeyError(name)

    def crop(self) -> Box:
        """The part of the plate to show: all that is named, with the bodies it belongs to."""
        frame, places = self.scene.frame, self.scene.places
        points = [places[joint] for joint in self.ends]
        points += [point for _, line in self.runs for point in line]
        points += [at for wire, at in self.scene.entries.items() if wire in self.wires]
        if not points:
            return Box(0, 0, frame.width_mm, frame.height_mm).grown(3 * frame.unit_mm)
        near = box_around(points)
        for instrument in self.scene.panel.instruments:
            body = body_box(frame, instrument)
            if any(body.holds(point) for point in points):
                near = near.joined(body)
        near = near.grown(0.08 * max(near.wide, near.high) + 4)
        wide = max(near.wide, near.high / _SHAPE, _LEAST_MM)
        return box_at(near.centre, wide, max(near.high, wide * _SHAPE))


def _crowd(about: _About, unit: float) -> Crowd:
    crowd = Crowd(8 * unit)
    for joint in about.ends:
        size = (4 if joint in about.joints else 2) * POST * unit
        crowd.add_box(box_at(about.scene.places[joint], size, size))
    for run, line in about.runs:
        crowd.add_line(line, run.wire)
    return crowd


def _words(
    about: _About, view: Box, corner: Box | None, unit: float, *, all_or_none: bool
) -> tuple[list[Placed], list[Label]]:
    """The words with their places: named joints, tags, what comes aboard, the other ends."""
    scene, letters, crowd = about.scene, Lettering(unit), _crowd(about, unit)
    if corner:
        crowd.add_box(corner)
    labels = [
        spoken(joint, joint_words(scene, joint), scene.places[joint], letters)
        for joint in about.ends
    ]
    named = len(about.joints)
    routed = {run.wire for run, _ in about.runs}
    entering = [
        spoken(wire, (wire,), at, letters)
        for wire, at in scene.entries.items()
        if wire in about.wires and wire not in routed
    ]
    wanted = chain(
        labels[:named],
        entering,
        aboard_labels(scene, letters, about.wires),
        tag_labels(scene, letters, about.wires),
        strap_labels(scene, letters, about.wires),
        labels[named:],
    )
    never = float("inf")
    return placed(wanted, crowd, view, unit, never, never, all_or_none=all_or_none)


def _draw(pen: Pen, about: _About, view: Box, words: Sequence[Placed]) -> None:
    scene, frame = about.scene, about.scene.frame
    pen.box(Box(0, 0, frame.width_mm, frame.height_mm), PALE, THIN)
    for instrument in scene.panel.instruments:
        if view.meets(body_box(frame, instrument)):
            draw_instrument(pen, frame, instrument, rims=False)
    for strap in about.straps:
        draw_strap(pen, strap, scene.places)
    _draw_wires(pen, about)
    for each in words:
        draw_boat_wire(pen, each)
    posts = {post.id: post for post in scene.panel.posts}
    for joint in about.ends:
        ringed = joint in about.joints
        if joint in posts:
            draw_post(pen, posts[joint], scene.places[joint], ringed=ringed)
        else:
            draw_joint(pen, joint, scene.places[joint], ringed=ringed)
    for wire, at in scene.entries.items():
        if wire in about.wires:
            draw_entry(pen, wire, at, "")
    letters = Lettering(pen.unit)
    for each in words:
        draw_label(pen, each, letters)


def _draw_wires(pen: Pen, about: _About) -> None:
    """The wires along a path, and the own wires of leads."""
    for run, line in about.runs:
        inner = pen.inner(data_wire=run.wire)
        inner.wire(line, paint_of(run.colour), aboard=run.aboard, wide=_STRONG)
    owners = {instrument.name: instrument for instrument in about.scene.panel.instruments}
    for name, post in about.leads.items():
        if name in about.wires:
            at = about.scene.places[post.id]
            draw_lead(
                pen.inner(data_wire=name), about.scene.frame, post, owners[post.instrument], at
            )


def _corner(about: _About, view: Box, unit: float) -> Box | None:
    """The emptiest corner of a view, for the little plate; None where all of the plate shows."""
    frame = about.scene.frame
    if view.wide > 0.8 * frame.width_mm:
        return None
    wide = _LOCATOR * unit
    high = wide * frame.height_mm / frame.width_mm
    edge = 0.8 * unit
    crowd = _crowd(about, unit)
    corners = [
        Box(x, y, x + wide, y + high)
        for y in (view.y0 + edge, view.y1 - high - edge)
        for x in (view.x0 + edge, view.x1 - wide - edge)
    ]
    return min(corners, key=lambda box: (crowd.is_taken(box), crowd.covered_mm(box, "")))


def _locator(pen: Pen, scene: Scene, view: Box, corner: Box) -> None:
    """A little plate, with the part shown filled."""
    wide, high = scene.frame.width_mm, scene.frame.height_mm
    scale = corner.wide / wide
    pen.box(corner, INK, THIN, PAPER)
    pen.box(
        Box(
            corner.x0 + max(view.x0, 0) * scale,
            corner.y0 + max(view.y0, 0) * scale,
            corner.x0 + min(view.x1, wide) * scale,
            corner.y0 + min(view.y1, high) * scale,
        ),
        wide=0,
        fill=PALE,
    )
