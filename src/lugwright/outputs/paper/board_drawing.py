"""The build board as it is drawn: plate, bodies, pegs, wires over white gaps, labels on white.

Everything comes laid out (``drawing.scene``, ``board_labels``) in mm with y down; this file turns
y up and puts ink on paper.
"""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import HexColor, white
from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM
from lugwright.outputs.cut_shapes import cut_of
from lugwright.outputs.drawing.frame import Point
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.drawing.parts import strap_line
from lugwright.outputs.drawing.placing import Placed
from lugwright.outputs.drawing.scene import Scene
from lugwright.outputs.paper.board_labels import PAD_MM
from lugwright.outputs.paper.board_places import Stubs
from lugwright.outputs.paper.board_words import LETTER_MM
from lugwright.outputs.paper.fonts import BOLD, SANS
from lugwright.outputs.paper.frame import Area
from lugwright.outputs.paper.holes import draw_shape
from lugwright.outputs.paper.lettering import LEADING, write
from lugwright.outputs.paper.pegs import PIN_DMM, peg_dmm
from lugwright.outputs.paper.plate import MARK_MM, draw_mark, draw_plate, plate_size
from lugwright.plans.panel import Panel, PanelInstrument

WIRE_MM = 1.1
_GAP_MM = 0.4  # white on each side of a wire
_EDGE_MM = 0.15
_STRAP_MM = 5.0
_THIN_MM = 0.15
_PEG_REACH_MM = 8.0  # no peg, splice or tie point is drawn larger
_ABOARD_DASH = (2.4, 1.4)
_STRIPE_DASH = (2.2, 1.2)
_FAINT = HexColor("#8a8a8a")


class Board:
    """Draws one board onto a canvas in mm, y up."""

    def __init__(self, canvas: Canvas, scene: Scene, view: Area, stubs: Stubs) -> None:
        self.canvas = canvas
        self.view = view
        self.stubs = stubs
        self.scene = scene
        self.high = scene.frame.height_mm

    def up(self, point: Point) -> Point:
        """A laid-out place with y up."""
        return point[0], self.high - point[1]

    def sees(self, points: Sequence[Point], around: float = 0.0) -> bool:
        """Whether any of what lies between some points, and ``around`` them, is in view."""
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return self.view.shows(
            min(xs) - around, min(ys) - around, max(xs) + around, max(ys) + around
        )

    def draw(self, labels: Sequence[Placed]) -> None:
        """All that is in view, in the order in which it lies."""
        panel = self.scene.plan.panel
        size = plate_size(panel)
        draw_plate(self.canvas, size)
        if self.sees([(size.width, 0.0)], MARK_MM):
            draw_mark(self.canvas, size, front=False)
        self._bodies(panel)
        self._drilled(panel)
        self._keep_outs(panel)
        self._straps(panel)
        self._wires()
        self._joints(panel)
        for one in labels:
            self._leader(one)
        for one in labels:
            self._label(one)

    def _bodies(self, panel: Panel) -> None:
        """Instruments in faint outline."""
        for one in panel.instruments:
            x, y = one.x_dmm / DMM_PER_MM, one.y_dmm / DMM_PER_MM
            reach = max(one.body_dmm, one.body_width_dmm, one.body_height_dmm) / DMM_PER_MM / 2
            if not self.sees([(x, y)], reach):
                continue
            self.canvas.saveState()
            self.canvas.setLineWidth(_THIN_MM)
            self.canvas.setStrokeColor(_FAINT)
            self._outline(one, x, y)
            self.canvas.restoreState()

    def _drilled(self, panel: Panel) -> None:
        """Rectangular cut-outs, screws and the plate's own holes, faint, where they are."""
        for one in panel.instruments:
            cut = cut_of(one, panel)
            if cut and not cut.is_round:
                x, y, *reach = (float(s) / DMM_PER_MM for s in (cut.x, cut.y, *cut.reach))
                if self.sees([(x, y)], max(reach)):
                    self.canvas.saveState()
                    self.canvas.setLineWidth(_THIN_MM)
                    self.canvas.setStrokeColor(_FAINT)
                    draw_shape(self.canvas, cut)
                    self.canvas.restoreState()
        screws = [screw for one in panel.instruments for screw in one.mount.screws]
        for hole in (*screws, *panel.holes):
            x, y, radius = (
                side / DMM_PER_MM for side in (hole.x_dmm, hole.y_dmm, hole.diameter_dmm / 2)
            )
            if self.sees([(x, y)], radius):
                self.canvas.saveState()
                self.canvas.setLineWidth(_THIN_MM)
                self.canvas.setStrokeColor(_FAINT)
                self.canvas.circle(x, y, radius)
                self.canvas.restoreState()

    def _outline(self, one: PanelInstrument, x: float, y: float) -> None:
        if one.body_width_dmm:
            wide, high = one.body_width_dmm / DMM_PER_MM, one.body_height_dmm / DMM_PER_MM
            self.canvas.rect(x - wide / 2, y - high / 2, wide, high)
        else:
            self.canvas.circle(x, y, one.body_dmm / DMM_PER_MM / 2)

    def _keep_outs(self, panel: Panel) -> None:
        """Places no wire may cross, hatched by lines."""
        for area in panel.keep_outs:
            x0, y0, x1, y1 = (
                side / DMM_PER_MM for side in (area.x0_dmm, area.y0_dmm, area.x1_dmm, area.y1_dmm)
            )
            self.canvas.saveState()
            self.canvas.setLineWidth(_THIN_MM)
            self.canvas.setStrokeColor(_FAINT)
            self.canvas.rect(x0, y0, x1 - x0, y1 - y0)
            path = self.canvas.beginPath()
            path.rect(x0, y0, x1 - x0, y1 - y0)
            self.canvas.clipPath(path, stroke=0, fill=0)
            step = 4.0
            for k in range(int((x1 - x0 + y1 - y0) / step) + 1):
                self.canvas.line(x0 + k * step - (y1 - y0), y0, x0 + k * step, y1)
            self.canvas.restoreState()

    def _straps(self, panel: Panel) -> None:
        """Straps between studs, in outline."""
        self.canvas.saveState()
        for strap in panel.straps:
            line = [self.up(point) for point in strap_line(strap, self.scene.places)]
            if self.sees(line, _STRAP_MM):
                self._stroke(line, _FAINT, _STRAP_MM, ())
                self._stroke(line, white, _STRAP_MM - 2 * _EDGE_MM, ())
        self.canvas.restoreState()

    def _wires(self) -> None:
        """Every wire in its lane, over white so that crossings can be told."""
        self.canvas.saveState()
        self.canvas.setLineJoin(1)
        for run, line in zip(self.scene.runs, self.scene.lines, strict=True):
            self._wire([self.up(point) for point in line], run.colour, run.aboard)
        for given in self.scene.plan.given:
            if given.wire in self.stubs:
                ends = [self.up(point) for point in self.stubs[given.wire]]
                self._wire(ends, given.colour, given.stage == "aboard")
        self.canvas.restoreState()

    def _wire(self, points: Sequence[Point], colour: str, aboard: bool) -> None:
        """White, edge, colour, stripe; dashed where it comes aboard."""
        if not self.sees(points, WIRE_MM):
            return
        paint = paint_of(colour)
        dash = _ABOARD_DASH if aboard else ()
        self._stroke(points, white, WIRE_MM + 2 * _GAP_MM, ())
        if paint.border:
            self._stroke(points, HexColor(paint.border), WIRE_MM, dash)
        wide = WIRE_MM - 2 * _EDGE_MM if paint.border else WIRE_MM
        self._stroke(points, HexColor(paint.fill), wide, dash)
        if paint.stripe:
            self._stroke(points, HexColor(paint.stripe), WIRE_MM * 0.4, dash or _STRIPE_DASH)

    def _stroke(
        self, points: Sequence[Point], ink: object, wide: float, dash: Sequence[float]
    ) -> None:
        self.canvas.setStrokeColor(ink)
        self.canvas.setLineWidth(wide)
        self.canvas.setDash(list(dash))
        path = self.canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        self.canvas.drawPath(path)

    def _joints(self, panel: Panel) -> None:
        """Pegs to drill, splices as squares, tie points as lozenges."""
        for post in panel.posts:
            x, y = post.x_dmm / DMM_PER_MM, post.y_dmm / DMM_PER_MM
            if self.sees([(x, y)], _PEG_REACH_MM):
                self._peg(x, y, (peg_dmm(post) or PIN_DMM) / DMM_PER_MM / 2)
        posts = {post.id for post in panel.posts}
        for joint, place in self.scene.places.items():
            x, y = self.up(place)
            if joint not in posts and self.sees([(x, y)], _PEG_REACH_MM):
                self.canvas.rect(x - 1.2, y - 1.2, 2.4, 2.4, fill=1)
        for tie in panel.tie_points:
            x, y = tie.x_dmm / DMM_PER_MM, tie.y_dmm / DMM_PER_MM
            if self.sees([(x, y)], _PEG_REACH_MM):
                self._lozenge(x, y)

    def _peg(self, x: float, y: float, radius: float) -> None:
        """A peg: its circle in white, crossed through its centre."""
        self.canvas.saveState()
        self.canvas.setLineWidth(0.25)
        self.canvas.setFillColor(white)
        self.canvas.circle(x, y, radius, fill=1)
        self.canvas.setLineWidth(_THIN_MM)
        arm = radius + 0.8
        self.canvas.line(x - arm, y, x + arm, y)
        self.canvas.line(x, y - arm, x, y + arm)
        self.canvas.restoreState()

    def _lozenge(self, x: float, y: float, half: float = 2.0) -> None:
        path = self.canvas.beginPath()
        path.moveTo(x - half, y)
        for point in ((x, y + half), (x + half, y), (x, y - half)):
            path.lineTo(*point)
        path.close()
        self.canvas.saveState()
        self.canvas.setLineWidth(0.25)
        self.canvas.drawPath(path)
        self.canvas.restoreState()

    def _leader(self, one: Placed) -> None:
        """The thin line from a label to what it names."""
        if one.leader and self.sees([self.up(end) for end in one.leader]):
            self.canvas.saveState()
            self.canvas.setLineWidth(_THIN_MM)
            (x0, y0), (x1, y1) = map(self.up, one.leader)
            self.canvas.line(x0, y0, x1, y1)
            self.canvas.restoreState()

    def _label(self, one: Placed) -> None:
        """Letters on white; a wire's own labels framed, so that they read as tags."""
        x, y = self.up((one.box.x0, one.box.y1))
        if not self.sees([(x, y), self.up((one.box.x1, one.box.y0))]):
            return
        self.canvas.saveState()
        self.canvas.setFillColor(white)
        self.canvas.setLineWidth(_THIN_MM)
        framed = int(one.label.key[0] in ("wire", "end", "given"))
        self.canvas.rect(
            x, y, one.box.x1 - one.box.x0, one.box.y1 - one.box.y0, fill=1, stroke=framed
        )
        self.canvas.restoreState()
        top = y + one.box.y1 - one.box.y0 - PAD_MM
        for number, line in enumerate(one.label.lines):
            down = top - LETTER_MM * (0.88 + LEADING * number)
            font = BOLD if one.label.key[0] == "name" else SANS
            write(self.canvas, x + PAD_MM, down, line, LETTER_MM, font)
