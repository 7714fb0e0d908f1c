"""The plate as it is drilled: every instrument seen from the front, in millimetres.

A plan's panel is seen from the back; from the front x is ``width - x``. This is the one place
where paper turns the panel round.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM, mm_text
from lugwright.base.shapes import Shape
from lugwright.outputs.cut_shapes import body_of, cut_of, drilled, rim_of
from lugwright.plans.panel import Panel, PanelInstrument

SIXTEENTHS_DMM = 15.875  # 1/16 in; an inch is 25.4 mm exactly
_CUT_MM, _THIN_MM = 0.3, 0.12
_INCH_SLACK_DMM = 1.0  # a saw is called by its inch size when it cuts within 0.1 mm
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_ARC = 0.5522847498  # of the radius: where a quarter of a circle has its control points
_SIDES = {"left": (-1, 0), "right": (1, 0), "below": (0, -1), "above": (0, 1)}


@dataclass(frozen=True)
class Hole:
    """A hole of the plate, or what stands on it without one; front view, 0.1 mm.

    ``number`` counts instruments and the plate's own holes from the left, then from below; the
    screws of an instrument have its number and a ``letter``. ``cut`` None: no hole. ``rim`` shows
    in front, ``behind`` stands behind the plate where that is more than what goes through.
    """

    number: int
    name: str
    x_dmm: int
    y_dmm: int
    cut: Shape | None
    rim: Shape | None = None
    behind: Shape | None = None
    letter: str = ""
    turn_mdeg: int = 0

    @property
    def mark(self) -> str:
        """``3``, or ``3a`` for a screw of what is number 3."""
        return f"{self.number}{self.letter}"

    @property
    def centre(self) -> tuple[float, float]:
        """Its centre from the plate's lower left corner, mm."""
        return self.x_dmm / DMM_PER_MM, self.y_dmm / DMM_PER_MM

    @property
    def is_round(self) -> bool:
        """True for a round hole, false for a rectangular one or none."""
        return self.cut is not None and self.cut.is_round

    @property
    def diameter_dmm(self) -> int:
        """Diameter of a round hole, 0 for any other."""
        return int(2 * self.cut.radius) if self.cut and self.is_round else 0

    @property
    def radius(self) -> float:
        """Radius of the largest circle in the hole, mm; 0 where there is none."""
        return float(min(self.cut.half_width, self.cut.half_height)) / DMM_PER_MM if self.cut else 0

    @property
    def extent(self) -> tuple[float, float]:
        """Width and height of the upright box round all that is drawn of it, mm."""
        reaches = [shape.reach for shape in (self.cut, self.rim, self.behind) if shape]
        wide, high = (float(2 * max(sides)) / DMM_PER_MM for sides in zip(*reaches, strict=True))
        return wide, high

    @property
    def size_text(self) -> str:
        """The hole saw, in mm, and in inches where the inch size is the same within 0.1 mm.

        Of a rectangle its sides before turning and the radius of its corners.
        """
        if self.cut is None:
            return ""
        if not self.is_round:
            return sides_text(self.cut)
        inches = inch_text(self.diameter_dmm)
        return f"⌀ {mm_text(self.diameter_dmm)} mm" + (f" ({inches})" if inches else "")

    @property
    def turn_text(self) -> str:
        """How far a rectangle is turned, clockwise as it is seen here; "" where it is not."""
        return f"turned {self.turn_mdeg / 1000:g}° clockwise" if self.turn_mdeg else ""

    def rim_point(self, edge: str) -> tuple[float, float]:
        """The middle of what reaches furthest towards an edge of the plate, mm."""
        dx, dy = _SIDES[edge]
        if self.cut is None:
            return self.centre
        far = max(x * dx + y * dy for x, y in self.cut.corners)
        at = [(x, y) for x, y in self.cut.corners if x * dx + y * dy == far]
        x, y = (float(sum(side)) / len(at) / DMM_PER_MM for side in zip(*at, strict=True))
        reach = float(self.cut.radius) / DMM_PER_MM
        return x + dx * reach, y + dy * reach


def holes_of(panel: Panel) -> tuple[Hole, ...]:
    """Every instrument of a panel with its screws, and the plate's own holes, from the front."""
    placed = sorted(
        [*(_hole_of(one, panel) for one in panel.instruments), *_own_holes(panel)],
        key=lambda of: (of[0].x_dmm, of[0].y_dmm, of[0].name),
    )
    return tuple(
        Hole(number, one.name, one.x_dmm, one.y_dmm, one.cut, one.rim, one.behind, one.letter,
             one.turn_mdeg)
        for number, group in enumerate(placed, start=1)
        for one in group
    )  # fmt: skip


def _hole_of(one: PanelInstrument, panel: Panel) -> tuple[Hole, ...]:
    """An instrument's hole, then its screws, not numbered yet."""
    cut = cut_of(one, panel, front=True)
    hidden = cut is None or one.mount.from_back
    main = Hole(
        number=0,
        name=one.name,
        x_dmm=panel.width_dmm - one.x_dmm,
        y_dmm=one.y_dmm,
        cut=cut,
        rim=rim_of(one, panel, front=True),
        behind=body_of(one, panel, front=True) if hidden else None,
        turn_mdeg=one.mount.turn_mdeg if one.mount.cut_out_width_dmm else 0,
    )
    screws = [drilled(screw, panel, front=True) for screw in one.mount.screws]
    screws.sort(key=lambda screw: (screw.x, screw.y))
    return main, *(
        Hole(0, f"{one.name}, screw", int(screw.x), int(screw.y), screw, letter=letter)
        for letter, screw in zip(_LETTERS, screws, strict=False)
    )


def _own_holes(panel: Panel) -> Iterator[tuple[Hole, ...]]:
    """The plate's own holes: mounting screws, grommets."""
    for hole in panel.holes:
        cut = drilled(hole, panel, front=True)
        yield (Hole(0, hole.what, int(cut.x), int(cut.y), cut),)


def sides_text(cut: Shape) -> str:
    """``21.2 × 37.1 mm, corners r 1.5``: a rectangle before it is turned."""
    wide, high = (mm_text(int(2 * half)) for half in (cut.half_width, cut.half_height))
    corners = f", corners r {mm_text(int(cut.radius))}" if cut.radius else ", sharp corners"
    return f"{wide} × {high} mm{corners}"


def inch_text(length_dmm: int) -> str:
    """A length as inches and sixteenths (reduced), or nothing where none is within 0.1 mm."""
    sixteenths = round(length_dmm / SIXTEENTHS_DMM)
    if not sixteenths or abs(sixteenths * SIXTEENTHS_DMM - length_dmm) > _INCH_SLACK_DMM:
        return ""
    whole, part = divmod(sixteenths, 16)
    below = 16
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    if not part:
        return f"{whole} in"
    return f"{whole} {part}/{below} in" if whole else f"{part}/{below} in"


def edge_distances_dmm(hole: Hole, panel: Panel) -> dict[str, int]:
    """From the hole's rim to each edge of the plate, front view, 0.1 mm, rounded down."""
    across, up = hole.cut.reach if hole.cut else (0, 0)
    return {
        "left": floor(hole.x_dmm - across),
        "right": floor(panel.width_dmm - hole.x_dmm - across),
        "below": floor(hole.y_dmm - up),
        "above": floor(panel.height_dmm - hole.y_dmm - up),
    }


def saws(holes: Sequence[Hole]) -> list[str]:
    """How many round holes of each size, the largest first."""
    sizes: dict[int, list[Hole]] = {}
    for hole in holes:
        if hole.diameter_dmm:
            sizes.setdefault(hole.diameter_dmm, []).append(hole)
    return [f"{len(sizes[size])} × {sizes[size][0].size_text}" for size in sorted(sizes)[::-1]]


def rectangles(holes: Sequence[Hole]) -> list[str]:
    """How many rectangular cut-outs of each size."""
    sizes: dict[str, int] = {}
    for hole in holes:
        if hole.cut and not hole.is_round:
            text = sides_text(hole.cut)
            sizes[text] = sizes.get(text, 0) + 1
    return [f"{count} × {text}" for text, count in sorted(sizes.items())]


def draw_outline(canvas: Canvas, hole: Hole) -> None:
    """The cut line, and the bezel thin; what stands behind the plate dashed."""
    for shape, dashed in ((hole.rim, False), (hole.behind, True)):
        if shape:
            canvas.saveState()
            canvas.setLineWidth(_THIN_MM)
            if dashed:
                canvas.setDash(2, 1.2)
            draw_shape(canvas, shape)
            canvas.restoreState()
    if hole.cut:
        canvas.saveState()
        canvas.setLineWidth(_CUT_MM)
        draw_shape(canvas, hole.cut)
        canvas.restoreState()


def draw_shape(canvas: Canvas, shape: Shape) -> None:
    """A shape's edge as lines and arcs at their very places; ``shape`` in 0.1 mm."""
    x, y = float(shape.x) / DMM_PER_MM, float(shape.y) / DMM_PER_MM
    if shape.is_round:
        canvas.circle(x, y, float(shape.radius) / DMM_PER_MM)
    elif not shape.radius and shape.direction[0] == 1:
        wide = float(2 * shape.half_width) / DMM_PER_MM
        high = float(2 * shape.half_height) / DMM_PER_MM
        canvas.rect(x - wide / 2, y - high / 2, wide, high)
    else:
        _draw_turned(canvas, shape)


def _draw_turned(canvas: Canvas, shape: Shape) -> None:
    """Corner by corner, counter-clockwise: a line to where its arc begins, then the arc."""
    radius = float(shape.radius) / DMM_PER_MM
    along = tuple(radius * float(part) for part in shape.direction)
    path = canvas.beginPath()
    for number, corner in enumerate(shape.corners):
        x, y = (float(side) / DMM_PER_MM for side in corner)
        (ax, ay), (bx, by) = along, (-along[1], along[0])
        (path.lineTo if number else path.moveTo)(x + ax, y + ay)
        if radius:
            path.curveTo(
                x + ax + _ARC * bx, y + ay + _ARC * by, x + bx + _ARC * ax, y + by + _ARC * ay,
                x + bx, y + by,
            )  # fmt: skip
        along = (bx, by)
    path.close()
    canvas.drawPath(path)
