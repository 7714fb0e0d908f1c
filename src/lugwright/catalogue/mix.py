"""How many panels of each model a shop builds in a month."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path

from lugwright.base.csv_marks import mark_of, with_point
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_file
from lugwright.base.spelling import did_you_mean

COLUMNS = ["model", "a_month"]
MOST_BYTES = 1_000_000
_NUMBER = re.compile(r"\d{1,6}(\.\d{1,3})?", re.ASCII)


def even_mix(names: Iterable[str]) -> dict[str, Fraction]:
    """One of each model a month."""
    return {name: Fraction(1) for name in names}


def read_mix(path: Path, names: Iterable[str]) -> dict[str, Fraction]:
    """The mix a CSV states: columns ``model,a_month``; models it does not name are not built.

    Raises BadInput with every fault: another heading, an unknown model, a model twice, or what is
    no plain number such as 3 or 0.5.
    """
    data = read_file(path, MOST_BYTES)
    try:
        text = data.decode("utf-8-sig")
        mark = mark_of(text)
        rows = list(csv.reader(io.StringIO(text), delimiter=mark))
    except (UnicodeDecodeError, csv.Error) as error:
        raise BadInput(Complaint(str(path), 0, 0, "", f"is not a CSV in UTF-8: {error}")) from error
    if not rows or [cell.strip() for cell in rows[0]] != COLUMNS:
        message = f"does not begin with the heading {','.join(COLUMNS)}"
        raise BadInput(Complaint(str(path), 1, 1, "", message))
    mix, faults, known = dict[str, Fraction](), list[Complaint](), list(names)
    for line, row in enumerate(rows[1:], start=2):
        cells = [cell.strip() for cell in row]
        if not any(cells):
            continue
        cells[1:] = [with_point(cell, mark) for cell in cells[1:]]
        fault = _fault(cells, known, mix)
        if fault:
            faults.append(Complaint(str(path), line, 1, "", *fault))
        else:
            mix[cells[0]] = Fraction(cells[1])
    if faults:
        raise BadInput(*faults)
    return mix


def _fault(cells: list[str], known: list[str], mix: dict[str, Fraction]) -> tuple[str, ...]:
    """What is wrong with a row, and a hint; nothing when it is right."""
    if len(cells) != len(COLUMNS):
        return (f"has {len(cells)} cells, {len(COLUMNS)} are wanted",)
    name, number = cells
    if name not in known:
        return f"no model {name!r} is planned", did_you_mean(name, known)
    if name in mix:
        return (f"names the model {name!r} twice",)
    if not _NUMBER.fullmatch(number):
        return (f"{number!r} is not a plain number such as 3 or 0.5",)
    return ()
