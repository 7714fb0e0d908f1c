"""Drawing in millimetres with strokes in units."""

from __future__ import annotations

from collections.abc import Sequence

from lugwright.outputs.drawing.frame import Box, Point
from lugwright.outputs.drawing.paint import INK, PAPER, Paint
from lugwright.outputs.drawing.svg import (
    Circle,
    Group,
    Path,
    Rectangle,
    Text,
    Window,
    Word,
    fact,
    number,
    sides,
)
from lugwright.outputs.words import one_line

WIRE, GAP, EDGE = 0.75, 1.5, 0.14  # units: a wire, the white under it, the border of a pale one
TEXT = 2.3  # letter size, units
THIN, STRONG = 0.18, 0.42
ABOARD = (1.8, 1.0)  # dashes of what is done aboard


def way(points: Sequence[Point], digits: int = 2) -> str:
    """Path data of a line of corners."""
    return "M" + "L".join(f"{number(x, digits)} {number(y, digits)}" for x, y in points)


class Pen:
    """Draws into a group; ``unit_mm`` is the measure of strokes and letters."""

    def __init__(self, unit_mm: float, **facts: str) -> None:
        self.unit = unit_mm
        self.into = Group(**{name: fact(value) for name, value in facts.items()})

    def inner(self, title: str = "", **facts: str) -> Pen:
        """A pen for a group inside this one; ``data_wire="ground 3"`` and the like are escaped."""
        pen = Pen(self.unit, **facts)
        if title:
            pen.into.append_title(one_line(title))
        self.into.append(pen.into)
        return pen

    def again(self) -> Pen:
        """A pen that goes on from what this one has drawn, and leaves this one's drawing alone."""
        pen = Pen(self.unit)
        pen.into = Group(self.into.children, **self.into.args)
        return pen

    def bare(self, points: Sequence[Point], **style: str) -> None:
        """A line to the millimetre that takes its looks from its group, but for ``style``."""
        self.into.append(Path(d=way(points, 0), **style))

    def word(self, at: Point, words: str, **style: str) -> None:
        """A line of text to the millimetre that takes its looks from its group."""
        place = {"x": number(at[0], 0), "y": number(at[1], 0)}
        self.into.append(Word(one_line(words), place | style))

    def window(self, frame: Box, view: Box) -> Pen:
        """A pen for a part of the plate drawn larger: ``view``, in plate mm, fills ``frame``."""
        nested = Window(
            **dict(zip(("x", "y", "width", "height"), sides(frame), strict=True)),
            viewBox=" ".join(sides(view)),
        )
        self.into.append(nested)
        pen = Pen(self.unit * view.wide / frame.wide)
        nested.append(pen.into)
        return pen

    def line(
        self,
        points: Sequence[Point],
        stroke: str = INK,
        wide: float = THIN,
        dash: Sequence[float] = (),
        **facts: str,
    ) -> None:
        """A line of corners; ``wide`` and ``dash`` in units."""
        style = {name: fact(value) for name, value in facts.items()}
        if dash:
            style["stroke_dasharray"] = " ".join(number(part * self.unit) for part in dash)
        self.into.append(
            Path(
                d=way(points),
                fill="none",
                stroke=stroke,
                stroke_width=number(wide * self.unit),
                **style,
            )
        )

    def shape(self, points: Sequence[Point], fill: str = INK) -> None:
        """A filled shape without a stroke."""
        self.into.append(Path(d=f"{way(points)}Z", fill=fill))

    def circle(
        self, at: Point, radius_mm: float, stroke: str = INK, wide: float = THIN,
        fill: str = "none", dash: Sequence[float] = (),
    ) -> None:  # fmt: skip
        """A circle."""
        self.into.append(
            Circle(
                number(at[0]),
                number(at[1]),
                number(radius_mm),
                **self._outline(stroke, wide, fill, dash),
            )
        )

    def rings(self, places: Sequence[Point], radius_mm: float, wide: float = THIN) -> None:
        """Many circles of one size on paper white, in one path."""
        r, across = number(radius_mm, 1), number(2 * radius_mm, 1)
        turn = f"a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0"
        data = "".join(f"M{number(x - radius_mm, 1)} {number(y, 1)}{turn}" for x, y in places)
        look = {"stroke": INK, "stroke_width": number(wide * self.unit)}
        self.into.append(Path(d=data, fill=PAPER, **look))

    def box(
        self, box: Box, stroke: str = INK, wide: float = THIN, fill: str = "none",
        dash: Sequence[float] = (), round_mm: float = 0,
    ) -> None:  # fmt: skip
        """A rectangle."""
        corner = {"rx": number(round_mm)} if round_mm else {}
        self.into.append(
            Rectangle(
                *sides(box),
                **corner,
                **self._outline(stroke, wide, fill, dash),
            )
        )

    def text(
        self, at: Point, words: str, size: float = TEXT, anchor: str = "middle", *,
        bold: bool = False, ink: str = INK,
    ) -> None:  # fmt: skip
        """One line of text; ``at`` is on its base line, ``size`` in units."""
        style = {"text_anchor": anchor} if anchor != "start" else {}
        style |= {"font_weight": "bold"} if bold else {}
        style |= {"fill": ink} if ink != INK else {}
        self.into.append(
            Text(one_line(words), number(size * self.unit), number(at[0]), number(at[1]), **style)
        )

    def wire(
        self, points: Sequence[Point], paint: Paint, *, aboard: bool = False, gap: bool = True,
        wide: float = WIRE, length_dmm: str = "",
    ) -> None:  # fmt: skip
        """A wire over its white gap, with border and tracer where its colour has them.

        The line in its colour carries ``length_dmm`` where there is one.
        """
        dash = ABOARD if aboard else ()
        if gap:
            self.line(points, PAPER, wide * GAP / WIRE)
        if paint.border:
            self.line(points, paint.border, wide, dash)
        inner = wide - 2 * EDGE * (wide / WIRE) if paint.border else wide
        facts = {"data_length_dmm": length_dmm} if length_dmm else {}
        self.line(points, paint.fill, inner, dash, **facts)
        if paint.stripe:
            self.line(points, paint.stripe, wide * 0.4, ABOARD if aboard else (2.2, 1.2))

    def _outline(
        self, stroke: str, wide: float, fill: str, dash: Sequence[float]
    ) -> dict[str, str]:
        found = {"fill": fill}
        if wide:
            found |= {"stroke": stroke, "stroke_width": number(wide * self.unit)}
        if dash:
            found["stroke_dasharray"] = " ".join(number(part * self.unit) for part in dash)
        return found
