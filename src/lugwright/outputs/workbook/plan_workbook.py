"""The sheet ``workbook``: ``workbook.xlsx``, the front and one worksheet for each table."""

from __future__ import annotations

from lugwright.outputs.csv_tables import TABLES
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import currency
from lugwright.outputs.workbook.book import add_table, book_bytes, new_book
from lugwright.outputs.workbook.front import add_front


def worksheet_name(file_name: str) -> str:
    """The worksheet of a table: its file's name without the ending."""
    return file_name.removesuffix(".csv")


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """``workbook.xlsx`` of a plan."""
    plan, rows, money = shown.plan, shown.rows, currency(shown.plan)
    under = f"rule set {plan.rule_set}, plan {shown.digest}; cautions: first worksheet"
    book = new_book(plan.title, under, paper)
    held = ((worksheet_name(name), len(getattr(rows, part))) for name, part, _ in TABLES)
    add_front(book, shown, held)
    for name, part, kind in TABLES:
        add_table(book, worksheet_name(name), kind, getattr(rows, part), money)
    return {"workbook.xlsx": book_bytes(book)}
