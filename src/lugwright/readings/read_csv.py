"""Readings typed into the test sheet's CSV: from any spreadsheet, in the units of a meter.

A cell holds a number with a point or a comma, with or without its unit; ``OL`` where the meter
shows no path; ``yes`` or ``no``; or nothing, where nothing was measured.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from lugwright.base.csv_marks import mark_of
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_file, refused
from lugwright.readings.schema import SET_TO, Line, Unit

MOST_BYTES = 2_000_000
_WORDS = tuple(SET_TO.values())
PLAN_LINE = "plan"  # the row that says which plan the sheet is of
LINE, BAND, READING = "line", "band", "reading"
_NUMBER = re.compile(r"([+-]?\d{1,9}(?:[.,]\d{1,6})?|[+-]?[.,]\d{1,6})\s*(\S*)")
_OPEN_WORDS = {"ol", "o.l", "o.l.", "0l", "open", "inf", "∞"}
_YES_NO = {"yes": True, "y": True, "no": False, "n": False}
# How many thousandths of the line's unit one of these is.
_SCALES: Mapping[Unit, Mapping[str, int]] = {
    "ohm": {
        **dict.fromkeys(("", "ohm", "ohms", "ω", "r"), 1000),
        **dict.fromkeys(("mohm",), 1),
        **dict.fromkeys(("k", "kohm", "kω"), 1_000_000),
        **dict.fromkeys(("megohm",), 1_000_000_000),
    },
    "V": {**dict.fromkeys(("", "v", "volt", "volts"), 1000), "mv": 1},
    "A": {**dict.fromkeys(("", "a", "amp", "amps"), 1000), "ma": 1},
    "yes or no": {},
}
_ALLOWED: Mapping[Unit, str] = {
    "ohm": "a number in ohm, such as 0.2 or 1.5 kohm, or OL where the meter shows no path",
    "V": "a number in V, such as 11.92",
    "A": "a number in A, such as 1.33",
    "yes or no": "yes or no",
}


@dataclass(frozen=True)
class Reading:
    """What was read: ``thousandths`` of the line's unit (exact), ``OL``, or yes or no."""

    thousandths: Fraction = Fraction(0)
    is_open: bool = False
    seen: bool = False


def read_readings(path: Path, lines: Sequence[Line], plan_mark: str) -> dict[str, Reading]:
    """The readings of a file, by line. ``plan_mark`` is what the sheet says of its plan.

    Raises BadInput, with every complaint, when the file cannot be read, is not a test sheet or is
    that of another plan, names a line twice or one the sheet does not have, holds something that
    is not a reading, or has volts but not the supply they are judged by.
    """
    rows = _rows(path)
    heading = _heading(path, rows)
    known = {line.id: line for line in lines}
    faults: list[Complaint] = []
    found: dict[str, Reading] = {}
    seen: set[str] = set()
    marks: list[str] = []
    for number, row in rows[1:]:
        name = " ".join(_cell(row, heading[LINE]).casefold().split())
        if not any(cell.strip() for cell in row):
            continue
        if name.casefold() == PLAN_LINE:
            marks.append(_cell(row, heading[BAND]) if BAND in heading else "")
            continue
        fault = _name_fault(name, known, seen)
        text = _cell(row, heading[READING])
        if fault:
            faults.append(Complaint(str(path), number, heading[LINE] + 1, LINE, *fault))
        elif text:
            reading = parse_reading(text, known[name].unit)
            if reading is None:
                message = f'{name}: "{text[:40]}" is not a reading'
                hint = f"allowed: {_ALLOWED[known[name].unit]}; empty where nothing was measured"
                column = heading[READING] + 1
                faults.append(Complaint(str(path), number, column, READING, message, hint))
            else:
                found[name] = reading
        seen.add(name)
    _check_plan(path, marks, plan_mark)
    if not faults:
        faults += _no_supply(path, known, found)
    if faults:
        raise BadInput(*faults)
    return found


def parse_reading(text: str, unit: Unit) -> Reading | None:
    """A reading as typed; None where it is none.

    >>> parse_reading("11,92 V", "V").thousandths
    Fraction(11920, 1)
    """
    word = " ".join(text.split()).casefold()
    if unit == "yes or no":
        return Reading(seen=_YES_NO[word]) if word in _YES_NO else None
    if unit == "ohm" and word in _OPEN_WORDS:
        return Reading(is_open=True)
    match = _NUMBER.fullmatch(word.replace("−", "-"))
    scale = _SCALES[unit].get(match[2]) if match else None
    if match is None or scale is None:
        return None
    value = Fraction(match[1].replace(",", ".")) * scale
    return None if unit == "ohm" and value < 0 else Reading(value)


def _rows(path: Path) -> list[tuple[int, list[str]]]:
    """Every row with the line of the file it begins on."""
    try:
        text = read_file(path, MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused(path, "is not text in UTF-8; save the sheet as CSV UTF-8") from None
    if "\0" in text:
        raise refused(path, "is not text: it holds NUL characters")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark_of(text))
    rows, line = [], 1
    try:
        for row in reader:
            rows.append((line, row))
            line = reader.line_num + 1
    except csv.Error as error:
        fault = Complaint(str(path), reader.line_num, 1, "", f"is not CSV: {error}")
        raise BadInput(fault) from error
    return rows


def _heading(path: Path, rows: Sequence[tuple[int, Sequence[str]]]) -> dict[str, int]:
    """The place of each column by its name."""
    names = [name.strip().casefold() for name in rows[0][1]] if rows else []
    for name in (LINE, READING):
        if names.count(name) != 1:
            message = f'the first row must name a column "{name}" once'
            hint = "use test-readings.csv of the plan folder, its first row unchanged"
            raise BadInput(Complaint(str(path), 1, 1, "", message, hint))
    return {name: names.index(name) for name in (LINE, BAND, READING) if name in names}


def _cell(row: Sequence[str], column: int) -> str:
    """A cell without the space round it; "" where the row is too short.

    A leading apostrophe is how a spreadsheet keeps text from being a formula.
    """
    return row[column].strip().removeprefix("'") if column < len(row) else ""


def _name_fault(name: str, known: Mapping[str, Line], seen: set[str]) -> tuple[str, str] | None:
    if name in seen:
        return f'"{name[:40]}" stands here for the second time', "keep one row of each line"
    if name not in known:
        counts = {word: sum(one.startswith(f"{word} ") for one in known) for word in _WORDS}
        groups = (f"{word} 1 to {count}" for word, count in counts.items() if count)
        hint = f"the sheet has {', '.join(groups)}"
        return f'"{name[:40]}" is not a line of this sheet', hint
    return None


def _check_plan(path: Path, marks: Sequence[str], plan_mark: str) -> None:
    """The sheet says which plan it is of. Raises BadInput where it is another's."""
    if marks != [plan_mark]:
        said = f'says plan "{marks[0][:40]}"' if marks else "does not say of which plan it is"
        hint = f'this plan is {plan_mark}: keep the row "{PLAN_LINE}" of its own sheet'
        raise BadInput(Complaint(str(path), 0, 0, "", said, hint))


def _no_supply(
    path: Path, known: Mapping[str, Line], found: Mapping[str, Reading]
) -> list[Complaint]:
    """Volts say nothing without the supply they come from."""
    supply = next((one.id for one in known.values() if one.part == "supply"), "")
    volts = [name for name in found if known[name].part == "volts"]
    if not volts or supply in found:
        return []
    message = f"{volts[0]} has a reading, but the supply ({supply}) has none"
    hint = "volts are judged by the measured supply; measure it with everything on"
    return [Complaint(str(path), 0, 0, "", message, hint)]
