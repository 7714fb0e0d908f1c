"""The things on a plate as they are drawn: plate and mark, bodies, posts, joints, keep-outs."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from lugwright.base.scale import DMM_PER_MM
from lugwright.base.shapes import directed, outline, rectangle
from lugwright.outputs.drawing.frame import Box, Frame, Point, box_at, distance
from lugwright.outputs.drawing.letters import shortened
from lugwright.outputs.drawing.paint import INK, PALE, PAPER, paint_of
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.pen import STRONG, THIN, Pen
from lugwright.plans.panel import (
    Panel,
    PanelHole,
    PanelInstrument,
    PanelKeepOut,
    PanelPost,
    PanelStrap,
    PanelTiePoint,
)
from lugwright.trade.names import strap_name

MARK = 8.0  # units: the sides of the black corner
STRAP = 1.8  # units: the width of a strap
HATCH = 3.0  # units between the lines of a keep-out


def draw_plate(pen: Pen, frame: Frame) -> None:
    """The plate's outline and the black corner: lower right from the back, lower left in front."""
    wide, high = frame.width_mm, frame.height_mm
    pen.box(Box(0, 0, wide, high), wide=STRONG)
    draw_mark(pen, frame)


def draw_mark(pen: Pen, frame: Frame) -> None:
    """A solid right-angled triangle in the corner that is lower left seen from the front."""
    wide, high, side = frame.width_mm, frame.height_mm, MARK * frame.unit_mm
    pen.inner(data_mark="front lower left").shape(
        [(wide, high), (wide - side, high), (wide, high - side * 0.6)]
    )


def draw_keep_out(pen: Pen, frame: Frame, keep_out: PanelKeepOut) -> None:
    """A rectangle hatched by lines that all wires stay out of."""
    x0, y1 = frame.at(keep_out.x0_dmm, keep_out.y0_dmm)
    x1, y0 = frame.at(keep_out.x1_dmm, keep_out.y1_dmm)
    inner = pen.inner(shortened(keep_out.name, 60), data_keep_out=keep_out.name)
    inner.box(Box(x0, y0, x1, y1), PALE)
    step = HATCH * frame.unit_mm
    way = step
    while way < (x1 - x0) + (y1 - y0):
        start = (x0 + min(way, x1 - x0), y0 + max(0.0, way - (x1 - x0)))
        end = (x0 + max(0.0, way - (y1 - y0)), y0 + min(way, y1 - y0))
        inner.line([start, end], PALE, THIN * 0.7)
        way += step


def draw_tie(pen: Pen, frame: Frame, tie: PanelTiePoint) -> None:
    """A tie point: a small upright cross in a ring."""
    x, y = frame.at(tie.x_dmm, tie.y_dmm)
    arm = 1.5 * frame.unit_mm
    inner = pen.inner(f"tie point {tie.name}", data_tie=tie.name)
    inner.circle((x, y), arm, PALE)
    inner.line([(x - arm, y), (x + arm, y)], PALE)
    inner.line([(x, y - arm), (x, y + arm)], PALE)


def draw_instrument(
    pen: Pen, frame: Frame, instrument: PanelInstrument, *, is_hub: bool = False, rims: bool = True
) -> None:
    """A body in outline, bezel and cut-out faint; the hub's outline is double and strong."""
    at = frame.at(instrument.x_dmm, instrument.y_dmm)
    if rims:
        _draw_mount(pen, frame, instrument)
    if rims and instrument.bezel_dmm:
        pen.circle(at, instrument.bezel_dmm / DMM_PER_MM / 2, PALE, THIN * 0.7)
    if rims and instrument.cut_out_dmm:
        pen.circle(at, instrument.cut_out_dmm / DMM_PER_MM / 2, PALE, THIN * 0.7, dash=(0.8, 0.8))
    for grow in (0.0, 0.9 * frame.unit_mm) if is_hub else (0.0,):
        wide = STRONG if is_hub and not grow else THIN * 1.4
        if instrument.body_dmm:
            pen.circle(at, instrument.body_dmm / DMM_PER_MM / 2 + grow, INK, wide)
        else:
            pen.box(body_box(frame, instrument).grown(grow), INK, wide)


def _draw_mount(pen: Pen, frame: Frame, one: PanelInstrument) -> None:
    """What is not round of its bezel and cut-out, and its screws, all faint."""
    mount, at, wide = one.mount, (one.x_dmm, one.y_dmm), THIN * 0.7
    direction = directed(Fraction(mount.turn_mdeg, 1000))
    for sides, radius, dash in (
        ((mount.bezel_width_dmm, mount.bezel_height_dmm), 0, ()),
        ((mount.cut_out_width_dmm, mount.cut_out_height_dmm), mount.cut_out_radius_dmm, (0.8, 0.8)),
    ):
        if sides[0]:
            edge = outline(rectangle(at, sides, radius, direction))
            places = [frame.at(x, y) for x, y in edge]
            pen.line([*places, places[0]], PALE, wide, dash)
    for screw in mount.screws:
        draw_hole(pen, frame, screw)


def draw_hole(pen: Pen, frame: Frame, hole: PanelHole) -> None:
    """A round hole of the plate, faint."""
    inner = pen.inner(hole.what, data_hole=hole.what) if hole.what else pen
    at = frame.at(hole.x_dmm, hole.y_dmm)
    inner.circle(at, hole.diameter_dmm / DMM_PER_MM / 2, PALE, THIN)


def body_box(frame: Frame, instrument: PanelInstrument) -> Box:
    """The box around a body, mm."""
    wide = (instrument.body_dmm or instrument.body_width_dmm) / DMM_PER_MM
    high = (instrument.body_dmm or instrument.body_height_dmm) / DMM_PER_MM
    return box_at(frame.at(instrument.x_dmm, instrument.y_dmm), wide, high)


def strap_line(strap: PanelStrap, places: Mapping[str, Point]) -> list[Point]:
    """A strap as a line from stud to stud, along the side on which they lie farther apart."""
    studs = [places[post] for post in strap.posts]
    wide, high = (max(p[k] for p in studs) - min(p[k] for p in studs) for k in (0, 1))
    return sorted(studs, key=lambda at: at if wide >= high else (at[1], at[0]))


def draw_strap(pen: Pen, strap: PanelStrap, places: Mapping[str, Point]) -> None:
    """A strap: bare metal in outline from stud to stud."""
    inner = pen.inner(strap_name(strap.name), data_strap=strap.name)
    line = strap_line(strap, places)
    inner.line(line, INK, STRAP)
    inner.line(line, PAPER, STRAP - 2 * THIN * 1.4)


def draw_post(
    pen: Pen, post: PanelPost, at: Point, *, title: str = "", ringed: bool = False
) -> Pen:
    """A post: stud a circle with its thread, tab a bar, lead the square end of its own wire."""
    inner = pen.inner(title, data_post=post.id, data_kind=post.kind)
    radius = POST * pen.unit
    if ringed:
        inner.circle(at, radius * 2.1, INK, STRONG)
    if post.kind == "stud":
        inner.circle(at, radius, INK, THIN * 1.4, PAPER)
        inner.circle(at, radius * 0.5, INK, THIN)
    elif post.kind == "tab":
        inner.box(box_at(at, radius * 2.1, radius * 1.1), INK, THIN * 1.4, PAPER)
        inner.line([(at[0] - radius * 0.6, at[1]), (at[0] + radius * 0.6, at[1])], INK, THIN)
    else:
        inner.box(box_at(at, radius * 1.5, radius * 1.5), INK, THIN * 1.4, PAPER)
    return inner


def draw_lead(pen: Pen, frame: Frame, post: PanelPost, owner: PanelInstrument, at: Point) -> None:
    """A lead's own wire, from the middle of its instrument's edge to its stated end."""
    start = _edge_towards(frame, owner, at)
    pen.wire([start, at], paint_of(post.lead_colour), gap=False, wide=0.5)


def _edge_towards(frame: Frame, instrument: PanelInstrument, at: Point) -> Point:
    """Where the straight way from a body's centre to a place leaves the body."""
    centre = frame.at(instrument.x_dmm, instrument.y_dmm)
    away = distance(centre, at)
    box = body_box(frame, instrument)
    dx, dy = at[0] - centre[0], at[1] - centre[1]
    if instrument.body_dmm:
        share = box.wide / 2 / away if away else 0.0
    else:
        share = min(
            box.wide / 2 / abs(dx) if dx else float("inf"),
            box.high / 2 / abs(dy) if dy else float("inf"),
        )
    share = min(share, 1.0) * 0.8
    return (centre[0] + dx * share, centre[1] + dy * share)


def draw_joint(pen: Pen, joint: str, at: Point, *, title: str = "", ringed: bool = False) -> None:
    """A splice or the butt of an extension: a rounded bar with a crimp's two strokes."""
    unit = pen.unit
    inner = pen.inner(title, data_joint=joint)
    if ringed:
        inner.circle(at, 3.0 * unit, INK, STRONG)
    inner.box(box_at(at, 3.4 * unit, 1.9 * unit), INK, THIN * 1.4, PAPER, round_mm=0.8 * unit)
    for aside in (-0.6, 0.6):
        x = at[0] + aside * unit
        inner.line([(x, at[1] - 0.6 * unit), (x, at[1] + 0.6 * unit)])


def draw_entry(pen: Pen, wire: str, at: Point, title: str) -> None:
    """Where a wire from outside enters: a small open triangle that points to the wire."""
    unit = pen.unit
    inner = pen.inner(title, data_entry=wire)
    inner.line(
        [
            (at[0] - 0.9 * unit, at[1] + 1.5 * unit),
            at,
            (at[0] + 0.9 * unit, at[1] + 1.5 * unit),
            (at[0] - 0.9 * unit, at[1] + 1.5 * unit),
        ]
    )


def scale_bar(pen: Pen, at: Point, panel: Panel) -> None:
    """A bar of a round length, with its length in words."""
    wide = panel.width_dmm / DMM_PER_MM
    length = next((mm for mm in (200, 100, 50, 20) if mm <= wide / 3), 10)
    x, y, tick = at[0], at[1], pen.unit
    inner = pen.inner(data_scale_mm=str(length))
    inner.line([(x, y - tick), (x, y), (x + length, y), (x + length, y - tick)], wide=THIN * 1.6)
    inner.text((x + length / 2, y - 0.7 * pen.unit), f"{length} mm", 2.0)
