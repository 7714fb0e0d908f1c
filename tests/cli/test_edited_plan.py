"""A plan.json that a person has edited: refused where work is made from it, accepted by check."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from support.plans import SCENARIOS, plan_of

from lugwright.cli.main import run
from lugwright.outputs.plan_json import SEAL, plan_text, read_plan

NAME = "short-thread"
SCENARIO = SCENARIOS / f"{NAME}.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a plan of the demo in it."""
    (tmp_path / "plan").mkdir()
    (tmp_path / "plan" / "plan.json").write_text(plan_text(plan_of(NAME)), encoding="utf-8")
    return tmp_path / "plan"


def edit(folder: Path, change: str) -> None:
    """Edit the plan as a person does, and leave its seal alone."""
    file = folder / "plan.json"
    data: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    if change == "order of work":
        steps = data["steps"]
        at = next(i for i, s in enumerate(steps) if s["verb"] == steps[i + 1]["verb"] == "cut")
        steps[at : at + 2] = steps[at + 1], steps[at]
        for number, step in enumerate(steps, 1):
            step["number"] = number
    elif change == "a length in words":
        cut = next(s for s in data["steps"] if s["verb"] == "cut")
        cut["text"] = cut["text"].replace("mm", "cm", 1)
    file.write_text(json.dumps(data, indent=2), encoding="utf-8")


WORK = {
    "sheets": ["sheets", "PLAN"],
    "kits": ["kits", "PLAN", "--boats", "2", "--out", "OUT"],
    "spools": ["spools", "PLAN", "--boats", "2"],
    "lengths": ["lengths", "PLAN", "--boats", "2"],
    "changes": ["changes", "PLAN", "WHOLE"],
    "changes to": ["changes", "WHOLE", "PLAN"],
    "rework": ["rework", str(SCENARIO), "PLAN"],
    "readings": ["readings", "PLAN", "READINGS"],
}


@pytest.mark.parametrize("command", sorted(WORK))
def test_no_work_is_made_from_an_edited_plan(
    command: str, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line that says what to do, exit 2, and nothing is written."""
    whole = Path(shutil.copytree(folder, tmp_path / "whole"))
    (tmp_path / "readings.csv").write_text("line,reading\n", encoding="utf-8")
    edit(folder, "a length in words")
    names = {"PLAN": folder, "WHOLE": whole, "OUT": tmp_path / "out"}
    names["READINGS"] = tmp_path / "readings.csv"
    before = sorted(tmp_path.rglob("*"))
    assert run([str(names.get(word, word)) for word in WORK[command]]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "was changed by hand since it was written" in told
    assert "`lugwright check SCENARIO PLAN --accept`, or plan the console again" in told
    assert sorted(tmp_path.rglob("*")) == before


def test_another_way_of_writing_the_file_is_no_edit(folder: Path) -> None:
    """Other line ends, indents and order of facts change nothing that is said."""
    edit(folder, "nothing")
    assert read_plan(folder) == plan_of(NAME)


def test_an_honest_edit_is_told_and_accepted(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Another order of work that plays well: only the proof falls, and then sheets are made."""
    edit(folder, "order of work")
    assert run(["check", str(SCENARIO), str(folder)]) == 6
    told = capsys.readouterr().out
    assert "rejected, 1 finding" in told
    assert "proof: proof: this plan was edited by hand" in told
    assert run(["check", str(SCENARIO), str(folder), "--accept"]) == 0
    assert "sealed again" in capsys.readouterr().out
    proof = read_plan(folder).proof
    assert (proof.proved, proof.bound, proof.note) == (False, (), "edited by hand")
    assert run(["check", str(SCENARIO), str(folder)]) == 0
    assert run(["sheets", str(folder), "--only", "list"]) == 0
    told = (folder / "build-list.txt").read_text(encoding="utf-8")
    assert "Not proved best" in told and "edited by hand" in told


def test_a_false_edit_is_not_accepted(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A text that does not follow from the plan is told, and the file stays as it is."""
    edit(folder, "a length in words")
    before = (folder / "plan.json").read_bytes()
    assert run(["check", str(SCENARIO), str(folder), "--accept"]) == 6
    assert "printed: steps " in capsys.readouterr().out
    assert (folder / "plan.json").read_bytes() == before


def test_a_broken_seal_alone_is_an_edit(folder: Path) -> None:
    """Whoever changes the seal says that the plan is another's."""
    file = folder / "plan.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    file.write_text(json.dumps({**data, SEAL: "0" * 64}), encoding="utf-8")
    assert run(["check", str(SCENARIO), str(file)]) == 6


def test_a_plan_of_another_console_is_one_line(
    capsys: pytest.CaptureFixture[str], folder: Path
) -> None:
    """Not a list of everything that does not fit."""
    assert run(["check", str(SCENARIOS / "sandbar-skiff.toml"), str(folder)]) == 6
    (head, line) = capsys.readouterr().out.splitlines()
    assert head.endswith("rejected, 1 finding in 1 check")
    assert 'this is a plan of "' in line and '"Sandbar skiff, four dials"' in line


@pytest.mark.parametrize(
    ("part", "key", "value"),
    [
        ("jumpers", "from_joint", "gone.ground"),
        ("jumpers", "wire_size", "17 AWG"),
        ("crimps", "joint", "gone.ground"),
        ("crimps", "item", "gone"),
        ("given", "wire", "gone"),
        ("landings", "post", "gone.ground"),
        ("panel", "", None),
    ],
)
def test_what_holds_no_plan_is_told_in_words(
    part: str, key: str, value: Any, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """However broken a plan is, no finding is in the language the program is written in."""
    file = folder / "plan.json"
    data: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    if key:
        data[part][0][key] = value
    else:
        data["jumpers"] = []
    file.write_text(json.dumps(data), encoding="utf-8")
    assert run(["check", str(SCENARIO), str(folder)]) == 6
    told = capsys.readouterr().out
    assert not re.search(r"Error\b|WireKey|EndRef|None\b|\('|<|\{|not enough values", told), told
