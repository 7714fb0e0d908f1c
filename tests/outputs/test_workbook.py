"""The workbook, read back with another library."""

import io
from dataclasses import astuple, fields

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from support.made_plan import JUMPERS, small_plan

from lugwright.outputs.csv_tables import TABLES
from lugwright.outputs.digest import plan_digest
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows import rows_of
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.words import one_line
from lugwright.outputs.workbook.columns import heading_of
from lugwright.outputs.workbook.plan_workbook import sheet_files, worksheet_name
from lugwright.plans.schema import Plan, WaiverUsed

WAIVER = WaiverUsed(
    limit="lugs_per_stud",
    place="fuel.ground",
    value="5",
    reason="a fifth sender wire,\nagreed with the yard",
    initials="AB",
    date="2026-03-01",
    origin="skiff.toml, line 40",
)
HOSTILE = ("=1+1", "+1", "@now", "-12 V", "\t=1+1", "{=1}", "http://x.example/", "1E5", "<b>&amp;")


def read_back(plan: Plan, paper: Paper | None = None) -> Workbook:
    """The plan's workbook as another program reads it."""
    data = sheet_files(ShownPlan(plan), paper or Paper())["workbook.xlsx"]
    return openpyxl.load_workbook(io.BytesIO(data))


def same(cell: object, shown: object) -> bool:
    """A cell equals what the row says; an empty text is an empty cell."""
    if isinstance(cell, int | float) and isinstance(shown, str):
        return cell == float(shown)
    return (cell or "") == (one_line(shown) if isinstance(shown, str) else shown) or cell == shown


@pytest.mark.parametrize(("name", "part", "kind"), TABLES)
def test_every_cell_equals_its_row(name: str, part: str, kind: type) -> None:
    """Each worksheet holds its heading and every value of every row, in the rows' order."""
    plan = small_plan(waivers=(WAIVER,))
    rows = getattr(rows_of(plan), part)
    cells = list(read_back(plan)[worksheet_name(name)].values)
    assert len(cells) == len(rows) + 1
    assert list(cells[0]) == [heading_of(field.name, "EUR") for field in fields(kind)]
    wrong = [
        (cell, shown)
        for line, row in zip(cells[1:], rows, strict=True)
        for cell, shown in zip(line, astuple(row), strict=True)
        if not same(cell, shown)
    ]
    assert wrong == []


@pytest.mark.parametrize("name", HOSTILE)
def test_text_of_the_user_stays_text(name: str) -> None:
    """A name that looks like a formula, a number or a link is kept as the text it is."""
    piece = JUMPERS[0].model_copy(update={"spool": name})
    book = read_back(small_plan(jumpers=(piece,), title=name))
    cell = book["cut-list"]["N2"]
    assert (cell.value, cell.data_type, cell.hyperlink) == (one_line(name), "s", None)
    assert cell.quotePrefix is name.strip().startswith(("=", "+", "@", "-"))
    assert book["front"]["B1"].value == one_line(name)
    every = [cell for sheet in book for line in sheet.iter_rows() for cell in line]
    assert {cell.data_type for cell in every} <= {"s", "n"}
    assert {cell.hyperlink.target for cell in every if cell.hyperlink} == {None}


def test_lengths_are_numbers_under_a_heading_with_their_unit() -> None:
    """A cut length of 123.5 mm can be summed, and its unit stands once, over it."""
    sheet = read_back(small_plan())["cut-list"]
    assert (sheet["G1"].value, sheet["G3"].value, sheet["G3"].number_format) == (
        "length, mm",
        123.5,
        "0.0",
    )
    assert sheet["F3"].value == "16 AWG"


def test_ends_and_amperes_are_told_apart() -> None:
    """Ends are a and b and amperes are amps: no heading has a letter that could be either."""
    book = read_back(small_plan())
    heads = {str(line[0].value) for sheet in book for line in sheet.iter_cols(max_row=1)}
    assert {"amps", "crimp at a", "crimp at b", "bare at a, mm", "bare at b, mm"} <= heads
    assert [head for head in heads if {"A", "B"} & set(head.replace(",", " ").split())] == []
    marks = {line[1] for line in book["cut-list"].iter_cols(min_col=12, max_col=13)}
    assert marks and {cell.data_type for cell in marks if cell.value is not None} == {"n"}


def test_front_says_what_every_sheet_must() -> None:
    """Title, rule set, digest, every caution and every waiver, and all worksheets by name."""
    plan = small_plan(waivers=(WAIVER,))
    book = read_back(plan)
    said = {str(cell) for line in book["front"].values for cell in line if cell is not None}
    assert said >= {plan.title, plan.rule_set, plan_digest(plan), *plan.cautions}
    assert (
        "Waived: lugs_per_stud at fuel.ground, 5. a fifth sender wire, agreed with the yard "
        "(AB, 2026-03-01; skiff.toml, line 40)"
    ) in said
    assert said >= set(book.sheetnames) - {"front"}
    totals = {line[0]: line[1] for line in book["front"].values}
    assert totals["wire"] == plan.totals.wire_dmm / 10


@pytest.mark.parametrize(("page", "number"), [("A4", 9), ("Letter", 1)])
def test_every_worksheet_prints_whole(page: str, number: int) -> None:
    """Landscape, as wide as the page, its heading repeated and in sight, headed by its plan."""
    book = read_back(small_plan(title="this & that"), Paper(page))
    for sheet in book:
        assert (sheet.page_setup.orientation, int(sheet.page_setup.paperSize)) == (
            "landscape",
            number,
        )
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.oddHeader.left.text == "this && that"
        if sheet.title != "front":
            assert (sheet.freeze_panes, sheet.print_title_rows) == ("A2", "$1:$1")


def test_a_title_too_long_for_a_header_is_cut_there_only() -> None:
    """A header holds 255 characters; the front still has the whole title."""
    title = "&" * 200
    book = read_back(small_plan(title=title))
    assert book["front"]["B1"].value == title
    assert book["front"].oddHeader.left.text == "&&" * 99 + "…"


def test_same_plan_same_bytes() -> None:
    """No clock in it."""
    one, other = (sheet_files(ShownPlan(small_plan()), Paper()) for _ in range(2))
    assert one == other
