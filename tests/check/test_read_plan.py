"""Reading a plan: what is no plan is refused with the file and the field."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hand_plan import hand_plan

from lugwright.base.errors import BadInput
from lugwright.check.read_plan import read_plan


def written(folder: Path, data: Any) -> Path:
    """A file with that content."""
    file = folder / "plan.json"
    file.write_text(data if isinstance(data, str) else json.dumps(data), encoding="utf-8")
    return file


def refusal(file: Path) -> list[tuple[str, str]]:
    """Field and message of every complaint about a file."""
    with pytest.raises(BadInput) as caught:
        read_plan(file)
    assert all(one.file == str(file) for one in caught.value.complaints)
    return [(one.field, one.message) for one in caught.value.complaints]


def test_a_plan_is_read_back(tmp_path: Path) -> None:
    """What was written is what is read."""
    plan = hand_plan()
    assert read_plan(written(tmp_path, plan.model_dump_json())) == plan


def test_missing_file_and_folder(tmp_path: Path) -> None:
    """No file, or a folder, is said in words."""
    assert refusal(tmp_path / "none.json") == [("", "there is no such file")]
    assert refusal(tmp_path)[0][1].startswith("the file cannot be read")


def test_binary_and_broken_json(tmp_path: Path) -> None:
    """Binary data and broken JSON are refused, the latter with its place."""
    file = tmp_path / "plan.json"
    file.write_bytes(b"\xff\xfe\x00\x01")
    assert refusal(file) == [("", "this is not a text file, so it is no plan")]
    file.write_text('{"format": 1,\n oops}')
    with pytest.raises(BadInput) as caught:
        read_plan(file)
    assert (caught.value.complaints[0].line, caught.value.complaints[0].column) == (2, 2)
    assert refusal(written(tmp_path, "[" * 100_000))[0][1] == "this JSON cannot be read as a plan"


@pytest.mark.parametrize("data", [[], {}, 7, "text", None])
def test_json_that_is_no_plan(tmp_path: Path, data: Any) -> None:
    """Other JSON has no format number."""
    file = written(tmp_path, json.dumps(data))
    assert refusal(file) == [("", "this is not a plan: it has no format number")]


@pytest.mark.parametrize("number", [0, 2, "1", 1.0, True, None])
def test_unknown_format_number(tmp_path: Path, number: Any) -> None:
    """A format number that is not known, or no whole number, is refused."""
    field, message = refusal(written(tmp_path, {"format": number}))[0]
    assert field == "format"
    assert message == f"plan format {number!r} is not known here (known: 1)"


def test_wrong_fields_are_all_named(tmp_path: Path) -> None:
    """Wrong types, unknown and missing fields, each with its place counted from 1."""
    data = json.loads(hand_plan().model_dump_json())
    data["jumpers"][2]["length_dmm"] = "1250"
    data["steps"][0]["stage"] = "dockside"
    data["colour"] = "red"
    del data["hub"]
    fields = [field for field, _ in refusal(written(tmp_path, data))]
    assert sorted(fields) == ["colour", "hub", "jumpers 3, length_dmm", "steps 1, stage"]
