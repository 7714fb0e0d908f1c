"""How a CSV is written: the mark between its cells, and whether its numbers have a decimal comma.

Where a decimal comma is usual, spreadsheets part cells by semicolons. So a comma in a number of
such a file is a decimal one; in a file parted by commas it stays what it is, and is refused.
"""

from __future__ import annotations

import re

MARKS = (",", ";", "\t")
_WITH_COMMA = re.compile(r"([-+−]?\d+),(\d+)(\s*[^\d\s,.][^\d,.]*\d?)?")


def mark_of(text: str) -> str:
    """The mark between cells, by the first line that says something and is no comment.

    >>> mark_of("# a list\\nspool;length\\n"), mark_of("spool,length"), mark_of("spool")
    (';', ',', ',')
    """
    lines = (line.strip() for line in text.splitlines())
    first = next((line for line in lines if line and not line.startswith("#")), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max(MARKS, key=bare.count)


def with_point(cell: str, mark: str) -> str:
    """A number's decimal comma as a point, where the file's mark is not the comma itself.

    What is no single number with its unit stays as it is.

    >>> with_point("12,5 mm", ";"), with_point("12,5 mm", ","), with_point("1.250,5 m", ";")
    ('12.5 mm', '12,5 mm', '1.250,5 m')
    """
    if mark == ",":
        return cell
    found = _WITH_COMMA.fullmatch(cell.strip())
    return f"{found[1]}.{found[2]}{found[3] or ''}" if found else cell
