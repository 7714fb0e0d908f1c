"""The scene without its words, from the plate up: bodies, leads, wires, joints, posts."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.base.scale import mm_text
from lugwright.outputs.drawing.frame import Box, Point
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.drawing.parts import (
    body_box,
    draw_entry,
    draw_hole,
    draw_instrument,
    draw_joint,
    draw_keep_out,
    draw_lead,
    draw_plate,
    draw_post,
    draw_strap,
    draw_tie,
)
from lugwright.outputs.drawing.pen import WIRE, Pen
from lugwright.outputs.drawing.runs import Run
from lugwright.outputs.drawing.scene import Ground, Scene
from lugwright.outputs.words import colour_text
from lugwright.plans.schema import Plan
from lugwright.trade.hubs import NO_HUB


def hubs_of(plan: Plan) -> dict[str, str]:
    """The hubs as the plan names them, each with the word that marks it."""
    where: dict[str, list[str]] = {}
    homes = {post.id: post.instrument for post in plan.panel.posts}
    no_hub = {one.name for one in plan.panel.circuits if one.side in NO_HUB}
    for landing in (one for one in plan.landings if one.circuit not in no_hub):
        where.setdefault(homes[landing.post], []).append(landing.circuit)
    where = {name: told for name, told in where.items() if name in plan.hub.split(", ")}
    if len(where) == 1:
        return dict.fromkeys(where, "HUB")
    return {name: f"HUB: {', '.join(circuits)}" for name, circuits in where.items()}


def draw_wires(pen: Pen, scene: Scene) -> None:
    """The plate and every wire along its path."""
    hubs = hubs_of(scene.plan)
    draw_ground(pen, scene, frozenset(hubs))
    for run, line in zip(scene.runs, scene.lines, strict=True):
        draw_wire(pen, run, line)


def draw_wire(pen: Pen, run: Run, line: Sequence[Point], wide: float = WIRE) -> None:
    """One wire along its line, with its facts."""
    inner = pen.inner(run_title(run), data_wire=run.wire)
    length = str(run.length_dmm) if run.length_dmm else ""
    inner.wire(line, paint_of(run.colour), aboard=run.aboard, wide=wide, length_dmm=length)


def draw_ground(
    pen: Pen, ground: Ground, hubs: frozenset[str] = frozenset(), within: Box | None = None
) -> None:
    """What lies under the wires: plate, keep-outs, bodies, tie points, leads of instruments.

    ``within``: only what reaches into that box.
    """
    panel, frame = ground.panel, ground.frame
    draw_plate(pen, frame)
    for keep_out in panel.keep_outs:
        draw_keep_out(pen, frame, keep_out)
    for hole in panel.holes:
        if within is None or within.holds(frame.at(hole.x_dmm, hole.y_dmm)):
            draw_hole(pen, frame, hole)
    for instrument in panel.instruments:
        if within is None or within.meets(body_box(frame, instrument)):
            draw_instrument(pen, frame, instrument, is_hub=instrument.name in hubs)
    for tie in panel.tie_points:
        draw_tie(pen, frame, tie)
    for strap in panel.straps:
        if within is None or any(within.holds(ground.places[post]) for post in strap.posts):
            draw_strap(pen, strap, ground.places)
    owners = {instrument.name: instrument for instrument in panel.instruments}
    for post in panel.posts:
        at = ground.places[post.id]
        if post.kind == "lead" and (within is None or within.holds(at)):
            draw_lead(pen, frame, post, owners[post.instrument], at)


def draw_joints(pen: Pen, scene: Scene, within: Box | None = None) -> None:
    """What lies over the wires: splices, butts, entries, posts."""
    posts = {post.id for post in scene.panel.posts}
    for joint, at in scene.places.items():
        if joint not in posts and (within is None or within.holds(at)):
            draw_joint(pen, joint, at, title=joint)
    for wire, at in scene.entries.items():
        if within is None or within.holds(at):
            draw_entry(pen, wire, at, f"{wire} enters here")
    draw_posts(pen, scene, within)


def draw_posts(pen: Pen, ground: Ground, within: Box | None = None) -> None:
    """Every post's mark."""
    for post in ground.panel.posts:
        at = ground.places[post.id]
        if within is None or within.holds(at):
            draw_post(pen, post, at, title=f"{post.id}, {post.kind}")


def run_title(run: Run) -> str:
    """A wire in words: ``ground 3: black (BK), 16 AWG, 155 mm, volts.ground to depth.ground``."""
    words = f"{run.wire}: {colour_text(run.colour, run.code)}, {run.size}"
    if run.length_dmm:
        return f"{words}, {mm_text(run.length_dmm)} mm, {run.from_joint} to {run.to_joint}"
    return f"{words}, to {run.to_joint}"
