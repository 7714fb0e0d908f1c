"""A small rear view, for setting plans side by side: circuits by colour **and** dashes.

Every wire that has room carries its label; what has none is still told by the dashes of its
circuit, which the legend beside the drawing names.
"""

from __future__ import annotations

from itertools import pairwise

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.drawing.crowd import Crowd
from lugwright.outputs.drawing.frame import Box, Frame, Point, box_at, distance
from lugwright.outputs.drawing.labels import PITCH, Lettering, name_labels, spoken
from lugwright.outputs.drawing.layers import hubs_of
from lugwright.outputs.drawing.paint import PALE, PAPER, paint_of
from lugwright.outputs.drawing.parts import draw_instrument, draw_mark, draw_strap
from lugwright.outputs.drawing.pen import THIN, Pen
from lugwright.outputs.drawing.placing import Label, Spot, placed
from lugwright.outputs.drawing.runs import Run
from lugwright.outputs.drawing.scene import Ground, Scene, ground_of
from lugwright.outputs.drawing.svg import Drawing, number
from lugwright.plans.panel import Panel
from lugwright.plans.schema import Plan

_WIDE_MM, _HIGH_MM = 100.0, 75.0  # about what such a drawing gets on paper
_CHEAP, _NAME = 2.0, 9.0  # a label, a name that costs more is left out
_POST, _WIRE, _GAP, _LETTER = 0.8, 0.55, 1.2, 2.4  # units
# dashes of circuits in units, one after the other; the first is a full line
DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (3.2, 1.2),
    (1.1, 0.9),
    (3.6, 0.9, 0.9, 0.9),
    (2.2, 0.8, 0.8, 0.8, 0.8, 0.8),
)


def small_view(scene: Scene) -> Drawing:
    """The plan small, as SVG at most 20 kB with 24 instruments."""
    plan = scene.plan
    hubs = hubs_of(plan)
    pen, crowd = _pen(scene.frame), Crowd(8 * _pen(scene.frame).unit)
    _ground(pen, scene, frozenset(hubs))
    _wires(pen, scene)
    for run, line in zip(scene.runs, scene.lines, strict=True):
        crowd.add_line(line, run.wire)
    _posts(pen, scene, crowd)
    _words(pen, scene, crowd, hubs)
    title = f"The panel seen from the back, hub {', '.join(hubs)}"
    return Drawing(pen.into, _view(scene.frame, pen.unit), title, f"{len(plan.jumpers)} jumpers")


def _wires(pen: Pen, scene: Scene) -> None:
    """Every wire over its white gap, those of one circuit together: their looks are said once."""
    dashes = circuit_dashes(scene.plan)
    gap = {"stroke": "#fff", "stroke_width": number(_GAP * pen.unit)}
    looks: dict[tuple[str, str], list[int]] = {}
    for index, run in enumerate(scene.runs):
        looks.setdefault((run.circuit, run.colour), []).append(index)
    for (circuit, colour), inside in looks.items():
        paint = paint_of(colour)
        dash = " ".join(number(part * pen.unit) for part in dashes.get(circuit, ()))
        group = pen.inner(
            fill="none",
            stroke=paint.border or paint.fill,
            stroke_width=number(_WIRE * pen.unit),
            stroke_dasharray=dash or "none",
        )
        full = {"stroke_dasharray": "none"} if dash else {}
        for index in inside:
            wire = group.inner(data_wire=scene.runs[index].wire)
            wire.bare(scene.lines[index], **gap, **full)
            wire.bare(scene.lines[index])


def small_blank(panel: Panel, title: str, hub: str = "") -> Drawing:
    """The panel small without a plan: bodies, names and posts; ``hub`` would have been its hub."""
    ground = ground_of(panel)
    pen = _pen(ground.frame)
    crowd = Crowd(8 * pen.unit)
    hubs = {hub: "no plan"} if hub else {}
    _ground(pen, ground, frozenset(hubs))
    _posts(pen, ground, crowd)
    _words(pen, ground, crowd, hubs)
    return Drawing(pen.into, _view(ground.frame, pen.unit), title, "No plan.")


def circuit_dashes(plan: Plan) -> dict[str, tuple[float, ...]]:
    """The dashes of every circuit of a plan, in units."""
    return {
        wire.circuit: DASHES[index % len(DASHES)] for index, wire in enumerate(plan.circuit_wires)
    }


def _pen(frame: Frame) -> Pen:
    return Pen(max(frame.width_mm / _WIDE_MM, frame.height_mm / _HIGH_MM))


def _view(frame: Frame, unit: float) -> Box:
    plate = Box(0, 0, frame.width_mm, frame.height_mm).grown(2 * unit)
    return Box(plate.x0, plate.y0, plate.x1, plate.y1 + 3 * unit)


def _ground(pen: Pen, ground: Ground, hubs: frozenset[str]) -> None:
    frame = Frame(ground.frame.width_mm, ground.frame.height_mm, pen.unit)
    pen.box(Box(0, 0, frame.width_mm, frame.height_mm), PALE, THIN * 1.4)
    draw_mark(pen, Frame(frame.width_mm, frame.height_mm, pen.unit * 0.5))
    pen.text((0, frame.height_mm + 3.2 * pen.unit), "seen from the back", 2.0, "start")
    rounds: dict[int, list[Point]] = {}
    for instrument in ground.panel.instruments:
        if instrument.body_dmm and instrument.name not in hubs:
            at = frame.at(instrument.x_dmm, instrument.y_dmm)
            rounds.setdefault(instrument.body_dmm, []).append(at)
        else:
            draw_instrument(pen, frame, instrument, is_hub=instrument.name in hubs, rims=False)
    for body_dmm, places in rounds.items():
        pen.rings(places, body_dmm / DMM_PER_MM / 2)
    for strap in ground.panel.straps:
        draw_strap(pen, strap, ground.places)


def _posts(pen: Pen, ground: Ground, crowd: Crowd) -> None:
    """Every joint as a small ring, all in one path."""
    radius = _POST * pen.unit
    pen.rings(list(ground.places.values()), radius)
    for at in ground.places.values():
        crowd.add_box(box_at(at, 2 * radius, 2 * radius))


def _words(pen: Pen, ground: Ground, crowd: Crowd, hubs: dict[str, str]) -> None:
    """Names first, then the labels of wires, where they fit without covering anything."""
    letters = Lettering(pen.unit, _LETTER)
    within = Box(0, 0, ground.frame.width_mm, ground.frame.height_mm)
    found, _ = placed(name_labels(ground, letters, hubs), crowd, within, pen.unit, _NAME)
    if isinstance(ground, Scene):
        tags = [
            _middle(run, line, letters) for run, line in zip(ground.runs, ground.lines, strict=True)
        ]
        found += placed(tags, crowd, within, pen.unit, _CHEAP)[0]
    size = _LETTER * pen.unit
    group = pen.inner(
        text_anchor="middle",
        font_size=number(size),
        paint_order="stroke",
        stroke=PAPER,
        stroke_width=number(0.8 * pen.unit),
    )
    for each in found:
        bold = {"font_weight": "bold"} if each.label.look == "name" else {}
        x, y = each.box.centre
        top = y - (len(each.label.lines) - 1) * PITCH * size / 2 + 0.36 * size
        for index, words in enumerate(each.label.lines):
            group.word((x, top + index * PITCH * size), words, **bold)


def _middle(run: Run, line: tuple[Point, ...], letters: Lettering) -> Label:
    """A wire's label on its longest leg, or beside it."""
    label = spoken(run.wire, (run.wire,), line[0], letters)
    a, b = max(pairwise(line), key=lambda leg: distance(*leg))
    spots = [
        Spot((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share), abs(share - 0.5))
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
    ]
    return Label(label.key, label.lines, label.wide_mm, label.high_mm, spots, owner=run.wire)
