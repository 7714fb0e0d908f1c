"""What stands inside a page: drawings as they are, texts for places HTML does not escape."""

from __future__ import annotations

import re
from collections.abc import Iterable

from markupsafe import Markup, escape

from lugwright.outputs.words import one_line

LONGEST_WORD = 18  # letters that still fit a column; longer ones may break anywhere
_PROLOGUE = re.compile(r"^\s*(?:<\?xml[^>]*\?>\s*)?(?:<!DOCTYPE[^>]*>\s*)?", re.IGNORECASE)
# an escaped text holds neither < nor >, so these match markup only
_WASTE = (
    (re.compile(r'\s+xmlns(?::xlink)?="[^"<>]*"(?=[^<>]*>)'), ""),
    (re.compile(r"<defs>\s*</defs>"), ""),
    (re.compile(r">\s*\n\s*(?=<)"), ">"),
    (re.compile(r" />"), "/>"),
    (re.compile(r"\s+$"), ""),
)


def inline_svg(drawing: str) -> Markup:
    """A drawing of ours, to stand in a page as it is: nothing escaped again.

    What only a file of its own needs goes: XML prologue, name spaces, empty definitions, line
    ends. Raises ValueError when the text does not begin with an SVG: only drawings go in unescaped.
    """
    body = _PROLOGUE.sub("", drawing, count=1)
    if not body.startswith("<svg"):
        raise ValueError("a drawing in a page must be an SVG")
    for waste, kept in _WASTE:
        body = waste.sub(kept, body)
    return Markup(body)  # noqa: S704 (drawings escape their own texts)


def soft_name(name: str) -> Markup:
    """The name of a joint, escaped; a narrow column may break it behind a full stop."""
    return Markup(".<wbr>").join(escape(part) for part in one_line(name).split("."))


def has_long_words(names: Iterable[str]) -> bool:
    """Whether a word of these names is longer than a narrow column holds."""
    return any(len(word) > LONGEST_WORD for name in names for word in re.split(r"[\s.]+", name))


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
