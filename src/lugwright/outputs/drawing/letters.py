"""How much room a text takes in a drawing, before anybody's face sets it.

Advance widths of DejaVu Sans (free licence), thousandths of the letter size, for the printable
ASCII characters. It is a wide face: what fits in it fits in the narrower ones of other systems.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

from lugwright.outputs.words import lines_that_fit, one_line

FACE = "'DejaVu Sans', Verdana, Arial, sans-serif"
BOLDER = 1.1  # bold letters are wider by about this
_FIRST = 32
_WIDTHS = (
    *(318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337),
    *(636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531),
    *(1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787),
    *(603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500),
    *(500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612),
    *(635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838),
)
_OTHER, _WIDE = 700, 1050


def text_wide(text: str, size_mm: float) -> float:
    """Width of one line of text at a letter size, mm."""
    return _advances(text) * size_mm / 1000


@lru_cache(maxsize=4096)  # a plan's words are asked for again in every drawing
def _advances(text: str) -> int:
    return sum(map(_advance, text))


def _advance(char: str) -> int:
    at = ord(char) - _FIRST
    if 0 <= at < len(_WIDTHS):
        return _WIDTHS[at]
    return _WIDE if unicodedata.east_asian_width(char) in "WF" else _OTHER


def shortened(text: str, most: int = 26) -> str:
    """A user's text in one line, its middle left out where it is longer than ``most`` letters.

    Beginning and end stay, since names of one family differ at either.
    """
    text = one_line(text)
    if len(text) <= most:
        return text
    tail = most // 3
    return f"{text[: most - tail - 1].rstrip()}…{text[-tail:].lstrip()}"


def filled(text: str, size_mm: float, wide_mm: float) -> list[str]:
    """A text in lines no wider than ``wide_mm``; a word wider than that is broken."""
    return lines_that_fit(one_line(text), lambda line: text_wide(line, size_mm) <= wide_mm)
