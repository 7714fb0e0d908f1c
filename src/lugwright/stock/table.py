"""One CSV file of the stock as rows of named cells, with every fault of its form kept."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from lugwright.base.csv_marks import mark_of
from lugwright.base.errors import Complaint
from lugwright.base.spelling import did_you_mean

MAX_BYTES = 2_000_000


@dataclass(frozen=True)
class Columns:
    """Column names of one table. The first required column names a row."""

    required: tuple[str, ...]
    optional: tuple[str, ...] = ()

    @property
    def every(self) -> tuple[str, ...]:
        """All names, required ones first."""
        return self.required + self.optional


@dataclass(frozen=True)
class Row:
    """One row: its line in the file, its cells by column, and each column's number from 1.

    ``mark`` is what parts the file's cells.
    """

    file: str
    line: int
    cells: dict[str, str]
    numbers: dict[str, int]
    mark: str = ","


def read_bytes(path: Path, shown: str) -> bytes | Complaint:
    """The file's bytes, or why they cannot be used."""
    try:
        if not path.is_file():
            return Complaint(shown, 0, 0, "", "is not a file")
        if path.stat().st_size > MAX_BYTES:
            return Complaint(shown, 0, 0, "", f"is larger than {MAX_BYTES // 1_000_000} MB")
        return path.read_bytes()
    except OSError as error:
        return Complaint(shown, 0, 0, "", f"cannot be read: {error.strerror}")


def parse_table(content: bytes, shown: str, columns: Columns, into: list[Complaint]) -> list[Row]:
    """The rows of a table. Faults go ``into`` the list; a row at fault is left out."""
    text = _decode(content, shown, into)
    if text is None:
        return []
    records = _records(text, shown, into)
    if not records:
        if not into or into[-1].file != shown:
            into.append(Complaint(shown, 0, 0, "", "is empty", _columns_hint(columns)))
        return []
    header_line, header = records[0]
    names = [name.strip() for name in header]
    if not _header_stands(names, header_line, shown, columns, into):
        return []
    if len(records) == 1:
        into.append(Complaint(shown, 0, 0, "", "holds column names but no rows"))
    return _named(records[1:], names, shown, mark_of(text), into)


def _decode(content: bytes, shown: str, into: list[Complaint]) -> str | None:
    if b"\0" in content:
        into.append(Complaint(shown, 0, 0, "", "is not a text file", "save it as CSV in UTF-8"))
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        message = "holds bytes that are not UTF-8 text"
        into.append(Complaint(shown, line, 1, "", message, "save it as CSV in UTF-8"))
        return None


def _records(text: str, shown: str, into: list[Complaint]) -> list[tuple[int, list[str]]]:
    """Each record with the line it begins on; lines with nothing in them are skipped."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark_of(text), strict=True)
    records: list[tuple[int, list[str]]] = []
    begins = 1
    try:
        for record in reader:
            if any(cell.strip() for cell in record):
                records.append((begins, record))
            begins = reader.line_num + 1
    except csv.Error as error:
        into.append(Complaint(shown, begins, 1, "", f"is not CSV from here on: {error}"))
    return records


def _columns_hint(columns: Columns) -> str:
    return f"needed columns: {', '.join(columns.required)}"


def _header_stands(
    names: Sequence[str], line: int, shown: str, columns: Columns, into: list[Complaint]
) -> bool:
    """Whether every needed column is there; every fault of the header goes ``into``."""
    missing = [name for name in columns.required if name not in names]
    absent = [name for name in columns.every if name not in names]
    for number, name in enumerate(names, start=1):
        field = f'column "{name}"'
        if name not in columns.every:
            hint = did_you_mean(name, absent, f"known: {', '.join(columns.every)}")
            into.append(
                Complaint(shown, line, number, field, "is not a column of this table", hint)
            )
        elif name in names[: number - 1]:
            into.append(Complaint(shown, line, number, field, "stands here twice"))
    into.extend(
        Complaint(shown, line, 1, f'column "{name}"', "is missing", _columns_hint(columns))
        for name in missing
    )
    return not missing and len(set(names)) == len(names)


def _named(
    records: Sequence[tuple[int, list[str]]],
    names: Sequence[str],
    shown: str,
    mark: str,
    into: list[Complaint],
) -> list[Row]:
    numbers = {name: number for number, name in enumerate(names, start=1)}
    rows = []
    for line, record in records:
        if len(record) == len(names):
            cells = dict(zip(names, (cell.strip() for cell in record), strict=True))
            rows.append(Row(shown, line, cells, numbers, mark))
            continue
        message = f"the row has {len(record)} cells, the table {len(names)} columns"
        into.append(Complaint(shown, line, 1, "", message, 'put a cell with a comma in "quotes"'))
    return rows
