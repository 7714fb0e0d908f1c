"""An overview as a workbook: a front with its facts, then one worksheet for each table."""

from __future__ import annotations

from lugwright.outputs.overview.content import Overview
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.workbook.book import add_table, book_bytes, new_book
from lugwright.outputs.workbook.front import Front


def overview_book(overview: Overview, paper: Paper) -> bytes:
    """The workbook; the same overview gives the same bytes."""
    book = new_book(overview.title, "", paper)
    front = Front(book)
    front.put("overview", overview.title)
    for fact in overview.facts:
        front.put(fact.name, fact.text)
    front.skip()
    for caution in overview.cautions:
        front.put("caution", caution)
    front.skip()
    for part in overview.parts:
        count = len(part.rows)
        front.put(part.name, f"{part.about}: {count} row{'' if count == 1 else 's'}", link=True)
    for part in overview.parts:
        add_table(book, part.name, part.kind, part.rows, part.money)
    return book_bytes(book)
