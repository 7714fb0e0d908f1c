"""An empty workbook with its styles, and one table to one worksheet, ready to print."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from lugwright.outputs.paper_size import Paper
from lugwright.outputs.words import one_line
from lugwright.outputs.workbook.columns import Cell, Column, columns_of

# A workbook states when it was made; the same plan must give the same bytes on every day.
_MADE = datetime(2000, 1, 1)
# ISO 216 A4 and ANSI A in the numbering of ECMA-376 part 1, 18.3.1.63 (paperSize).
_PAPER_SIZE = {"A4": 9, "Letter": 1}
_FORMULA_SIGNS = ("=", "+", "-", "@")
MOST_IN_HEADER = 100  # a header holds 255 characters, and every & in it counts twice
MARGIN_IN = 0.5  # page margins, inches


@dataclass(frozen=True)
class Book:
    """A workbook being written, the paper it is printed on, and what heads every page."""

    book: Workbook
    out: io.BytesIO
    paper: Paper
    title: str
    under: str
    styles: dict[tuple[tuple[str, object], ...], Format] = field(default_factory=dict)

    def style(self, **what: object) -> Format:
        """A style of cells; text stands at the top of its cell and is wrapped."""
        key = tuple(sorted(what.items()))
        if key not in self.styles:
            whole = {"valign": "top", "text_wrap": True, **what}
            self.styles[key] = self.book.add_format(whole)
        return self.styles[key]

    def number(self, decimals: int, **what: object) -> Format:
        """The style of a number shown with so many decimals."""
        places = f"0.{'0' * decimals}" if decimals else "0"
        return self.style(num_format=places, **what)


def new_book(title: str, under: str, paper: Paper) -> Book:
    """An empty workbook. ``title`` and ``under`` stand over every printed page."""
    out = io.BytesIO()
    book = Workbook(out, {"in_memory": True, "strings_to_formulas": False})
    book.set_properties({"title": one_line(title), "created": _MADE})
    return Book(book, out, paper, one_line(title), one_line(under))


def book_bytes(book: Book) -> bytes:
    """The finished workbook."""
    book.book.close()
    return book.out.getvalue()


def add_sheet(book: Book, name: str) -> Worksheet:
    """A worksheet that prints across landscape pages, headed with what it belongs to."""
    sheet = book.book.add_worksheet(name)
    sheet.set_landscape()
    sheet.set_paper(_PAPER_SIZE[book.paper.page])
    sheet.set_margins(MARGIN_IN, MARGIN_IN, 2 * MARGIN_IN, MARGIN_IN + 0.2)
    sheet.fit_to_pages(1, 0)
    sheet.set_header(f"&L{_in_header(book.title)}&R{_in_header(name)}")
    sheet.set_footer(f"&L{_in_header(book.under)}&Rpage &P of &N")
    return sheet


def _in_header(text: str) -> str:
    """Text for the head of a printed page, cut where it would not fit."""
    short = text if len(text) <= MOST_IN_HEADER else text[: MOST_IN_HEADER - 1] + "…"
    return short.replace("&", "&&")


def add_table(
    book: Book, name: str, kind: type[Any], rows: Sequence[Any], money: str = ""
) -> Worksheet:
    """A worksheet with one table: one column for each field of its kind of row.

    The heading stays in sight while scrolling and is repeated on every printed page.
    """
    sheet = add_sheet(book, name)
    columns = columns_of(kind, rows, money)
    head = book.style(bold=True, bottom=1)
    for number, column in enumerate(columns):
        sheet.set_column(number, number, column.width + 2)
        write_text(sheet, 0, number, column.heading, head)
        _write_column(book, sheet, number, column)
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    sheet.autofilter(0, 0, max(1, len(rows)), len(columns) - 1)
    # names and numbers of wires may look like numbers and are none
    sheet.ignore_errors({"number_stored_as_text": "A1:XFD1048576"})
    return sheet


def _write_column(book: Book, sheet: Worksheet, number: int, column: Column) -> None:
    """All cells of one column under its heading."""
    for row, cell in enumerate(column.cells, start=1):
        write_cell(book, sheet, row, number, cell, book.number(cell.decimals))


def write_cell(
    book: Book, sheet: Worksheet, row: int, column: int, cell: Cell, style: Format
) -> None:
    """One cell: a number as a number, text as text.

    Text that begins like a formula is marked as text, so that it stays text even when somebody
    edits the cell.
    """
    if not isinstance(cell.value, str):
        sheet.write_number(row, column, cell.value, style)
    elif cell.value.startswith(_FORMULA_SIGNS):
        write_text(sheet, row, column, cell.value, book.style(quote_prefix=True))
    else:
        write_text(sheet, row, column, cell.value, style)


def write_text(sheet: Worksheet, row: int, column: int, text: str, style: Format) -> None:
    """Text as text, never as a formula, a number or a link.

    Raises RuntimeError where the text does not fit in a cell: nothing is ever left out silently.
    """
    if sheet.write_string(row, column, text, style):
        raise RuntimeError(f"a text of {len(text)} characters does not fit in a cell")
