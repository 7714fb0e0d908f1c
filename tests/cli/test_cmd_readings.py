"""``lugwright readings``: verdicts, suspects and exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.made_plan import small_plan
from support.readings import filled_in

from lugwright.cli.main import run
from lugwright.outputs.plan_json import write_plan

SOUND = {"volts 2": "12.00", "volts 3": "11.95", "ohms 1": "0.1", "seen 1": "yes"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the small plan in it."""
    write_plan(small_plan(), tmp_path / "plan.json")
    return tmp_path


def call(folder: Path, typed: dict[str, str], *options: str) -> int:
    """Run the command on the plan's form with these cells typed in."""
    form = folder / "readings.csv"
    form.write_text(filled_in(small_plan(), typed), encoding="utf-8")
    return run(["readings", str(folder / "plan.json"), str(form), *options])


def test_all_pass(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 0; every measured line is told, and which were not measured."""
    assert call(folder, SOUND) == 0
    told = capsys.readouterr().out
    assert "Three dials: 4 of 27 lines measured, all pass" in told
    assert "volts 3: pass: volts, depth.ignition: read 11.95 V, wanted 11.88 to" in told
    assert "not measured: ohms 2, ohms 3" in told


def test_a_failure_names_the_joints(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 6; the failing line, the suspects, and what to measure next."""
    assert call(folder, {**SOUND, "ohms 2": "OL", "volts 5": "0.00"}) == 6
    told = capsys.readouterr().out
    assert "ohms 2: HIGH: continuity, revs.ignition (tab): read OL" in told
    assert "crimp of ignition 4-a in crimp 4 (closed end blue, ignition splice 1) (open" in told
    assert "crimp 6 (push-on blue, revs.ignition) against its tab (open" in told
    assert "Measure next: crimp 6, volts from minus of the supply to metal of crimp 6" in told
    assert "(in a new row crimp 6 of the CSV)." in told


def test_what_was_asked_for_is_taken_in_a_new_row(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With volts at the push-on's metal, only the push-on itself is left."""
    form = folder / "readings.csv"
    typed = filled_in(small_plan(), {**SOUND, "ohms 2": "OL", "volts 5": "0.00"})
    empty = "," * typed.partition("\n")[0].count(",")
    form.write_text(f"{typed}crimp 6{empty}11.95\n", encoding="utf-8")
    assert run(["readings", str(folder / "plan.json"), str(form)]) == 6
    told = capsys.readouterr().out
    assert "One bad joint explains every reading:\n- crimp 6 (push-on blue" in told


def test_the_answer_as_data(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One object with verdicts and suspects."""
    assert call(folder, {**SOUND, "ohms 2": "OL"}, "--json") == 6
    told = json.loads(capsys.readouterr().out)
    assert (told["answer"], told["format"], told["exit"]) == ("readings", 1, 6)
    verdicts = {line["line"]: line["verdict"] for line in told["lines"]}
    assert (verdicts["volts 3"], verdicts["ohms 2"]) == ("pass", "high")
    assert {"kind": "push-on", "where": "revs.ignition"}.items() <= told["suspects"][-1].items()
    assert told["explained"] is True


def test_a_short_is_no_bad_joint(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Near zero between feed and ground: no joint is blamed, and no power until it is found."""
    assert call(folder, {"ohms 10": "0.2"}) == 6
    told = capsys.readouterr().out
    assert "ohms 10: a short or a wire on a wrong post; no power until it is found." in told
    assert "bad joint" not in told


def test_nothing_typed_in(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An empty form is no answer: exit 2 and one message."""
    assert call(folder, {}) == 2
    assert 'holds no reading: fill in its column "reading"' in capsys.readouterr().err


def test_a_bad_cell(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 2, with the place in the file."""
    assert call(folder, {"ohms 1": "none"}) == 2
    assert 'readings.csv:3:8: reading: ohms 1: "none" is not a reading' in capsys.readouterr().err
