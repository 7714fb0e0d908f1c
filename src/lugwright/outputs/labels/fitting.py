"""Text made to fit one line: set smaller first, shortened only when it would be too small."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.outputs.paper.fonts import SANS, text_width
from lugwright.outputs.paper.lettering import clipped, plain

LEAST_MM = 1.2  # 3.4 pt: the smallest letters that print clean (common practice, no source)


@dataclass(frozen=True)
class Fitted:
    """A text and the letter size in mm at which it fits."""

    text: str
    size: float


def fitted(text: str, size: float, width: float, font: str = SANS, keep: str = "") -> Fitted:
    """``text + keep`` no wider than ``width`` mm, ``size`` mm high or less.

    Where even the smallest letters are too wide ``text`` is shortened; ``keep`` is kept whole.
    """
    whole = plain(text + keep)
    wide = text_width(whole, size, font)
    if wide <= width:
        return Fitted(whole, size)
    smaller = int(size * width / wide * 100) / 100  # down, so that it stays inside
    if smaller >= LEAST_MM:
        return Fitted(whole, smaller)
    room = width - text_width(plain(keep), LEAST_MM, font)
    return Fitted(clipped(text, LEAST_MM, room, font) + plain_tail(keep), LEAST_MM)


def plain_tail(text: str) -> str:
    """A tail as it can be printed, its leading space kept."""
    return (" " if text.startswith(" ") else "") + plain(text)
