"""A reader who has the printed job sheet and nothing else writes the plan down.

Only the PDF is read: its tables, cell by cell, found by their headings. Nothing of the program is
imported, so that nothing but paper can help.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

import pdfplumber

End = tuple[str, str]


@dataclass
class WrittenDown:
    """What the reader has at the end; lengths in 0.1 mm, o'clock as hours."""

    jumpers: set[tuple[object, ...]] = field(default_factory=set)
    given: set[tuple[object, ...]] = field(default_factory=set)
    barrels: set[tuple[object, ...]] = field(default_factory=set)
    stacks: dict[str, list[tuple[object, ...]]] = field(default_factory=dict)
    studs: set[tuple[object, ...]] = field(default_factory=set)
    caps: list[str] = field(default_factory=list)
    loose: list[str] = field(default_factory=list)
    splices: set[tuple[object, ...]] = field(default_factory=set)


def write_down(pdf: Path) -> WrittenDown:
    """Read every table of the printed sheet."""
    found = WrittenDown()
    for row in _rows(pdf):
        columns = set(row)
        if {"wire", "length, mm", "from (end a)"} <= columns:
            found.jumpers.add(_jumper(row))
        elif {"wire", "goes to"} <= columns:
            found.given.add(_given(row))
        elif {"crimp", "die", "wire ends"} <= columns:
            found.barrels.add(_crimp(row))
        elif {"stud", "lug", "what"} <= columns:
            lug = (int(row["lug"]), row["what"], _barrels(row["wire ends"]), row["stage"],
                   int(row["o'clock"]))  # fmt: skip
            found.stacks.setdefault(row["stud"], []).append(lug)
        elif {"stud", "nut at the bench", "under, over"} <= columns:
            found.studs.add(_stud(row))
        elif {"pigtail", "live or dead"} <= columns:
            found.caps.append(f"{row['pigtail']} {row['live or dead']} {row['cap']}")
        elif {"stud", "comes aboard"} <= columns:
            found.loose.append(row["stud"])
        elif {"splice", "off the back"} <= columns:
            place = tuple(_dmm(row[x]) for x in ("from left", "up", "off the back"))
            found.splices.add((row["splice"], int(row["crimp"]), place))
    return found


def _rows(pdf: Path) -> list[dict[str, str]]:
    """Every row of every table under its headings; a heading is printed again on each page."""
    rows: list[dict[str, str]] = []
    with pdfplumber.open(pdf) as sheet:
        for page in sheet.pages:
            for table in page.filter(_is_seen).extract_tables(_RULES):
                lines = [[_cell(cell or "") for cell in line] for line in table]
                heads = [line for line in lines if line[0] in _FIRST]
                if heads:
                    rows += [
                        dict(zip(heads[0], line, strict=True)) for line in lines if line != heads[0]
                    ]
    return rows


def _cell(text: str) -> str:
    """A cell's lines in one; what was broken behind a full stop or hyphen is one word."""
    return " ".join(text.replace(".\n", ".").replace("-\n", "-").split())


def _is_seen(thing: dict[str, object]) -> bool:
    """Letters, and what is ruled in full black: tables. Drawings are in softer ink, and what of
    them is clipped away on paper is still in the file.
    """
    black = (0.0, 0.0, 0.0)
    return thing["object_type"] == "char" or thing.get(_COLOUR[bool(thing["fill"])]) == black


# the box to tick is ruled too, but is no cell (lengths in points)
_RULES = {"edge_min_length": 18}
_COLOUR = {True: "non_stroking_color", False: "stroking_color"}
_FIRST = {"wire", "crimp", "stud", "pigtail", "splice"}


def _jumper(row: dict[str, str]) -> tuple[object, ...]:
    """A line of the cut list; in brackets behind a joint is the crimp on that end."""
    start, first = _joint(row["from (end a)"])
    stop, last = _joint(row["to (end b)"])
    stage = row["stage"].split(",")[0]
    strips = _dmm(row["bare a"]), _dmm(row["bare b"])
    kind = row["size"], row["colour"]
    return (row["wire"], start, stop, _dmm(row["length, mm"]), *kind, *strips, stage, first, last)


def _given(row: dict[str, str]) -> tuple[object, ...]:
    """A wire that comes as it is."""
    bare = _dmm(row["bare, mm"]) if row["bare, mm"] else 0
    return (row["wire"], row["goes to"], row["size"], row["colour"], row["end"], bare, row["stage"])


def _crimp(row: dict[str, str]) -> tuple[object, ...]:
    """A line of the crimp list."""
    words, _, _ = row["wire ends"].partition(", folded back")
    folded = row["wire ends"] != words
    return (int(row["crimp"]), row["fitting"], row["die"], row["at"], _barrels(words), folded,
            row["stage"])  # fmt: skip


def _stud(row: dict[str, str]) -> tuple[object, ...]:
    """A line of the studs; the lugs and the thread are told in words."""
    lugs = re.fullmatch(r"(\d+), (\d+) at the bench", row["lugs"])
    thread = re.fullmatch(r"([\d.]+) of ([\d.]+), ([\d.]+) left", row["thread, mm"])
    assert lugs and thread, row
    used, free, left = (_dmm(text) for text in thread.groups())
    assert used + left == free, row
    return (row["stud"], row["thread"], row["driver"], row["under, over"],
            row["nut at the bench"], *map(int, lugs.groups()), int(row["room kept for"]),
            used, free)  # fmt: skip


def _joint(text: str) -> tuple[str, int]:
    """``fuel.ground (12)``."""
    found = re.fullmatch(r"(.*) \((\d+)\)", text)
    assert found, text
    return found[1], int(found[2])


def _barrels(text: str) -> tuple[tuple[str, ...], ...]:
    """Wire ends by barrel."""
    return tuple(tuple(end.strip() for end in half.split("+")) for half in text.split(" / "))


def _dmm(text: str) -> int:
    """Millimetres as printed, in 0.1 mm."""
    whole, _, tenth = text.partition(".")
    return int(whole) * 10 + int(tenth or 0)
