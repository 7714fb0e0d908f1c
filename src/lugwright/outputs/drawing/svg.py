"""The elements of a drawing, and the drawing written as a file or into a page.

The only file here that knows the SVG library. The library escapes text but not attributes, so
every attribute that holds a user's words goes through ``fact``.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import Any

import drawsvg

from lugwright.outputs.drawing.frame import Box
from lugwright.outputs.drawing.letters import FACE
from lugwright.outputs.drawing.paint import INK, PAPER
from lugwright.outputs.looks import Attributes, plain
from lugwright.outputs.words import one_line

PAGE_EDGE_MM = 10.0  # what printers keep clear, with room to spare


def number(value: float, digits: int = 2) -> str:
    """A place to 0.01 mm or as many digits, without needless zeros."""
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if digits else text
    return "0" if text == "-0" else text


def fact(text: str) -> str:
    """A text fit to stand inside the quotes of an attribute."""
    return escape(one_line(text), quote=True)


def sides(box: Box) -> tuple[str, ...]:
    """Left, top, width and height as they are written."""
    return tuple(map(number, (box.x0, box.y0, box.wide, box.high)))


Circle, Group, Path = drawsvg.Circle, drawsvg.Group, drawsvg.Path
Rectangle, Text = drawsvg.Rectangle, drawsvg.Text


class Window(drawsvg.DrawingParentElement):  # type: ignore[misc]
    """An SVG inside the SVG: it has its own measure and shows nothing beyond its edge."""

    TAG_NAME = "svg"


class Word(drawsvg.Text):  # type: ignore[misc]
    """Text without a size of its own."""

    def __init__(self, words: str, style: dict[str, str]) -> None:
        super().__init__(words, 1, 0, 0)
        self.args = {name.replace("_", "-"): value for name, value in style.items()}


class _Desc(drawsvg.Title):  # type: ignore[misc]
    """What is to be seen, for those who cannot."""

    TAG_NAME = "desc"


@dataclass(frozen=True)
class Drawing:
    """A finished drawing, in mm. ``size_mm``: its size where not its view's.

    ``page_mm``: instead, the upright page it fits when a browser prints it as a file of its own,
    turned where the drawing is wider than high.
    """

    drawn: drawsvg.Group
    view: Box
    title: str
    about: str
    size_mm: tuple[float, float] | None = None
    page_mm: tuple[float, float] | None = None

    def file(self) -> str:
        """The SVG as it stands in a file of its own, without an XML prologue."""
        return str(self._whole().as_svg(header=""))

    def in_page(self, attributes: Attributes) -> str:
        """The SVG as it stands in a page: see ``Picture``."""
        whole = self._whole()
        wide, high = whole.calc_render_size()
        view = " ".join(map(str, whole.view_box))
        facts = {"width": wide, "height": high, "viewBox": view, **whole.svg_args}
        inside = "".join([_written(each, attributes) for each in whole.elements])
        return f"<svg{plain(facts)}>{inside}</svg>"

    def _whole(self) -> drawsvg.Drawing:
        view = self.view
        whole = drawsvg.Drawing(
            float(number(view.wide)),
            float(number(view.high)),
            origin=(float(number(view.x0)), float(number(view.y0))),
            role="img",
            font_family=FACE,
            fill=INK,
            stroke_linejoin="round",
            aria_label=fact(self.title),
        )
        size = self.size_mm or (view.wide, view.high)
        if self.page_mm:
            size, css = _fitted(view, self.page_mm)
            whole.append_css(css)
        whole.set_render_size(*(f"{number(side)}mm" for side in size))
        whole.append(drawsvg.Title(one_line(self.title)))
        whole.append(_Desc(one_line(self.about)))
        whole.append(Rectangle(*sides(view), fill=PAPER))
        whole.append(self.drawn)
        return whole


def _fitted(view: Box, page_mm: tuple[float, float]) -> tuple[tuple[float, float], str]:
    """The size of a view on a page of its own, mm, and the rule that asks for that page."""
    page = page_mm[::-1] if view.wide > view.high else page_mm
    scale = min(
        (page[0] - 2 * PAGE_EDGE_MM) / view.wide, (page[1] - 2 * PAGE_EDGE_MM) / view.high
    )
    told = " ".join(f"{number(side)}mm" for side in page)
    css = f"@page{{size:{told};margin:{number(PAGE_EDGE_MM)}mm}}"
    return (view.wide * scale, view.high * scale), css


def _written(element: Any, attributes: Attributes) -> str:
    """An element of the library with all that is in it, on one line."""
    tag, opened = element.TAG_NAME, attributes(element.args)
    if not element.has_content:
        return f"<{tag}{opened}/>"
    inside = "".join([_written(each, attributes) for each in element.children])
    return f"<{tag}{opened}>{getattr(element, 'escaped_text', '')}{inside}</{tag}>"
