"""Drawing in millimetres with strokes in units: the only file here that knows the SVG library.

The library escapes text but not attributes, so every attribute that holds a user's words goes
through ``fact``.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import TextIO

import drawsvg

from lugwright.outputs.drawing.frame import Box, Point
from lugwright.outputs.drawing.letters import FACE
from lugwright.outputs.drawing.paint import INK, PAPER, Paint
from lugwright.outputs.words import one_line

WIRE, GAP, EDGE = 0.75, 1.5, 0.14  # units: a wire, the white under it, the border of a pale one
TEXT = 2.3  # letter size, units
THIN, STRONG = 0.18, 0.42
PAGE_EDGE_MM = 10.0  # what printers keep clear, with room to spare
ABOARD = (1.8, 1.0)  # dashes of what is done aboard


def number(value: float, digits: int = 2) -> str:
    """A place to 0.01 mm or as many digits, without needless zeros."""
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if digits else text
    return "0" if text == "-0" else text


def fact(text: str) -> str:
    """A text fit to stand inside the quotes of an attribute."""
    return escape(one_line(text), quote=True)


def way(points: Sequence[Point], digits: int = 2) -> str:
    """Path data of a line of corners."""
    return "M" + "L".join(f"{number(x, digits)} {number(y, digits)}" for x, y in points)


class Pen:
    """Draws into a group; ``unit_mm`` is the measure of strokes and letters."""

    def __init__(self, unit_mm: float, **facts: str) -> None:
        self.unit = unit_mm
        self.into = _Group(**{name: fact(value) for name, value in facts.items()})

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
        pen.into = _Group(self.into.children, **self.into.args)
        return pen

    def bare(self, points: Sequence[Point], **style: str) -> None:
        """A line to the millimetre that takes its looks from its group, but for ``style``."""
        self.into.append(_Path(d=way(points, 0), **style))

    def word(self, at: Point, words: str, **style: str) -> None:
        """A line of text to the millimetre that takes its looks from its group."""
        place = {"x": number(at[0], 0), "y": number(at[1], 0)}
        self.into.append(_Word(one_line(words), place | style))

    def window(self, frame: Box, view: Box) -> Pen:
        """A pen for a part of the plate drawn larger: ``view``, in plate mm, fills ``frame``."""
        nested = _Window(
            **dict(zip(("x", "y", "width", "height"), _sides(frame), strict=True)),
            viewBox=" ".join(_sides(view)),
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
            _Path(
                d=way(points),
                fill="none",
                stroke=stroke,
                stroke_width=number(wide * self.unit),
                **style,
            )
        )

    def shape(self, points: Sequence[Point], fill: str = INK) -> None:
        """A filled shape without a stroke."""
        self.into.append(_Path(d=f"{way(points)}Z", fill=fill))

    def circle(
        self, at: Point, radius_mm: float, stroke: str = INK, wide: float = THIN,
        fill: str = "none", dash: Sequence[float] = (),
    ) -> None:  # fmt: skip
        """A circle."""
        self.into.append(
            _Circle(
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
        self.into.append(_Path(d=data, fill=PAPER, **look))

    def box(
        self, box: Box, stroke: str = INK, wide: float = THIN, fill: str = "none",
        dash: Sequence[float] = (), round_mm: float = 0,
    ) -> None:  # fmt: skip
        """A rectangle."""
        corner = {"rx": number(round_mm)} if round_mm else {}
        self.into.append(
            _Rectangle(
                *_sides(box),
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
            _Text(one_line(words), number(size * self.unit), number(at[0]), number(at[1]), **style)
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


def finished(
    pen: Pen,
    view: Box,
    title: str,
    about: str,
    size_mm: tuple[float, float] | None = None,
    page_mm: tuple[float, float] | None = None,
) -> str:
    """The whole SVG, in mm, without an XML prologue. ``size_mm``: its size where not its view's.

    ``page_mm``: instead, the upright page it fits when a browser prints it as a file of its own,
    turned where the drawing is wider than high.
    """
    whole = drawsvg.Drawing(
        float(number(view.wide)),
        float(number(view.high)),
        origin=(float(number(view.x0)), float(number(view.y0))),
        role="img",
        font_family=FACE,
        fill=INK,
        stroke_linejoin="round",
        aria_label=fact(title),
    )
    size = size_mm or (view.wide, view.high)
    if page_mm:
        page_mm = page_mm[::-1] if view.wide > view.high else page_mm
        inner = (page_mm[0] - 2 * PAGE_EDGE_MM, page_mm[1] - 2 * PAGE_EDGE_MM)
        scale = min(inner[0] / view.wide, inner[1] / view.high)
        size = (view.wide * scale, view.high * scale)
        sides = " ".join(f"{number(side)}mm" for side in page_mm)
        whole.append_css(f"@page{{size:{sides};margin:{number(PAGE_EDGE_MM)}mm}}")
    whole.set_render_size(f"{number(size[0])}mm", f"{number(size[1])}mm")
    whole.append(drawsvg.Title(one_line(title)))
    whole.append(_Desc(one_line(about)))
    whole.append(_Rectangle(*_sides(view), fill=PAPER))
    whole.append(pen.into)
    return str(whole.as_svg(header=""))


def _sides(box: Box) -> tuple[str, ...]:
    """Left, top, width and height as they are written."""
    return tuple(map(number, (box.x0, box.y0, box.wide, box.high)))


class _Alone:
    """An element written in one go: nothing of it is defined elsewhere, nor used twice.

    The library asks every element for that before it writes it, which takes longer than writing.
    """

    def write_svg_defs(self, *_asked: object) -> None:
        """There is nothing to define."""

    def write_svg_element(
        self,
        id_map: object,
        is_duplicate: object,
        output_file: TextIO,
        lcontext: object,
        dry_run: bool,
        force_dup: bool = False,
    ) -> None:
        """The element with its attributes, as the library writes them."""
        if dry_run:
            return
        tag: str = self.TAG_NAME  # type: ignore[attr-defined]
        looks = "".join(f' {name}="{value}"' for name, value in self.args.items())  # type: ignore[attr-defined]
        output_file.write(f"<{tag}{looks}{self._end()}")

    def _end(self) -> str:
        return " />"


class _Path(_Alone, drawsvg.Path):  # type: ignore[misc]
    """A path."""


class _Circle(_Alone, drawsvg.Circle):  # type: ignore[misc]
    """A circle."""


class _Rectangle(_Alone, drawsvg.Rectangle):  # type: ignore[misc]
    """A rectangle."""


class _Text(_Alone, drawsvg.Text):  # type: ignore[misc]
    """One line of text."""

    def _end(self) -> str:
        return f">{self.escaped_text}</{self.TAG_NAME}>"


class _Group(drawsvg.Group):  # type: ignore[misc]
    """A group of such elements."""

    def write_svg_defs(self, *_asked: object) -> None:
        """There is nothing to define."""

    def write_svg_element(
        self,
        id_map: object,
        is_duplicate: object,
        output_file: TextIO,
        lcontext: object,
        dry_run: bool,
        force_dup: bool = False,
    ) -> None:
        """The group with all that is in it."""
        if not dry_run:
            super().write_svg_element(
                id_map, is_duplicate, output_file, lcontext, dry_run, force_dup
            )


class _Window(drawsvg.DrawingParentElement):  # type: ignore[misc]
    """An SVG inside the SVG: it has its own measure and shows nothing beyond its edge."""

    TAG_NAME = "svg"


class _Word(_Text):
    """Text without a size of its own."""

    def __init__(self, words: str, style: dict[str, str]) -> None:
        super().__init__(words, 1, 0, 0)
        self.args = {name.replace("_", "-"): value for name, value in style.items()}


class _Desc(drawsvg.Title):  # type: ignore[misc]
    """What is to be seen, for those who cannot."""

    TAG_NAME = "desc"
