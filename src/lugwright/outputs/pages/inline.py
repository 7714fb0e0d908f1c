"""What stands inside a page: drawings as they write themselves, and texts for odd places."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from jinja2 import pass_context
from jinja2.runtime import Context
from markupsafe import Markup, escape

from lugwright.outputs.looks import Attributes, Looks, Picture, plain
from lugwright.outputs.words import one_line

LONGEST_WORD = 18  # letters that still fit a column; longer ones may break anywhere


@pass_context
def picture(page: Context, drawing: Picture) -> Markup:
    """A drawing of ours, to stand in a page as it is: nothing escaped again."""
    return Markup(drawing.in_page(_attributes(page)))  # noqa: S704 (drawings escape their texts)


@pass_context
def looks(page: Context, given: Mapping[str, str]) -> Markup:
    """The looks of an element of the page's own, as drawings write theirs."""
    return Markup(_attributes(page)({name: escape(value) for name, value in given.items()}))  # noqa: S704


def _attributes(page: Context) -> Attributes:
    """How drawings of this page write their attributes."""
    shared = page.get("shared")
    return shared.attributes if isinstance(shared, Looks) else plain


def soft_name(name: str) -> Markup:
    """The name of a joint, escaped; a narrow column may break it behind a full stop."""
    return Markup(".<wbr>").join(escape(part) for part in one_line(name).split("."))


def has_long_words(names: Iterable[str]) -> bool:
    """Whether a word of these names is longer than a narrow column holds."""
    words = (word for name in names for word in name.replace(".", " ").split())
    return any(len(word) > LONGEST_WORD for word in words)


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
