"""Drawings in a page share their looks: what a thousand lines have in common is written once.

A drawing carries its looks as attributes, so that it stands by itself as a file. In a page that
holds a hundred drawings these are a third of all bytes; a style rule says the same (SVG 2,
section 6.6: presentation attributes are style properties).
"""

from __future__ import annotations

import re

_SHAPE = re.compile(r"<(?:circle|ellipse|g|line|path|polygon|polyline|rect|text|tspan)\s[^<>]*>")
_LOOKS = re.compile(
    r"(?: (?:fill|stroke|stroke-width|stroke-dasharray|stroke-linecap|stroke-linejoin|font-size"
    r'|font-weight|text-anchor)="[\w#., %-]*")+'
)
_ONE = re.compile(r'([\w-]+)="([^"]*)"')


def slimmed(page: str) -> str:
    """The page with the looks of its drawings as style rules, in the order they are first met.

    ``page`` has one style element; the rules are put at its end. Nothing else changes.
    """
    names: dict[str, str] = {}

    def shared(shape: re.Match[str]) -> str:
        tag = shape[0]
        if " class=" in tag:
            return tag
        return _LOOKS.sub(
            lambda looks: f' class="{names.setdefault(looks[0], f"k{len(names)}")}"', tag, count=1
        )

    short = _SHAPE.sub(shared, page)
    rules = "".join(f".{name}{{{_rule(looks)}}}\n" for looks, name in names.items())
    return short.replace("</style>", f"{rules}</style>", 1)


def _rule(looks: str) -> str:
    """Attributes as declarations; only a font's size needs a unit in a style rule."""
    return ";".join(
        f"{name}:{value}{'px' if name == 'font-size' else ''}"
        for name, value in _ONE.findall(looks)
    )
