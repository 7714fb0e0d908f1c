"""What stands inside a page: drawings as they are, texts for places HTML does not escape."""

from __future__ import annotations

import re

from markupsafe import Markup

from lugwright.outputs.words import one_line

_PROLOGUE = re.compile(r"^\s*(?:<\?xml[^>]*\?>\s*)?(?:<!DOCTYPE[^>]*>\s*)?", re.IGNORECASE)


def inline_svg(drawing: str) -> Markup:
    """A drawing of ours, to stand in a page as it is: no XML prologue, nothing escaped again.

    Raises ValueError when the text does not begin with an SVG: only drawings go in unescaped.
    """
    body = _PROLOGUE.sub("", drawing, count=1)
    if not body.startswith("<svg"):
        raise ValueError("a drawing in a page must be an SVG")
    return Markup(body.rstrip())  # noqa: S704 (drawings escape their own texts)


def css_text(text: str) -> Markup:
    """A text as a CSS string with its quotes; nothing in it can end the string or the style.

    Every character that is not a plain letter or digit is written as a code point (CSS Syntax
    Level 3, section 4.3.7).
    """
    safe = "".join(
        char if char.isascii() and char.isalnum() else f"\\{ord(char):x} "
        for char in one_line(text)
    )
    return Markup(f'"{safe}"')  # noqa: S704 (letters, digits and backslashes only)
