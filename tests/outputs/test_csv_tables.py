"""One CSV per kind of row."""

import csv
import io
from dataclasses import fields

import pytest
from support.made_plan import JUMPERS, small_plan

from lugwright.outputs.csv_tables import TABLES, csv_tables
from lugwright.outputs.rows import Rows, rows_of


def read(text: str) -> list[dict[str, str]]:
    """The table as a spreadsheet would read it."""
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("=1+1", "'=1+1"),
        ("\t=1+1", "'=1+1"),
        (" =1+1", "'=1+1"),
        ("\r\n@now", "'@now"),
        ("\u200b+1", "'+1"),
        ("-12 V", "'-12 V"),
        ("=a|b", "'=a\\|b"),
    ],
)
def test_formulas_are_disarmed(name: str, shown: str) -> None:
    """A name that a spreadsheet would run gets an apostrophe, hidden or not."""
    piece = JUMPERS[0].model_copy(update={"spool": name})
    tables = csv_tables(rows_of(small_plan(jumpers=(piece,))))
    assert read(tables["cut-list.csv"])[0]["spool"] == shown


def test_numbers_stay_numbers() -> None:
    """A negative margin is a number, not a formula."""
    plan = small_plan()
    over = plan.crimps[0].model_copy(update={"area_max_um2": (2_600_000,)})
    tables = csv_tables(rows_of(small_plan(crimps=(over, *plan.crimps[1:]))))
    assert read(tables["crimp-list.csv"])[0]["margin_mm2"] == "-0.020"


def test_every_kind_of_row_has_its_table() -> None:
    """No kind of row is forgotten, and every table's heading is that of its kind."""
    assert {part for _, part, _ in TABLES} == {field.name for field in fields(Rows)}
    tables = csv_tables(rows_of(small_plan(splices=(), caps=(), stacks=())))
    assert tables.keys() == {name for name, _, _ in TABLES}
    for name, _, kind in TABLES:
        assert tables[name].splitlines()[0].split(",") == [field.name for field in fields(kind)]


def test_table_holds_what_the_plan_says() -> None:
    """A row read back has the label, the length and the joints of the piece."""
    rows = read(csv_tables(rows_of(small_plan()))["cut-list.csv"])
    assert [(row["label"], row["length_mm"], row["to_joint"]) for row in rows[4:6]] == [
        ("ground 1", "205", "fuel.ground"),
        ("ground 2", "190", "revs.ground"),
    ]


def test_same_plan_same_bytes_with_plain_line_ends() -> None:
    """LF only, and nothing that differs between two runs."""
    first, second = csv_tables(rows_of(small_plan())), csv_tables(rows_of(small_plan()))
    assert first == second
    assert all("\r" not in text and text.endswith("\n") for text in first.values())
