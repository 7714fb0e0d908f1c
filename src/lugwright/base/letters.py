"""Which letters the printed faces have, and which names look the same on paper.

``printed_letters.txt`` is worked out from the font files, and a test holds it to them: its first
line has the code points (hexadecimal, ranges) that both faces draw, one letter to a place, from
left to right; its second the letters that have one and the same outline in both faces, such as
Latin a and Cyrillic a. It is read when a text first needs it, never for plain ASCII.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from pathlib import Path

_TABLE = Path(__file__).with_name("printed_letters.txt")
_MOST_NAMED = 5
_LEFT_TO_CALLERS = "\t\n\r"  # a text of one line is asked for in their own words
_ALLOWED = "letters, digits and signs of the Latin, Greek and Cyrillic alphabets can be printed"


def letters_fault(text: str) -> str:
    """What cannot be printed in a text, its letters named, and what can be; "" for none.

    Line ends and tabs are left to whoever asks for one line.
    """
    if text.isascii() and text.isprintable():
        return ""
    faults = [char for char in dict.fromkeys(text) if not _is_printed(char)]
    if not faults:
        return ""
    named = "; ".join(_why(char) for char in faults[:_MOST_NAMED])
    more = f"; and {len(faults) - _MOST_NAMED} more" if len(faults) > _MOST_NAMED else ""
    return f"{named}{more}; {_ALLOWED}"


def look(text: str) -> str:
    """What a text looks like on paper: the same for texts that differ in case, in white space, in
    width or in letters of one outline only."""
    plain = " ".join(unicodedata.normalize("NFKC", text).split())
    if not plain.isascii():
        plain = "".join(_tables()[1].get(char, char) for char in plain)
        plain = "".join(_tables()[1].get(char, char) for char in plain.casefold())
    return plain.casefold()


def _is_printed(char: str) -> bool:
    if char.isascii():
        return char.isprintable() or char in _LEFT_TO_CALLERS
    return char in _tables()[0]


def _why(char: str) -> str:
    """One letter that cannot be printed, and why. It is shown itself only where that is safe."""
    code, category = f"U+{ord(char):04X}", unicodedata.category(char)
    if category[0] == "M":
        return f"{code} is an accent by itself: write it and its letter as one character"
    if category[0] in "CZ" or char == "\u2800":
        return f"{code} cannot be seen: take it out"
    if unicodedata.bidirectional(char) in ("R", "AL", "AN"):
        return f"{code} is written from right to left, which no printed sheet can set"
    return f'"{char}" ({code}) is not in the printed face'


@cache
def _tables() -> tuple[frozenset[str], dict[str, str]]:
    """The letters that can be printed; of letters that look the same, the one that stands for
    all."""
    covered, alike = _TABLE.read_text("ascii").splitlines()
    letters = set[str]()
    for run in covered.split():
        first, _, last = run.partition("-")
        letters.update(map(chr, range(int(first, 16), int(last or first, 16) + 1)))
    groups = [[chr(int(code, 16)) for code in group.split("=")] for group in alike.split()]
    return frozenset(letters), {char: group[0] for group in groups for char in group}
