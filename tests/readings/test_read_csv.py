"""Readings typed into the sheet: what is taken, and what is refused with which words."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from support.made_plan import small_plan
from support.readings import filled_in, small_sheet

from lugwright.base.errors import BadInput
from lugwright.outputs.digest import plan_digest
from lugwright.outputs.test_sheet.csv_form import plan_mark
from lugwright.readings.read_csv import Reading, parse_reading, read_readings
from lugwright.readings.schema import Unit

TYPED: list[tuple[str, Unit, Reading]] = [
    ("11.92", "V", Reading(Fraction(11920))),
    (" 11,92 V ", "V", Reading(Fraction(11920))),
    ("-0.01", "V", Reading(Fraction(-10))),
    ("−0,01", "V", Reading(Fraction(-10))),
    ("85 mV", "V", Reading(Fraction(85))),
    (".5", "ohm", Reading(Fraction(500))),
    ("0.3 Ω", "ohm", Reading(Fraction(300))),
    ("1.5k", "ohm", Reading(Fraction(1_500_000))),
    ("OL", "ohm", Reading(is_open=True)),
    ("Open", "ohm", Reading(is_open=True)),
    ("1.33 A", "A", Reading(Fraction(1330))),
    ("Yes", "yes or no", Reading(seen=True)),
    ("n", "yes or no", Reading(seen=False)),
]


@pytest.mark.parametrize(("text", "unit", "expected"), TYPED)
def test_what_a_person_types_is_understood(text: str, unit: Unit, expected: Reading) -> None:
    """Point or comma, with or without a unit, in the meter's words."""
    assert expected == parse_reading(text, unit)


WRONG: list[tuple[str, Unit]] = [
    ("about 12", "V"),
    ("12.4 ohm", "V"),
    ("OL", "V"),
    ("-0.2", "ohm"),
    ("1e9", "ohm"),
    ("nan", "V"),
    ("maybe", "yes or no"),
    ("1.2.3", "V"),
    ("99999999999", "V"),
]


@pytest.mark.parametrize(("text", "unit"), WRONG)
def test_what_is_no_reading_is_none(text: str, unit: Unit) -> None:
    """Nothing is guessed."""
    assert parse_reading(text, unit) is None


def read(path: Path, text: str) -> dict[str, Reading]:
    """The readings of a file with this text."""
    path.write_text(text, encoding="utf-8")
    return read_readings(path, small_sheet().lines, plan_mark(plan_digest(small_plan())))


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_any_spreadsheet_will_do(tmp_path: Path, mark: str) -> None:
    """Commas, semicolons or tabs; a mark of byte order; rows that were left empty."""
    typed = {"volts 2": "12,4", "ohms 1": "OL"}
    text = "\ufeff" + filled_in(small_plan(), typed, mark) + f"{mark}\n\n"
    found = read(tmp_path / "r.csv", text)
    assert {"volts 2": Reading(Fraction(12400)), "ohms 1": Reading(is_open=True)} == found


def refusal(path: Path, text: str) -> list[str]:
    """The complaints about a file, without its name."""
    with pytest.raises(BadInput) as caught:
        read(path, text)
    return [str(one).removeprefix(str(path)) for one in caught.value.complaints]


def test_a_cell_that_is_no_reading_is_named_with_its_place(tmp_path: Path) -> None:
    """Line and column of the file, what stood there and what is allowed."""
    text = filled_in(small_plan(), {"ohms 1": "fine", "seen 1": "12"})
    (first, second) = refusal(tmp_path / "r.csv", text)
    column = text.partition("\n")[0].split(",").index("reading") + 1
    told = f':3:{column}: reading: ohms 1: "fine" is not a reading (allowed: a number'
    assert first.startswith(told)
    assert 'seen 1: "12" is not a reading (allowed: yes or no' in second


def test_lines_that_are_not_on_the_sheet_or_stand_twice(tmp_path: Path) -> None:
    """Each is named, with what the sheet has."""
    text = filled_in(small_plan(), {"ohms 1": "0.1"})
    rows = text.splitlines()
    twice = refusal(tmp_path / "r.csv", "\n".join([*rows, rows[2]]))
    assert '"ohms 1" stands here for the second time (keep one row of each line)' in twice[0]
    strange = refusal(tmp_path / "r.csv", text.replace("\nohms 1,", "\nQ7,"))
    assert '"q7" is not a line of this sheet (the sheet has ohms 1 to 10, volts 1 to' in strange[0]
    assert "10, amps 1 to 1, seen 1 to 6" in strange[0]


def test_readings_of_another_plan_are_refused(tmp_path: Path) -> None:
    """The form names its plan; a form without that is refused as well."""
    other = filled_in(small_plan(title="Another boat"), {"ohms 1": "0.1"})
    assert "says plan" in refusal(tmp_path / "r.csv", other)[0]
    rows = filled_in(small_plan(), {"ohms 1": "0.1"}).splitlines()
    (nameless,) = refusal(tmp_path / "r.csv", "\n".join([rows[0], *rows[2:]]))
    assert "does not say of which plan it is" in nameless


def test_volts_need_the_supply(tmp_path: Path) -> None:
    """Volts are judged by the supply as measured."""
    (told,) = refusal(tmp_path / "r.csv", filled_in(small_plan(), {"volts 3": "11.9"}))
    assert "volts 3 has a reading, but the supply (volts 2) has none" in told


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", 'the first row must name a column "line" once'),
        ("line,band\n", 'the first row must name a column "reading" once'),
        ("line,reading,reading\n", 'the first row must name a column "reading" once'),
        ("line,reading\0\n", "is not text: it holds NUL characters"),
        ('line,reading\n"' + "x" * 140_000 + '"\n', "is not CSV"),
    ],
)
def test_a_file_that_is_no_sheet(tmp_path: Path, text: str, expected: str) -> None:
    """One clear message."""
    (told,) = refusal(tmp_path / "r.csv", text)
    assert expected in told
