"""The first worksheet: title, verdict, totals, cautions, waivers, and what is inside."""

from __future__ import annotations

from collections.abc import Iterable

from lugwright.outputs.rows_sums import TotalRow
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import (
    cost_sentence,
    hub_sentence,
    one_line,
    program_text,
    proof_sentence,
    waiver_sentence,
)
from lugwright.outputs.workbook.book import Book, add_sheet, write_cell, write_text
from lugwright.outputs.workbook.columns import columns_of

FRONT = "front"
NAME, VALUE, REST = range(3)  # columns
WIDTHS = (22, 14, 80)  # characters
LINE_PT = 15  # height of one line of text, points


def facts_of(shown: ShownPlan) -> tuple[tuple[str, str], ...]:
    """What a reader must know before any table, each with its name."""
    plan = shown.plan
    return (
        ("plan", plan.title),
        ("hub", hub_sentence(plan)),
        ("verdict", proof_sentence(plan.proof)),
        ("cost", cost_sentence(plan)),
        ("rule set", plan.rule_set),
        ("digest of the plan", shown.digest),
        ("made with", program_text(plan)),
    )


class Front:
    """The front being written, line after line."""

    def __init__(self, book: Book) -> None:
        """An empty front in the book."""
        self.book, self.line = book, 0
        self.sheet = add_sheet(book, FRONT)
        for column, width in enumerate(WIDTHS):
            self.sheet.set_column(column, column, width)
        self.head, self.text = book.style(bold=True), book.style()

    def put(self, name: str, said: str, *, link: bool = False) -> None:
        """A line of a name and a text beside it, as high as the text needs.

        ``link`` leads from the name to the worksheet of that name.
        """
        if link:
            self.sheet.write_url(self.line, NAME, f"internal:'{name}'!A1", string=name)
        else:
            write_text(self.sheet, self.line, NAME, name, self.head)
        self.sheet.merge_range(self.line, VALUE, self.line, REST, "", self.text)
        write_text(self.sheet, self.line, VALUE, one_line(said), self.text)
        lines = 1 + len(said) // (WIDTHS[VALUE] + WIDTHS[REST])
        self.sheet.set_row(self.line, LINE_PT * lines)
        self.line += 1

    def totals(self, rows: tuple[TotalRow, ...]) -> None:
        """The sums over the plan, as numbers."""
        values = columns_of(TotalRow, rows)[VALUE]
        for row, cell in zip(rows, values.cells, strict=True):
            write_text(self.sheet, self.line, NAME, row.total, self.head)
            style = self.book.number(cell.decimals, align="left")
            write_cell(self.book, self.sheet, self.line, VALUE, cell, style)
            write_text(self.sheet, self.line, REST, row.unit, self.text)
            self.line += 1

    def skip(self) -> None:
        """An empty line."""
        self.line += 1


def add_front(book: Book, shown: ShownPlan, tables: Iterable[tuple[str, int]]) -> None:
    """Write the front. ``tables``: name of each further worksheet, and its number of rows."""
    front, rows = Front(book), shown.rows
    for name, said in facts_of(shown):
        front.put(name, said)
    front.skip()
    front.totals(rows.totals)
    front.skip()
    for row in rows.cautions:
        front.put("caution", row.caution)
    for waiver in shown.plan.waivers:
        front.put("waiver", waiver_sentence(waiver))
    front.skip()
    for name, count in tables:
        front.put(name, f"{count} row{'' if count == 1 else 's'}", link=True)
