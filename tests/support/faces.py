"""What the shipped faces have, read from the font files: letters, and letters of one outline."""

from __future__ import annotations

import struct
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterable
from importlib.resources import files

from reportlab.pdfbase.ttfonts import TTFontFile

FACES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
_COMPOSITE_MORE, _WORDS, _SCALED = 0x20, 0x01, 0xC8  # flags of a composite glyph (OpenType, glyf)


def table_text() -> str:
    """The text of ``printed_letters.txt``: what both faces draw, and what looks the same."""
    fonts = [TTFontFile(str(files("lugwright.outputs.paper") / "typefaces" / n)) for n in FACES]
    outlines = [_outlines(font) for font in fonts]
    both = set.intersection(*({c for c, g in font.charToGlyph.items() if g} for font in fonts))
    seen = [c for c in sorted(both) if _stands_alone(chr(c))]
    shapes: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for code in seen:
        shapes[tuple(outline(code) for outline in outlines)].append(code)
    blank = {c for shape, codes in shapes.items() if not shape[0][0] for c in codes if c != 0x20}  # type: ignore[index]
    alike = sorted(codes for codes in shapes.values() if len(codes) > 1 and codes[0] not in blank)
    groups = ["=".join(f"{code:x}" for code in codes) for codes in alike if codes[0] != 0x20]
    return f"{_runs(c for c in seen if c not in blank)}\n{' '.join(groups)}\n"


def _stands_alone(char: str) -> bool:
    """One visible letter, or the blank, set from left to right."""
    away = unicodedata.category(char)[0] in "CZM" and char != " "
    return not away and unicodedata.bidirectional(char) not in ("R", "AL", "AN")


def _runs(codes: Iterable[int]) -> str:
    runs: list[list[int]] = []
    for code in codes:
        if runs and code == runs[-1][1] + 1:
            runs[-1][1] = code
        else:
            runs.append([code, code])
    return " ".join(f"{a:x}" if a == b else f"{a:x}-{b:x}" for a, b in runs)


def _outlines(font: TTFontFile) -> Callable[[int], tuple[bytes, float]]:
    """A letter's outline without its hints, and its width. Tables: OpenType, loca and glyf."""
    font.seek_table("head")
    font.skip(50)
    short = font.read_ushort() == 0
    loca, glyf = font.get_table("loca"), font.get_table("glyf")
    size = 2 if short else 4
    starts = struct.unpack(f">{len(loca) // size}{'H' if short else 'L'}", loca)
    at = [start * 2 for start in starts] if short else list(starts)

    def outline(code: int) -> tuple[bytes, float]:
        data = _own(glyf, at, font.charToGlyph[code])
        return data, float(font.charWidths.get(code, 0))

    return outline


def _own(glyf: bytes, at: list[int], glyph: int) -> bytes:
    """The data of a glyph; of one that is another glyph in the same place, that one's."""
    data = glyf[at[glyph] : at[glyph + 1]]
    while data and struct.unpack(">h", data[:2])[0] < 0:
        flags, other = struct.unpack(">HH", data[10:14])
        moved = data[14:18] if flags & _WORDS else data[14:16]
        if flags & (_COMPOSITE_MORE | _SCALED) or any(moved):
            return data.rstrip(b"\0")
        data = glyf[at[other] : at[other + 1]]
    if not data:
        return b""
    end = 10 + 2 * struct.unpack(">h", data[:2])[0]
    hints = struct.unpack(">H", data[end : end + 2])[0]
    return (data[:end] + data[end + 2 + hints :]).rstrip(b"\0")
