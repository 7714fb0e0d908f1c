"""Every fault of a device is told at its place, with its reason and a way out."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.scenario.console import Console
from lugwright.scenario.load import load_toml

FOLDER = Path(__file__).parents[1] / "bad_inputs" / "ways"
DAY_BOAT = Path(__file__).with_name("consoles") / "day-boat.toml"


def cases() -> Iterator[Any]:
    """Each case of each file, named by both."""
    for file in sorted(FOLDER.glob("*.toml")):
        for case in tomllib.loads(file.read_text(encoding="utf-8"))["case"]:
            yield pytest.param(case, id=f"{file.stem}: {case['name']}")


def changed(edits: list[list[str]]) -> Console:
    """The day boat after these replacements, each of text that is there. Raises BadInput."""
    text = DAY_BOAT.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return load_toml(parse_toml(text.encode(), "day-boat.toml")).console


def test_the_day_boat_has_no_fault() -> None:
    """What the cases change is sound itself."""
    assert len(changed([]).ways) == 8


@pytest.mark.parametrize("case", list(cases()))
def test_fault_of_a_device(case: dict[str, Any]) -> None:
    """Line, column, field and words of each complaint, and no complaint besides."""
    with pytest.raises(BadInput) as caught:
        changed(case["edits"])
    told = caught.value.complaints
    wanted = [(said["line"], said["column"], said["field"]) for said in case["said"]]
    assert wanted == [(one.line, one.column, one.field) for one in told]
    for said, complaint in zip(case["said"], told, strict=True):
        words = f"{complaint.message} ({complaint.hint})"
        assert [word for word in said["words"] if word not in words] == []
