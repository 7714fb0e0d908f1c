"""Drawings of a few plain elements, built without the library of the large ones."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # builds only: nothing foreign is ever parsed
from copy import deepcopy
from dataclasses import dataclass
from html import escape

from lugwright.outputs.looks import Attributes, plain
from lugwright.outputs.words import one_line

SVG = "http://www.w3.org/2000/svg"
INK, PALE = "#1a1a1a", "#8a8a8a"


def part(
    tag: str, attributes: dict[str, str] | None = None, *inside: ET.Element | str
) -> ET.Element:
    """An element with its attributes, holding text and elements in order."""
    made = ET.Element(tag, attributes or {})
    last: ET.Element | None = None
    for each in inside:
        if isinstance(each, ET.Element):
            made.append(each)
            last = each
        elif last is None:
            made.text = (made.text or "") + _clean(each)
        else:
            last.tail = (last.tail or "") + _clean(each)
    return made


def _clean(text: str) -> str:
    """One line, a no-break space by itself kept."""
    return text if text == "\u00a0" else one_line(text)


@dataclass(frozen=True)
class Built:
    """A finished drawing; ``root`` is its ``svg`` element, without the name space."""

    root: ET.Element

    def file(self) -> str:
        """The SVG as it stands in a file of its own, an element a line."""
        root = deepcopy(self.root)
        root.set("xmlns", SVG)
        ET.indent(root)
        return ET.tostring(root, encoding="unicode") + "\n"

    def in_page(self, attributes: Attributes) -> str:
        """The SVG as it stands in a page: see ``Picture``."""
        inside = "".join([_written(each, attributes) for each in self.root])
        return f"<svg{plain(_escaped(self.root))}>{inside}</svg>"


def _written(element: ET.Element, attributes: Attributes) -> str:
    """An element with all that is in it, and the text behind it."""
    opened, behind = attributes(_escaped(element)), escape(element.tail or "", quote=False)
    inside = escape(element.text or "", quote=False)
    inside += "".join([_written(each, attributes) for each in element])
    if not inside:
        return f"<{element.tag}{opened}/>{behind}"
    return f"<{element.tag}{opened}>{inside}</{element.tag}>{behind}"


def _escaped(element: ET.Element) -> dict[str, str]:
    return {name: escape(value) for name, value in element.attrib.items()}
