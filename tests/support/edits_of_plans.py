"""Every small edit of a plan file: each leaf changed, entries left out, doubled, put elsewhere.

An edit is told by its place (``steps[3].text``) and what is done there. The plan's data is edited
in place and put back, so that thousands of edits cost little.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput
from lugwright.outputs.plan_json import SEAL
from lugwright.pipeline import check_file
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief

# Fields with a closed set of values: the other value, so that the file still reads as a plan.
OTHER = {
    "stage": {"bench": "aboard", "aboard": "bench", "key-on": "aboard"},
    "nut_at_bench": {"snug": "loose", "loose": "snug"},
    "side": {"feed": "ground", "ground": "feed"},
    "role": {"jumper": "extension", "extension": "jumper"},
    "unit": {"mm": "piece", "piece": "mm"},
    "end": {"A": "B", "B": "A", "a": "b", "b": "a"},
    "kind": {"stud": "tab", "tab": "stud", "lead": "stud"},
}


@dataclass(frozen=True)
class Edit:
    """One edit: where, what is done, and the value that stands there afterwards."""

    path: tuple[str | int, ...]
    what: str
    value: Any

    @property
    def place(self) -> str:
        """The place as a person reads it: ``jumpers[0].path[1].x_dmm``."""
        words = "".join(f"[{x}]" if isinstance(x, int) else f".{x}" for x in self.path)
        return words.removeprefix(".")

    @property
    def field(self) -> str:
        """The place without the numbers of entries: ``jumpers.path.x_dmm``."""
        return ".".join(x for x in self.path if isinstance(x, str))

    def __str__(self) -> str:
        return f"{self.place}: {self.what}"


def edits_of(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[Edit]:
    """Every edit of a plan's data, in the order of the file."""
    if isinstance(data, dict):
        for key in sorted(data):
            yield from edits_of(data[key], (*path, key))
    elif isinstance(data, list):
        for at in range(len(data)):
            yield Edit(path, f"entry {at} left out", data[:at] + data[at + 1 :])
            yield Edit(path, f"entry {at} doubled", [*data[: at + 1], *data[at:]])
            if at and data[at] != data[at - 1]:
                moved = [*data[: at - 1], data[at], data[at - 1], *data[at + 1 :]]
                yield Edit(path, f"entry {at} before the one above it", moved)
            yield from edits_of(data[at], (*path, at))
    else:
        for value in _others(data, str(path[-1])):
            yield Edit(path, f"{data!r} made {value!r}", value)


def _others(value: Any, key: str) -> Iterator[Any]:
    """Other values of one leaf: the other of two, one more, other words, another figure."""
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield value + 1
    elif value in OTHER.get(key, {}):
        yield OTHER[key][value]
    else:
        yield f"{value} not" if value else "x"
        at = next((i for i, letter in enumerate(value) if letter in "0123456789"), None)
        if at is not None:
            yield value[:at] + str((int(value[at]) + 1) % 10) + value[at + 1 :]


def edited(data: dict[str, Any], edit: Edit, *, sealed: bool) -> str:
    """The file with one edit in it, sealed anew or not at all; the data stays as it was."""
    holder: Any = data
    for step in edit.path[:-1]:
        holder = holder[step]
    before = holder[edit.path[-1]]
    holder[edit.path[-1]] = edit.value
    try:
        whole = {**data, SEAL: digest_of(data)} if sealed else data
        return json.dumps(whole, sort_keys=True, indent=1, ensure_ascii=False) + "\n"
    finally:
        holder[edit.path[-1]] = before


def passes(inputs: Brief, routes: Routes, text: str, file: Path) -> bool:
    """Whether the check lets a plan file through."""
    file.write_text(text, encoding="utf-8", newline="\n")
    try:
        _plan, report, _notes = check_file(inputs, file, routes)
    except BadInput:
        return False
    return report.passed
