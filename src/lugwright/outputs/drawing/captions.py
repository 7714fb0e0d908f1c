"""The words round a rear view: title and side above it; scale bar and legend below it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from lugwright.outputs.drawing.frame import Box, Point, box_at
from lugwright.outputs.drawing.letters import BOLDER, filled, shortened, text_wide
from lugwright.outputs.drawing.paint import INK, PALE, PAPER, paint_of
from lugwright.outputs.drawing.parts import STRAP, scale_bar
from lugwright.outputs.drawing.passing_posts import POST
from lugwright.outputs.drawing.pen import TEXT, THIN, Pen
from lugwright.outputs.sides import side_notes
from lugwright.outputs.words import colour_text
from lugwright.plans.panel import Panel
from lugwright.plans.schema import Plan

SIDE = "SEEN FROM THE BACK"
MARK_WORDS = "black corner: lower right from the back, lower left from the front"
_TITLE = 3.4  # letter size of title and side, units
_LINE = 1.3  # pitch of written lines, over letter size
_ROW = 3.6  # units from one line of the legend to the next
_SAMPLE = 7.0  # units a sample of the legend takes

Sample = Callable[[Pen, Point], None]


def draw_head(pen: Pen, above: Box, title: str) -> Box:
    """Title on the left, the side shown on the right, above a box. Gives the box it fills."""
    unit = pen.unit
    size = _TITLE * unit
    y = above.y0 - 2.2 * unit
    side_wide = text_wide(SIDE, size) * BOLDER
    lines = filled(title, size * BOLDER, max(above.wide - side_wide - 4 * unit, 20 * unit))[:2]
    for index, line in enumerate(lines):
        up = (len(lines) - 1 - index) * size * 1.25
        pen.text((above.x0, y - up), line, _TITLE, "start", bold=True)
    pen.text((above.x1, y), SIDE, _TITLE, "end", bold=True)
    return Box(above.x0, y - len(lines) * size * 1.3, above.x1, above.y0)


def draw_foot(pen: Pen, below: Box, panel: Panel, entries: Sequence[tuple[Sample, str]]) -> Box:
    """Scale bar, legend and names that say another side, below a box. Gives the box they fill."""
    unit = pen.unit
    y = below.y1 + 5 * unit
    scale_bar(pen, (below.x0, y), panel)
    x, row = below.x0 + panel.width_dmm / 10 / 3 + 6 * unit, y
    for sample, words in [*entries, (_mark_sample, MARK_WORDS)]:
        wide = (_SAMPLE + 1) * unit + text_wide(words, TEXT * unit) + 4 * unit
        if x + wide > below.x1 + 4 * unit and x > below.x0:
            x, row = below.x0, row + _ROW * unit
        sample(pen, (x, row - 0.8 * unit))
        pen.text((x + (_SAMPLE + 1) * unit, row), words, TEXT, "start")
        x += wide
    box = Box(below.x0, below.y1, below.x1, row + 1.5 * unit)
    return write_list(pen, box, side_notes(panel))


def write_list(pen: Pen, above: Box, entries: Sequence[str], columns: int = 1) -> Box:
    """Entries below a box in columns, wrapped. Gives the box they fill, that one included."""
    if not entries:
        return above
    gap, pitch = 4 * pen.unit, _LINE * TEXT * pen.unit
    wide = (above.wide - gap * (columns - 1)) / columns
    lines = [line for words in entries for line in filled(words, TEXT * pen.unit, wide)]
    rows = -(-len(lines) // columns)
    for index, line in enumerate(lines):
        column, row = divmod(index, rows)
        at = (above.x0 + column * (wide + gap), above.y1 + 3 * pen.unit + row * pitch)
        pen.text(at, line, TEXT, "start")
    return Box(above.x0, above.y0, above.x1, above.y1 + 3 * pen.unit + (rows - 0.6) * pitch)


def legend(plan: Plan) -> list[tuple[Sample, str]]:
    """Every circuit's wire in words, then the marks that occur in this plan."""
    entries: list[tuple[Sample, str]] = []
    for wire in plan.circuit_wires:
        if wire.wire_size:
            words = f"{shortened(wire.circuit)}: {colour_text(wire.colour, wire.colour_code)}, "
            entries.append((_wire_sample(wire.colour), words + wire.wire_size))
    if any(wire.stage == "aboard" for wire in plan.given):
        entries.append((_aboard_sample, "dashed: comes aboard"))
    entries += post_legend(plan.panel)
    if plan.panel.straps:
        entries.append((_strap, "strap, ready-made"))
    if plan.splices or any(jumper.role == "extension" for jumper in plan.jumpers):
        entries.append((_splice, "splice or butt in mid-air"))
    if plan.panel.keep_outs:
        entries.append((_hatched, "keep-out"))
    return entries


def post_legend(panel: Panel) -> list[tuple[Sample, str]]:
    """The marks of the posts that occur on a panel."""
    kinds = {post.kind for post in panel.posts}
    samples = (("stud", _stud), ("tab", _tab), ("lead", _lead_end))
    return [(sample, kind) for kind, sample in samples if kind in kinds]


def _wire_sample(colour: str) -> Sample:
    def draw(pen: Pen, at: Point) -> None:
        end = (at[0] + _SAMPLE * pen.unit, at[1])
        pen.wire([at, end], paint_of(colour), gap=False)

    return draw


def _aboard_sample(pen: Pen, at: Point) -> None:
    end = (at[0] + _SAMPLE * pen.unit, at[1])
    pen.wire([at, end], paint_of(""), aboard=True, gap=False)


def _mid(pen: Pen, at: Point) -> Point:
    return (at[0] + (_SAMPLE - 2) * pen.unit, at[1])


def _stud(pen: Pen, at: Point) -> None:
    pen.circle(_mid(pen, at), POST * pen.unit, INK, THIN * 1.4, PAPER)
    pen.circle(_mid(pen, at), POST * pen.unit * 0.5)


def _tab(pen: Pen, at: Point) -> None:
    pen.box(box_at(_mid(pen, at), POST * pen.unit * 2.1, POST * pen.unit * 1.1), INK, THIN * 1.4)


def _lead_end(pen: Pen, at: Point) -> None:
    pen.box(box_at(_mid(pen, at), POST * pen.unit * 1.5, POST * pen.unit * 1.5), INK, THIN * 1.4)


def _strap(pen: Pen, at: Point) -> None:
    line = [at, (at[0] + _SAMPLE * pen.unit, at[1])]
    pen.line(line, INK, STRAP)
    pen.line(line, PAPER, STRAP - 2 * THIN * 1.4)


def _splice(pen: Pen, at: Point) -> None:
    box = box_at(_mid(pen, at), 3.4 * pen.unit, 1.9 * pen.unit)
    pen.box(box, INK, THIN * 1.4, round_mm=0.8 * pen.unit)


def _hatched(pen: Pen, at: Point) -> None:
    x, y = _mid(pen, at)
    arm = pen.unit
    for aside in (-arm, 0.0, arm):
        pen.line([(x + aside - arm, y + arm), (x + aside + arm, y - arm)], PALE)


def _mark_sample(pen: Pen, at: Point) -> None:
    x, y = _mid(pen, at)
    side = 1.4 * pen.unit
    pen.shape([(x + side, y + side), (x - side, y + side), (x + side, y - side)])
