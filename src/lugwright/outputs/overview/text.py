"""An overview on the terminal: facts first, then the tables with the columns worth a place."""

from __future__ import annotations

from dataclasses import asdict, fields
from typing import Any

from lugwright.outputs.layout import short_heading, table, wrapped
from lugwright.outputs.overview.content import Overview, Part
from lugwright.outputs.words import one_line
from lugwright.outputs.workbook.columns import Column, columns_of


def overview_text(overview: Overview) -> str:
    """The overview as text, no wider than a page; a table without rows is told in its heading."""
    lines = [one_line(overview.title), ""]
    for fact in overview.facts:
        lines += wrapped(fact.text, f"{fact.name}: ")
    for part in (part for part in overview.parts if part.told):
        lines += _part(part)
    lines += short_heading("cautions")
    for caution in overview.cautions:
        lines += wrapped(caution, "- ")
    return "\n".join(lines) + "\n"


def overview_data(overview: Overview) -> dict[str, Any]:
    """The overview as plain data: facts by name, and every row of every table."""
    return {
        "title": overview.title,
        "facts": {fact.name: fact.text for fact in overview.facts},
        "tables": {part.name: [asdict(row) for row in part.rows] for part in overview.parts},
    }


def _part(part: Part) -> list[str]:
    """One table under its heading."""
    if not part.rows:
        return short_heading(f"{part.about}: none")
    shown = brief_columns(part)
    heads = [
        ("" if any(isinstance(cell.value, str) for cell in column.cells) else ">") + column.heading
        for column in shown
    ]
    rows = zip(*([cell.shown for cell in column.cells] for column in shown), strict=True)
    return [*short_heading(part.about), *table(heads, list(rows))]


def brief_columns(part: Part) -> list[Column]:
    """The columns worth a place where there is little; all of them where none is named."""
    names = part.brief or tuple(field.name for field in fields(part.kind))
    all_columns = columns_of(part.kind, part.rows, part.money)
    pairs = zip(fields(part.kind), all_columns, strict=True)
    return [column for field, column in pairs if field.name in names]
