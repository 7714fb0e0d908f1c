"""The plate as it is drilled: every instrument seen from the front, in millimetres.

A plan's panel is seen from the back; from the front x is ``width - x``. This is the one place
where paper turns the panel round.
"""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from lugwright.base.scale import DMM_PER_MM, mm_text
from lugwright.plans.panel import Panel, PanelInstrument

SIXTEENTHS_DMM = 15.875  # 1/16 in; an inch is 25.4 mm exactly
_CUT_MM, _THIN_MM = 0.3, 0.12
_INCH_SLACK_DMM = 1.0  # a saw is called by its inch size when it cuts within 0.1 mm


@dataclass(frozen=True)
class Hole:
    """One instrument on the plate, front view. ``diameter`` 0: no hole, it stands on standoffs.

    ``number`` counts from the left, then from below. ``outline_dmm``: width and height of what
    shows, the bezel or, where there is no hole, the body; a round one has height 0.
    """

    number: int
    name: str
    x_dmm: int
    y_dmm: int
    diameter_dmm: int
    outline_dmm: tuple[int, int]

    @property
    def centre(self) -> tuple[float, float]:
        """Its centre from the plate's lower left corner, mm."""
        return self.x_dmm / DMM_PER_MM, self.y_dmm / DMM_PER_MM

    @property
    def radius(self) -> float:
        """Radius of the hole, mm."""
        return self.diameter_dmm / DMM_PER_MM / 2

    @property
    def size_text(self) -> str:
        """The hole saw, in mm, and in inches where the inch size is the same within 0.1 mm."""
        inches = inch_text(self.diameter_dmm)
        return f"⌀ {mm_text(self.diameter_dmm)} mm" + (f" ({inches})" if inches else "")


def holes_of(panel: Panel) -> tuple[Hole, ...]:
    """Every instrument of a panel, seen from the front."""
    placed = sorted(
        panel.instruments, key=lambda one: (panel.width_dmm - one.x_dmm, one.y_dmm, one.name)
    )
    return tuple(
        Hole(
            number=number,
            name=one.name,
            x_dmm=panel.width_dmm - one.x_dmm,
            y_dmm=one.y_dmm,
            diameter_dmm=one.cut_out_dmm,
            outline_dmm=_outline_dmm(one),
        )
        for number, one in enumerate(placed, start=1)
    )


def _outline_dmm(one: PanelInstrument) -> tuple[int, int]:
    """What shows of an instrument: its bezel, or what stands behind the uncut plate."""
    if one.cut_out_dmm:
        return one.bezel_dmm, 0
    return (one.body_width_dmm, one.body_height_dmm) if one.body_width_dmm else (one.body_dmm, 0)


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
    reach = -(-hole.diameter_dmm // 2)
    return {
        "left": hole.x_dmm - reach,
        "right": panel.width_dmm - hole.x_dmm - reach,
        "below": hole.y_dmm - reach,
        "above": panel.height_dmm - hole.y_dmm - reach,
    }


def saws(holes: tuple[Hole, ...]) -> list[str]:
    """How many holes of each size, the largest first."""
    sizes: dict[int, list[Hole]] = {}
    for hole in holes:
        if hole.diameter_dmm:
            sizes.setdefault(hole.diameter_dmm, []).append(hole)
    return [f"{len(sizes[size])} × {sizes[size][0].size_text}" for size in sorted(sizes)[::-1]]


def draw_outline(canvas: Canvas, hole: Hole) -> None:
    """The cut line, and the bezel thin; a body without a hole dashed."""
    x, y = hole.centre
    width, height = (side / DMM_PER_MM for side in hole.outline_dmm)
    canvas.saveState()
    canvas.setLineWidth(_THIN_MM)
    if not hole.diameter_dmm:
        canvas.setDash(2, 1.2)
    if height:
        canvas.rect(x - width / 2, y - height / 2, width, height)
    elif width:
        canvas.circle(x, y, width / 2)
    canvas.restoreState()
    if hole.diameter_dmm:
        canvas.saveState()
        canvas.setLineWidth(_CUT_MM)
        canvas.circle(x, y, hole.radius)
        canvas.restoreState()
