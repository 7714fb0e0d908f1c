"""The looks of drawings: as attributes of their elements, or shared by all drawings of a page.

A drawing that is a file of its own carries its looks as attributes. In a page that holds a hundred
drawings these are a third of all bytes; a style rule says the same (SVG 2, section 6.6:
presentation attributes are style properties).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Protocol

# How an element's attributes are written, names and values escaped already, each behind a space.
Attributes = Callable[[Mapping[str, str]], str]
_LOOKS = frozenset(
    {
        *("fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap"),
        *("stroke-linejoin", "font-size", "font-weight", "text-anchor"),
    }
)


class Picture(Protocol):
    """A drawing that can stand in a page."""

    def in_page(self, attributes: Attributes) -> str:
        """Its SVG without prologue, name spaces and line ends, attributes written that way."""


def plain(given: Mapping[str, str]) -> str:
    """Attributes as they are."""
    return "".join([f' {name}="{value}"' for name, value in given.items()])


class Looks:
    """The looks that the drawings of one page share, in the order in which they are first met."""

    def __init__(self) -> None:
        self._names: dict[tuple[tuple[str, str], ...], str] = {}

    def attributes(self, given: Mapping[str, str]) -> str:
        """Attributes with a class in the place of the looks among them.

        Looks stand together; one behind another attribute stays what it is.
        """
        pairs = list(given.items())
        first = next((at for at, (name, _) in enumerate(pairs) if name in _LOOKS), None)
        if first is None:
            return plain(given)
        behind = next(
            (at for at, (name, _) in enumerate(pairs) if at > first and name not in _LOOKS),
            len(pairs),
        )
        looks = tuple(pairs[first:behind])
        name = self._names.setdefault(looks, f"k{len(self._names)}")
        return plain(dict([*pairs[:first], ("class", name), *pairs[behind:]]))

    def rules(self) -> str:
        """A style rule for each, in lines; only a font's size needs a unit there."""
        return "".join(
            f".{name}{{{';'.join(_declared(*look) for look in looks)}}}\n"
            for looks, name in self._names.items()
        )


def _declared(name: str, value: str) -> str:
    return f"{name}:{value}{'px' if name == 'font-size' else ''}"
