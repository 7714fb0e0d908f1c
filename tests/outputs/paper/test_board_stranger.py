"""A stranger with the printed build board alone writes down every jumper and every peg."""

from __future__ import annotations

from itertools import takewhile

import pytest
from support.by_eye import plan_by_eye
from support.printed import is_tile, pages

from lugwright.base.scale import mm_text
from lugwright.outputs.paper.build_board import sheet_files
from lugwright.outputs.paper.pegs import peg_text
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan


def table_rows(sheet: bytes, first: str, columns: tuple[str, ...]) -> list[tuple[str, ...]]:
    """A printed table read off the pages as a person reads it: by its heading's columns."""
    rows: list[tuple[str, ...]] = []
    for page in takewhile(lambda page: not is_tile(page), pages(sheet)):
        edges: list[float] = []
        for line in page.extract_text_lines(return_chars=True):
            words = line["text"].split()
            if line["text"].startswith(first):
                edges = _edges(line["chars"], columns)
            elif edges and words and not line["text"].startswith(("plan ", "Pegs")):
                rows.append(_cells(line["chars"], edges))
            else:
                edges = []
    return rows


def _edges(chars: list[dict[str, float]], columns: tuple[str, ...]) -> list[float]:
    """Where each column's heading begins."""
    letters = [char for char in chars if char["text"] != " "]
    edges = []
    for column in columns:
        edges.append(letters[0]["x0"])
        letters = letters[len(column.replace(" ", "")) :]
    return edges


def _cells(chars: list[dict[str, float]], edges: list[float]) -> tuple[str, ...]:
    """The letters of a row, without spaces, each in the last column that begins before it."""
    cells = [""] * len(edges)
    for char in chars:
        cells[max(n for n, x0 in enumerate(edges) if x0 - 1 <= char["x1"])] += str(char["text"])
    return tuple(cells)


def without_spaces(*cells: str) -> tuple[str, ...]:
    """A row as its letters alone: a PDF places letters, not spaces."""
    return tuple("".join(cell.split()) for cell in cells)


CUT = (
    *("label", "colour", "size", "cut mm"),
    *("end a at", "strip a", "end b at", "strip b", "stage"),
)
PEGS = ("post", "kind", "peg", "x mm", "y mm", "height mm")


@pytest.mark.parametrize("name", ["sandbar-skiff", "six-dial-console"])
def test_a_stranger_reads_every_jumper_and_peg_off_the_paper(name: str) -> None:
    """From the printed tables alone: both ends, colour, size, length, strips; each post's place."""
    plan = plan_by_eye(name)
    sheet = sheet_files(ShownPlan(plan), Paper())["build-board.pdf"]
    assert table_rows(sheet, "label", CUT) == [
        without_spaces(
            *(one.label, f"{one.colour} ({one.colour_code})", one.wire_size),
            *(mm_text(one.length_dmm), one.from_joint, mm_text(one.strip_a_dmm)),
            *(one.to_joint, mm_text(one.strip_b_dmm), one.stage),
        )
        for one in plan.jumpers
    ]
    assert table_rows(sheet, "post", PEGS) == [
        without_spaces(
            *(post.id, post.thread or post.kind, peg_text(post)),
            *(mm_text(post.x_dmm), mm_text(post.y_dmm), mm_text(post.z_dmm)),
        )
        for post in plan.panel.posts
    ]
