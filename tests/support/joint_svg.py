"""Reading a small drawing back: what stands where in it."""

from __future__ import annotations

from xml.etree import ElementTree

from lugwright.outputs.drawing.svg import Drawing

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing: Drawing) -> ElementTree.Element:
    """The drawing as a tree; a text that was not escaped breaks it."""
    return ElementTree.fromstring(drawing.file())  # noqa: S314 (our own drawing)


def words(element: ElementTree.Element) -> list[str]:
    """Every line of text, in drawing order."""
    return [text.text or "" for text in element.iter(f"{SVG}text")]


def groups(element: ElementTree.Element, fact: str) -> list[ElementTree.Element]:
    """Groups that carry a fact, ``data-wire``, in drawing order."""
    return [group for group in element.iter(f"{SVG}g") if fact in group.attrib]


def facts(element: ElementTree.Element, fact: str) -> list[str]:
    """The values of a fact, in drawing order."""
    return [group.attrib[fact] for group in groups(element, fact)]
