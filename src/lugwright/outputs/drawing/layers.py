"""The scene without its words, from the plate up: bodies, leads, wires, joints, posts."""

from __future__ import annotations

from lugwright.base.scale import mm_text
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.drawing.parts import (
    draw_entry,
    draw_instrument,
    draw_joint,
    draw_keep_out,
    draw_lead,
    draw_plate,
    draw_post,
    draw_tie,
)
from lugwright.outputs.drawing.pen import Pen
from lugwright.outputs.drawing.runs import Run
from lugwright.outputs.drawing.scene import Ground, Scene
from lugwright.outputs.words import colour_text
from lugwright.plan.schema import Plan


def hubs_of(plan: Plan) -> dict[str, str]:
    """The instruments where supplies land, each with the word that marks it."""
    where: dict[str, list[str]] = {}
    homes = {post.id: post.instrument for post in plan.panel.posts}
    for landing in plan.landings:
        where.setdefault(homes[landing.post], []).append(landing.circuit)
    if len(where) == 1:
        return dict.fromkeys(where, "HUB")
    return {name: f"HUB: {', '.join(circuits)}" for name, circuits in where.items()}


def draw_wires(pen: Pen, scene: Scene) -> None:
    """The plate and every wire along its path."""
    hubs = hubs_of(scene.plan)
    draw_ground(pen, scene, frozenset(hubs))
    for run, line in zip(scene.runs, scene.lines, strict=True):
        inner = pen.inner(run_title(run), data_wire=run.wire)
        length = str(run.length_dmm) if run.length_dmm else ""
        inner.wire(line, paint_of(run.colour), aboard=run.aboard, length_dmm=length)


def draw_ground(pen: Pen, ground: Ground, hubs: frozenset[str] = frozenset()) -> None:
    """What lies under the wires: plate, keep-outs, bodies, tie points, leads of instruments."""
    panel, frame = ground.panel, ground.frame
    draw_plate(pen, frame)
    for keep_out in panel.keep_outs:
        draw_keep_out(pen, frame, keep_out)
    for instrument in panel.instruments:
        draw_instrument(pen, frame, instrument, is_hub=instrument.name in hubs)
    for tie in panel.tie_points:
        draw_tie(pen, frame, tie)
    draw_leads(pen, ground)


def draw_leads(pen: Pen, ground: Ground) -> None:
    """The own wires of posts that are leads."""
    owners = {instrument.name: instrument for instrument in ground.panel.instruments}
    for post in ground.panel.posts:
        if post.kind == "lead":
            draw_lead(pen, ground.frame, post, owners[post.instrument], ground.places[post.id])


def draw_joints(pen: Pen, scene: Scene) -> None:
    """What lies over the wires: splices, butts, entries, posts."""
    for splice in scene.plan.splices:
        draw_joint(pen, splice.label, scene.places[splice.label], title=splice.label)
    for jumper in scene.plan.jumpers:
        if jumper.role == "extension":
            at = scene.places[jumper.from_joint]
            draw_joint(pen, jumper.from_joint, at, title=jumper.from_joint)
    for entry in scene.plan.panel.entries:
        draw_entry(pen, entry.wire, scene.entries[entry.wire], f"{entry.wire} enters here")
    draw_posts(pen, scene)


def draw_posts(pen: Pen, ground: Ground) -> None:
    """Every post's mark."""
    for post in ground.panel.posts:
        draw_post(pen, post, ground.places[post.id], title=f"{post.id}, {post.kind}")


def run_title(run: Run) -> str:
    """A wire in words: ``ground 3: black (BK), 16 AWG, 155 mm, volts.ground to depth.ground``."""
    words = f"{run.wire}: {colour_text(run.colour, run.code)}, {run.size}"
    if run.length_dmm:
        return f"{words}, {mm_text(run.length_dmm)} mm, {run.from_joint} to {run.to_joint}"
    return f"{words}, to {run.to_joint}"
