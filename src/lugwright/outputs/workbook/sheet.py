"""The sheet ``workbook``: ``workbook.xlsx``, the front and one worksheet for each table."""

from __future__ import annotations

from lugwright.outputs.csv_tables import TABLES
from lugwright.outputs.digest import plan_digest
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows import rows_of
from lugwright.outputs.words import currency
from lugwright.outputs.workbook.book import add_table, book_bytes, new_book
from lugwright.outputs.workbook.front import add_front
from lugwright.plans.schema import Plan


def worksheet_name(file_name: str) -> str:
    """The worksheet of a table: its file's name without the ending."""
    return file_name.removesuffix(".csv")


def sheet_files(plan: Plan, paper: Paper) -> dict[str, bytes]:
    """``workbook.xlsx`` of a plan."""
    rows, money = rows_of(plan), currency(plan)
    under = f"rule set {plan.rule_set}, plan {plan_digest(plan)}; cautions: first worksheet"
    book = new_book(plan.title, under, paper)
    held = ((worksheet_name(name), len(getattr(rows, part))) for name, part, _ in TABLES)
    add_front(book, plan, rows, held)
    for name, part, kind in TABLES:
        add_table(book, worksheet_name(name), kind, getattr(rows, part), money)
    return {"workbook.xlsx": book_bytes(book)}
