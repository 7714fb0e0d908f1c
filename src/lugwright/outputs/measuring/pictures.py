"""Two pictures of a dial: from the back with its posts numbered, from the side with its heights."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM
from lugwright.base.shapes import directed, outline, rectangle
from lugwright.outputs.drawing.frame import Box, box_at
from lugwright.outputs.measuring.dials import Dial
from lugwright.outputs.paper.boxes import Boxes
from lugwright.outputs.paper.fonts import BOLD, text_width
from lugwright.outputs.paper.frame import Area
from lugwright.outputs.paper.lettering import SMALL_MM, write
from lugwright.plans.panel import PanelInstrument

PICTURE_MM = 62.0  # height of both pictures
_NUMBER_MM = 3.0
_POST_MM = 1.4
_FINE, _BOLD_LINE = 0.15, 0.35
_FULL = 0.86  # of the picture's height that a dial may take
_BLANK_RADIUS_MM = 24.0


def draw_back(canvas: Canvas, area: Area, dial: Dial | None) -> None:
    """The dial from the back, axes through its centre; without a dial an empty one."""
    x, y = area.x + area.width / 2, area.y + area.height / 2
    canvas.saveState()
    canvas.setLineWidth(_BOLD_LINE)
    if dial:
        scale = area.height * _FULL / max(_spread_mm(dial), 1.0)
        _draw_outline(canvas, x, y, dial.example, scale)
        _draw_posts(canvas, area, (x, y), dial, scale)
    else:
        canvas.circle(x, y, _BLANK_RADIUS_MM)
    _draw_axes(canvas, area, x, y)
    write(canvas, area.x, area.y, "seen from the BACK", SMALL_MM, BOLD)
    canvas.restoreState()


def _spread_mm(dial: Dial) -> float:
    """What must fit into the picture: outline and posts, twice the farthest from the centre."""
    one = dial.example
    sizes = [one.bezel_dmm, one.body_dmm, one.body_width_dmm, one.body_height_dmm]
    sizes += [one.mount.bezel_width_dmm, one.mount.bezel_height_dmm]
    posts = [2 * abs(side) for post in dial.posts for side in dial.offset_dmm(post)]
    return max(*sizes, *posts) / DMM_PER_MM


def _draw_outline(canvas: Canvas, x: float, y: float, one: PanelInstrument, scale: float) -> None:
    """Body in a full line, rim dashed."""
    if one.body_width_dmm:
        wide, high = (
            size / DMM_PER_MM * scale for size in (one.body_width_dmm, one.body_height_dmm)
        )
        canvas.rect(x - wide / 2, y - high / 2, wide, high)
    else:
        canvas.circle(x, y, one.body_dmm / DMM_PER_MM * scale / 2)
    canvas.saveState()
    canvas.setLineWidth(_FINE)
    if one.bezel_dmm or one.mount.bezel_width_dmm:
        canvas.setDash(1.2, 0.8)
        _draw_rim(canvas, x, y, one, scale)
        canvas.setDash()
    for screw in one.mount.screws:
        at = x + (screw.x_dmm - one.x_dmm) / DMM_PER_MM * scale
        up = y + (screw.y_dmm - one.y_dmm) / DMM_PER_MM * scale
        canvas.circle(at, up, screw.diameter_dmm / DMM_PER_MM * scale / 2)
    canvas.restoreState()


def _draw_rim(canvas: Canvas, x: float, y: float, one: PanelInstrument, scale: float) -> None:
    if one.bezel_dmm:
        canvas.circle(x, y, one.bezel_dmm / DMM_PER_MM * scale / 2)
        return
    mount = one.mount
    direction = directed(Fraction(mount.turn_mdeg, 1000))
    edge = outline(rectangle((0, 0), (mount.bezel_width_dmm, mount.bezel_height_dmm), 0, direction))
    places = [(x + dx / DMM_PER_MM * scale, y + dy / DMM_PER_MM * scale) for dx, dy in edge]
    path = canvas.beginPath()
    path.moveTo(*places[0])
    for place in places[1:]:
        path.lineTo(*place)
    path.close()
    canvas.drawPath(path)


def _draw_posts(
    canvas: Canvas, area: Area, centre: tuple[float, float], dial: Dial, scale: float
) -> None:
    """A mark for each post, and its number where it is free."""
    places = [_place(centre, dial.offset_dmm(post), scale) for post in dial.posts]
    marks = [box_at(place, 2 * _POST_MM, 2 * _POST_MM) for place in places]
    taken = Boxes([*marks, *_axis_boxes(area, *centre)])
    inside = Box(area.x, area.y, area.right, area.top)
    for number, (post, place) in enumerate(zip(dial.posts, places, strict=True), start=1):
        _draw_mark(canvas, *place, post.kind)
        words = str(number)
        wide = text_width(words, _NUMBER_MM, BOLD)
        box = taken.take_near(marks[number - 1], wide, _NUMBER_MM * 0.8, inside)
        write(canvas, box.x0, box.y0, words, _NUMBER_MM, BOLD)


def _place(
    centre: tuple[float, float], offset_dmm: tuple[int, int], scale: float
) -> tuple[float, float]:
    """Where a post is in the picture, mm."""
    return (
        centre[0] + offset_dmm[0] / DMM_PER_MM * scale,
        centre[1] + offset_dmm[1] / DMM_PER_MM * scale,
    )


def _axis_boxes(area: Area, x: float, y: float) -> tuple[Box, Box, Box]:
    """What the axes and their letters take."""
    return (
        Box(area.x, y - 0.2, area.right, y + 0.2),
        Box(x - 0.2, area.y, x + 0.2, area.top),
        Box(x, area.top - 4, x + 4, area.top),
    )


def _draw_mark(canvas: Canvas, x: float, y: float, kind: str) -> None:
    """A stud is a circle with its middle, a tab a flat box, a lead an open cross."""
    if kind == "stud":
        canvas.circle(x, y, _POST_MM)
        canvas.circle(x, y, 0.3, fill=1)
    elif kind == "tab":
        canvas.rect(x - _POST_MM, y - _POST_MM / 2, 2 * _POST_MM, _POST_MM)
    else:
        canvas.line(x - _POST_MM, y - _POST_MM, x + _POST_MM, y + _POST_MM)
        canvas.line(x - _POST_MM, y + _POST_MM, x + _POST_MM, y - _POST_MM)


def _draw_axes(canvas: Canvas, area: Area, x: float, y: float) -> None:
    """x to the right and y up through the centre."""
    canvas.setLineWidth(_FINE)
    canvas.line(area.x, y, area.right - 3, y)
    canvas.line(x, area.y + 2, x, area.top - 2)
    write(canvas, area.right - 2.5, y - 1, "x", SMALL_MM, BOLD)
    write(canvas, x + 1, area.top - 3, "y", SMALL_MM, BOLD)


def draw_side(canvas: Canvas, area: Area) -> None:
    """A dial in its plate from the side, not to scale: what each measure runs from and to."""
    canvas.saveState()
    canvas.setLineWidth(_BOLD_LINE)
    x, middle = area.x + 18.0, area.y + area.height / 2
    rim, plate, body, nut, tip = x, x + 3, x + 6, x + 40, x + 62
    canvas.rect(plate, middle - 28, 3, 12, fill=0)
    canvas.rect(plate, middle + 16, 3, 12, fill=0)
    canvas.rect(rim, middle - 19, 3, 38)
    canvas.rect(plate, middle - 15, nut - plate, 30)
    canvas.rect(nut, middle + 4, 3, 8)
    canvas.rect(nut + 3, middle + 6.5, tip - nut - 3, 3)
    canvas.rect(nut, middle - 10, 12, 1.2)
    _span_across(canvas, (body, nut), middle - 22, "body_depth")
    _span_across(canvas, (body, nut + 3), middle + 20, "height (stud)")
    _span_across(canvas, (nut + 3, tip), middle + 14, "free_thread")
    _span_across(canvas, (body, nut + 6), middle - 28, "height (tab: its middle)")
    _span_up(canvas, x - 5, (middle - 19, middle + 19), "bezel")
    _span_up(canvas, x + 11, (middle - 15, middle + 15), "body")
    _span_up(canvas, x - 11, (middle - 16, middle + 16), "cut_out")
    write(canvas, nut + 4, middle + 2.2, "the instrument's own nut", SMALL_MM * 0.8)
    write(canvas, nut + 13, middle - 10.5, "tab", SMALL_MM)
    write(canvas, rim - 6, area.top - 2.5, "FRONT", SMALL_MM, BOLD, "centre")
    write(canvas, nut, area.top - 2.5, "BACK", SMALL_MM, BOLD)
    write(canvas, area.right, area.y, "from the side, not to scale", SMALL_MM, align="right")
    canvas.restoreState()


def _span_across(canvas: Canvas, ends: Sequence[float], y: float, words: str) -> None:
    """A measure from left to right, its words above it."""
    canvas.saveState()
    canvas.setLineWidth(_FINE)
    canvas.line(ends[0], y, ends[1], y)
    for end in ends:
        canvas.line(end, y - 1, end, y + 1)
    canvas.restoreState()
    write(canvas, sum(ends) / 2, y + 0.6, words, SMALL_MM, align="centre")


def _span_up(canvas: Canvas, x: float, ends: Sequence[float], words: str) -> None:
    """A measure from below to above, its words along it."""
    canvas.saveState()
    canvas.setLineWidth(_FINE)
    canvas.line(x, ends[0], x, ends[1])
    for end in ends:
        canvas.line(x - 1, end, x + 1, end)
    canvas.translate(x - 0.6, sum(ends) / 2)
    canvas.rotate(90)
    write(canvas, 0, 0, words, SMALL_MM, align="centre")
    canvas.restoreState()
