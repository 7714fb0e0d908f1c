"""What could be read of a scenario, even where parts of it are at fault.

All faults of a file are reported at once. So records that cannot be read are left out, their
names are remembered, and the rest is still checked without complaining about what is missing
only because it was left out.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from pydantic import ValidationError

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath, TomlFile
from lugwright.scenario.complaints import error_path, field_words, from_validation
from lugwright.scenario.schema import HarnessPart, PigtailPart, ScenarioPart

Section = tuple[str | int, ...]

PIGTAILS: Section = ("harness", "pigtails")
"""The pigtails of all harnesses, one after the other; no place in the file by itself."""
_LISTS: tuple[Section, ...] = (
    ("instrument",),
    ("boat_wires",),
    ("circuit",),
    ("keep_out",),
    ("tie_point",),
    ("strap",),
)
# stand in for a part that cannot be read, so that the others can be checked
_PANEL = {"width": "50 m", "height": "50 m", "thickness": "1 mm"}
_PIGTAIL = {"label": "left out", "colour": "black", "cap_off": True, "live": False}


@dataclass
class Lost:
    """What was left out. A flag is set where not even the name could be read."""

    instruments: set[str] = field(default_factory=set)
    tie_points: set[str] = field(default_factory=set)
    unnamed_instrument: bool = False
    unnamed_tie_point: bool = False
    panel: bool = False
    supplies: bool = False
    boat_blocks: bool = False


@dataclass(frozen=True)
class Draft:
    """The readable parts of a scenario. ``kept`` maps a list to the file's own indices."""

    part: ScenarioPart
    toml: TomlFile
    kept: Mapping[Section, tuple[int, ...]]
    lost: Lost

    @cached_property
    def pigtails(self) -> tuple[PigtailPart, ...]:
        """The pigtails of all harnesses; ``PIGTAILS`` and a place in this are a path."""
        return tuple(pigtail for harness in self.part.harness for pigtail in harness.pigtails)

    def harness_of(self, index: int) -> HarnessPart:
        """The harness of a pigtail, by its place in ``pigtails``."""
        return self.part.harness[self._in_harness(index)[0]]

    def _in_harness(self, index: int) -> tuple[int, int]:
        """Which harness a pigtail is of, and its place there."""
        for number, harness in enumerate(self.part.harness):
            if index < len(harness.pigtails):
                return number, index
            index -= len(harness.pigtails)
        raise IndexError(index)

    def path(self, section: Section, index: int, *keys: str | int) -> KeyPath:
        """Key path, in the file, of a record of a list (by its index in ``part``)."""
        if section == PIGTAILS:
            number, index = self._in_harness(index)
            section = ("harness", number, "pigtails")
        kept = self.kept.get(section)
        return (*section, kept[index] if kept else index, *keys)

    def complain(
        self, path: KeyPath, message: str, hint: str = "", *, at_key: bool = False
    ) -> Complaint:
        """A complaint about what stands at ``path`` in the file."""
        words = field_words(path, self.toml.values)
        return self.toml.complaint(path, words, message, hint, at_key=at_key)


def read_draft(toml: TomlFile) -> tuple[Draft | None, list[Complaint]]:
    """The readable part of a scenario and the faults of form found in it.

    The draft is None where too little is left to check anything further.
    """
    try:
        return Draft(ScenarioPart.model_validate(toml.values), toml, {}, Lost()), []
    except ValidationError as error:
        complaints = from_validation(error, toml, ScenarioPart)
        return _rest(toml, error), complaints


def _rest(toml: TomlFile, error: ValidationError) -> Draft | None:
    values = copy.deepcopy(toml.values)
    lost = Lost()
    dropped: dict[Section, set[int]] = {}
    for detail in error.errors(include_url=False):
        path = error_path(detail)
        if detail["type"] == "extra_forbidden":
            _delete(values, path)
        else:
            _leave_out(values, path, lost, dropped)
    kept: dict[Section, tuple[int, ...]] = {}
    for section, indices in dropped.items():
        if section[0] in values:
            kept[section] = _drop_records(values, section, indices)
    try:
        return Draft(ScenarioPart.model_validate(values), toml, kept, lost)
    except ValidationError:
        return None


def _delete(values: Any, path: KeyPath) -> None:
    for key in path[:-1]:
        values = values[key]
    values.pop(path[-1], None)


def _leave_out(
    values: dict[str, Any], path: KeyPath, lost: Lost, dropped: dict[Section, set[int]]
) -> None:
    lists = (*_LISTS, (*path[:2], "pigtails")) if path[0] == "harness" else _LISTS
    for section in lists:
        size = len(section)
        if path[:size] == section and len(path) > size and isinstance(path[size], int):
            index = int(path[size])
            dropped.setdefault(section, set()).add(index)
            _remember(values, section, index, lost)
            return
    if path[0] == "panel":
        values["panel"] = dict(_PANEL)
        lost.panel = True
    elif path[0] == "harness":
        _mend_harness(values, path, lost)
    elif path[0] == "title":
        values["title"] = "untitled"
    else:
        values.pop(str(path[0]), None)
        lost.boat_blocks |= path[0] == "boat_wires"
        lost.supplies |= path[0] == "circuit"
        lost.unnamed_tie_point |= path[0] == "tie_point"


def _mend_harness(values: dict[str, Any], path: KeyPath, lost: Lost) -> None:
    """Put something readable in place of a harness, or of one of its keys."""
    written = values.get("harness")
    number = path[1] if len(path) > 1 and isinstance(path[1], int) else 0
    if not isinstance(written, list) or number >= len(written):
        written, number = [{}], 0
        values["harness"] = written
    if not isinstance(written[number], dict):
        written[number] = {}
    harness: dict[str, Any] = written[number]
    if len(path) > 2 and path[2] != "pigtails":
        harness.pop(str(path[2]), None)
    else:
        harness["pigtails"] = [dict(_PIGTAIL)]
        lost.supplies = True
    harness.setdefault("entry", ["0 mm", "0 mm"])


def _remember(values: Any, section: Section, index: int, lost: Lost) -> None:
    records: Any = values
    for key in section:
        records = records[key]
    record = records[index]
    name = record.get("name") if isinstance(record, dict) else None
    if section == ("instrument",):
        if isinstance(name, str):
            lost.instruments.add(name.strip())
        else:
            lost.unnamed_instrument = True
    elif section == ("tie_point",):
        if isinstance(name, str):
            lost.tie_points.add(name.strip())
        else:
            lost.unnamed_tie_point = True
    elif section == ("boat_wires",):
        lost.boat_blocks = True
    elif section == ("circuit",) or section[-1] == "pigtails":
        lost.supplies = True


def _drop_records(
    values: dict[str, Any], section: Section, indices: set[int]
) -> tuple[int, ...]:
    parent: Any = values
    for key in section[:-1]:
        parent = parent[key]
    records = parent[section[-1]]
    if len(records) <= max(indices):  # the list itself was at fault, and has been replaced
        return ()
    kept = tuple(index for index in range(len(records)) if index not in indices)
    parent[section[-1]] = [records[index] for index in kept]
    if section[-1] == "pigtails" and not kept:
        parent[section[-1]] = [dict(_PIGTAIL)]
        return (min(indices),)
    return kept
