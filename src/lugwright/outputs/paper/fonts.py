"""The two faces on printed paper, shipped with the program and embedded in every file.

DejaVu Sans, free licence, text beside the files in ``typefaces/``. A PDF reader's built-in faces
lack arrows, ticks and the diameter sign, and a face that is not embedded can print otherwise.
"""

from __future__ import annotations

from collections.abc import Container
from functools import cache, lru_cache
from importlib.resources import as_file, files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

SANS = "DejaVuSans"
BOLD = "DejaVuSans-Bold"
NO_GLYPH = "\ufffd"  # stands for a character the face does not have; it is in the face


@cache
def register_fonts() -> None:
    """Make SANS and BOLD known to the PDF writer; called again it does nothing."""
    for name in (SANS, BOLD):
        with as_file(files(__package__) / "typefaces" / f"{name}.ttf") as path:
            pdfmetrics.registerFont(TTFont(name, str(path)))


@lru_cache(maxsize=8192)  # the same words stand on many sheets, and are measured to be placed
def text_width(text: str, size: float, font: str = SANS) -> float:
    """Width of one line of text, in the unit of ``size``."""
    register_fonts()
    return float(pdfmetrics.stringWidth(text, font, size))


@lru_cache(maxsize=8192)
def writable(text: str) -> str:
    """The text with a mark in place of every character the face cannot show."""
    known = _glyphs()
    return "".join(char if ord(char) in known else NO_GLYPH for char in text)


@cache
def _glyphs() -> Container[int]:
    """The code points the face has a glyph for."""
    register_fonts()
    face = pdfmetrics.getFont(SANS).face
    return frozenset(face.charToGlyph)
