"""Labels as they are drawn, once they have their places."""

from __future__ import annotations

from lugwright.outputs.drawing.labels import PITCH, Lettering
from lugwright.outputs.drawing.paint import PAPER, paint_of
from lugwright.outputs.drawing.pen import THIN, Pen
from lugwright.outputs.drawing.placing import Placed

_LEADER = "#5a5a5a"
_DOT = 0.4  # units: where a tag's leader meets its wire
ROUND = 0.5  # units: the corners of a tag


def draw_label(pen: Pen, each: Placed, letters: Lettering) -> None:
    """One label with its leader; what comes aboard has a dashed wire for a leader."""
    label, box = each.label, each.box
    facts = {"data_wire": label.owner} if label.owner else {}
    inner = pen.inner(**facts, data_label=" ".join(label.key))
    paint = paint_of(label.colour)
    if each.leader and label.look != "aboard":
        inner.line(each.leader, _LEADER, THIN)
        if label.look == "tag":
            inner.circle(each.leader[1], _DOT * pen.unit, wide=0, fill=_LEADER)
    if label.look in ("tag", "aboard"):
        inner.box(box, paint.border or paint.fill, THIN * 1.2, PAPER, round_mm=ROUND * pen.unit)
    else:
        inner.box(box, wide=0, fill=PAPER)
    size = letters.size * letters.unit_mm
    top = box.centre[1] - (len(label.lines) - 1) * PITCH * size / 2 + 0.36 * size
    for index, line in enumerate(label.lines):
        at = (box.centre[0], top + index * PITCH * size)
        inner.text(at, line, size / pen.unit, bold=label.look == "name")


def draw_boat_wire(pen: Pen, each: Placed) -> None:
    """The dashed line of a boat wire, from its post to its tag."""
    if each.leader and each.label.look == "aboard":
        inner = pen.inner(data_wire=each.label.owner)
        inner.wire([each.leader[1], each.leader[0]], paint_of(each.label.colour), aboard=True)
