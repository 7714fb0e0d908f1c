"""Rows as CSV, safe to open in a spreadsheet, the same bytes for the same rows."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import astuple, fields
from typing import Any

from defusedcsv import csv

from lugwright.outputs.words import one_line


def csv_text(kind: type[Any], rows: Sequence[Any]) -> str:
    """One table: field names as heading, then the rows. Lines end in LF.

    A cell that a spreadsheet would take for a formula gets an apostrophe in front; control
    characters are taken out first, since a leading tab would hide a formula from that guard.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([field.name for field in fields(kind)])
    writer.writerows([_cell(value) for value in astuple(row)] for row in rows)
    return out.getvalue()


def _cell(value: object) -> object:
    """A cell's value with text made clean."""
    return one_line(value) if isinstance(value, str) else value
