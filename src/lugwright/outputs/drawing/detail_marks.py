"""Details as they are drawn: a frame round the window on the plate, the window larger below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lugwright.outputs.drawing.details import Arranged, Detail
from lugwright.outputs.drawing.frame import Box
from lugwright.outputs.drawing.label_marks import draw_boat_wire, draw_label
from lugwright.outputs.drawing.labels import Lettering
from lugwright.outputs.drawing.layers import draw_ground, draw_joints, draw_wire, hubs_of
from lugwright.outputs.drawing.paint import INK, PALE
from lugwright.outputs.drawing.pen import TEXT, THIN, Pen
from lugwright.outputs.drawing.placing import Label, Placed, Spot, placed
from lugwright.outputs.drawing.scene import Scene

_DASH = (1.2, 0.8)
_OVER = 1.12  # a row of details may be so much wider than the plate before a new one begins
_BETWEEN, _HEADING = 4.0, 3.6  # units between details, and above each for its number


def detail_words(detail: Detail) -> str:
    """What a detail is called, on the plate and beside it."""
    return f"detail {detail.number}"


def draw_windows(pen: Pen, scene: Scene, sheet: Arranged, within: Box) -> list[Placed]:
    """A dashed frame round every window on the plate; the words that number them, placed."""
    letters = Lettering(pen.unit)
    for detail in sheet.details:
        pen.box(detail.window, INK, THIN * 1.4, dash=_DASH)
    wanted = [_number_label(detail, letters) for detail in sheet.details]
    return placed(wanted, sheet.crowd, within, scene.frame.unit_mm, worst=float("inf"))[0]


def _number_label(detail: Detail, letters: Lettering) -> Label:
    wide, high = letters.room([detail_words(detail)], bold=True)
    box, unit = detail.window, letters.unit_mm
    return Label(
        key=("detail", str(detail.number)),
        lines=(detail_words(detail),),
        wide_mm=wide,
        high_mm=high,
        spots=list(_round(box.grown(0.3 * unit), wide, high, unit)),
        look="name",
    )


def _round(box: Box, wide: float, high: float, unit: float) -> Iterator[Spot]:
    """Places along the outside of a box, and further off with a leader."""
    for ring in range(6):
        far = ring * 4 * unit
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            x = box.x0 + wide / 2 + (box.wide - wide) * share
            y = box.y0 + high / 2 + (box.high - high) * share
            for centre in (
                (x, box.y0 - high / 2 - far),
                (x, box.y1 + high / 2 + far),
                (box.x0 - wide / 2 - far, y),
                (box.x1 + wide / 2 + far, y),
            ):
                yield Spot(centre, ring * 2.0, box.centre if ring else None)


def draw_details(pen: Pen, scene: Scene, details: Sequence[Detail], below: Box) -> Box:
    """All details in rows below a box. Gives the box they fill."""
    gap, head = _BETWEEN * pen.unit, _HEADING * pen.unit
    x, y, deep, right = below.x0, below.y1 + gap, 0.0, below.x1
    for detail in details:
        wide, high = detail.view.wide * detail.scale, detail.view.high * detail.scale
        if x > below.x0 and x + wide > below.x0 + _OVER * below.wide:
            x, y, deep = below.x0, y + deep + gap, 0.0
        words = f"{detail_words(detail)}, {detail.scale:g} times as large"
        pen.text((x, y + head - pen.unit), words, TEXT, "start", bold=True)
        _draw_detail(pen, scene, detail, Box(x, y + head, x + wide, y + head + high))
        x, deep, right = x + wide + gap, max(deep, head + high), max(right, x + wide)
    return Box(below.x0, below.y1, right, y + deep)


def _draw_detail(pen: Pen, scene: Scene, detail: Detail, frame: Box) -> None:
    """One window at its scale. Wires that only pass are thin and grey."""
    outer = pen.inner(data_detail=str(detail.number))
    inner = outer.window(frame, detail.view)
    letters = Lettering(inner.unit)
    draw_ground(inner, scene, frozenset(hubs_of(scene.plan)), detail.view)
    for run, line in zip(scene.runs, scene.lines, strict=True):
        if not detail.joints.isdisjoint((run.from_joint, run.to_joint)):
            draw_wire(inner, run, line)
        elif detail.view.meets(_around(line)):
            inner.line(line, PALE, THIN * 1.6)
    for each in detail.labels:
        draw_boat_wire(inner, each)
    draw_joints(inner, scene, detail.view)
    for each in detail.labels:
        draw_label(inner, each, letters)
    outer.box(frame, INK, THIN * 1.4, dash=_DASH)


def _around(line: Sequence[tuple[float, float]]) -> Box:
    xs, ys = [x for x, _ in line], [y for _, y in line]
    return Box(min(xs), min(ys) - 0.01, max(xs) + 0.01, max(ys))
