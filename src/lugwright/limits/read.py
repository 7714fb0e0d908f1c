"""Reading one layer of limits: a TOML table, or settings from the command line.

Faults are gathered, never raised here, so that a reader sees all of them at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import PurePath
from typing import Any

from lugwright.base.errors import Complaint
from lugwright.base.letters import letters_fault
from lugwright.base.origin import Origin
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import KeyPath, TomlFile
from lugwright.limits.spec import GROUPS, LimitSpec, Value
from lugwright.limits.spec_rows import SPEC_BY_NAME, SPECS
from lugwright.limits.values import NotAllowed, parse_value, value_text

COMMAND_LINE = "command line"
NO_SOURCE = "no source given"
META_KEYS = ("title", "rule_set", "shop")

_GROUP_OF_HEAD = {spec.path[0]: spec.group for spec in SPECS}
_FORM_KEYS = {"value", "source"}


@dataclass(frozen=True)
class Setting:
    """One limit as one layer sets it. ``at`` is a complaint without words at its place."""

    spec: LimitSpec
    value: Value
    origin: Origin
    at: Complaint | None = field(default=None, compare=False, repr=False)

    @property
    def text(self) -> str:
        """The value in the limit's own unit."""
        return value_text(self.spec, self.value)

    def over(self, earlier: Setting | None) -> Setting:
        """This setting, remembering the one it takes the place of and all before that."""
        if earlier is None:
            return self
        told = f"{earlier.text} ({earlier.origin})"
        if earlier.origin.replaced:
            told = f"{told}, {earlier.origin.replaced}"
        return replace(self, origin=replace(self.origin, replaced=told))

    def complaint(self, message: str, hint: str = "") -> Complaint:
        """A complaint about this setting, at its place."""
        at = self.at or Complaint(self.origin.file or self.origin.layer, 0, 0, self.spec.name, "")
        return replace(at, message=message, hint=hint)


@dataclass(frozen=True)
class Layer:
    """What one layer sets, by plain name, and everything wrong in it."""

    settings: Mapping[str, Setting]
    complaints: tuple[Complaint, ...]


@dataclass(frozen=True)
class _Entry:
    """One leaf of a limits table: a limit's plain name, where it stands, what is written."""

    name: str
    path: KeyPath
    written: object


class _TableReader:
    """Walks one limits table; ``base`` is the table's own place in the file."""

    def __init__(self, toml: TomlFile, layer: str, base: KeyPath) -> None:
        self._toml = toml
        self._layer = layer
        self._base = base
        self._settings: dict[str, Setting] = {}
        self._complaints: list[Complaint] = []

    def read(self, table: Mapping[str, Any]) -> Layer:
        for entry in self._entries(table):
            self._take(entry)
        return Layer(self._settings, tuple(self._complaints))

    def _entries(self, table: Mapping[str, Any]) -> Iterator[_Entry]:
        for key, written in table.items():
            path = (*self._base, key)
            if not self._base and key in META_KEYS:
                continue
            if key in GROUPS and not _is_leaf(key, written):
                yield from self._group(key, written, path)
            else:
                yield from self._named(key, written, path, "")

    def _group(self, group: str, table: object, path: KeyPath) -> Iterator[_Entry]:
        if not isinstance(table, dict):
            self._complain(
                path, "this is a group of limits", f"write [{group}] and its limits below"
            )
            return
        for key, written in table.items():
            yield from self._named(key, written, (*path, key), group)

    def _named(self, name: str, written: object, path: KeyPath, group: str) -> Iterator[_Entry]:
        head = name.split(".")[0]
        home = _GROUP_OF_HEAD.get(head, "")
        parts = _parts_of(name)
        if group and home and home != group:
            self._complain(
                path, "this limit stands in another group", f"move it to [{home}]", key=True
            )
        elif name in SPEC_BY_NAME:
            yield _Entry(name, path, written)
        elif not parts:
            self._complain(path, "there is no such limit", _hint(name, group), key=True)
        elif not isinstance(written, dict) or _FORM_KEYS & set(written):
            self._complain(path, "this limit has parts", f"set one of: {', '.join(parts)}")
        else:
            for part, value in written.items():
                yield from self._named(f"{name}.{part}", value, (*path, part), group)

    def _take(self, entry: _Entry) -> None:
        if entry.name in self._settings:
            self._complain(entry.path, "this limit is set twice in this file", "keep one", key=True)
            return
        spec = SPEC_BY_NAME[entry.name]
        written, source = entry.written, NO_SOURCE
        path = entry.path
        if isinstance(written, dict):
            extra = sorted(set(written) - _FORM_KEYS)
            source = written.get("source", NO_SOURCE)
            if extra or "value" not in written or not isinstance(source, str):
                form = 'write the value, or { value = ..., source = "..." }'
                self._complain(path, "a limit is one value, with or without its source", form)
                return
            if fault := _source_fault(source):
                self._complain((*path, "source"), fault)
                return
            written, path = written["value"], (*path, "value")
        try:
            value = parse_value(spec, written)
        except NotAllowed as fault:
            self._complain(path, fault.message, fault.hint)
            return
        origin = origin_in(self._toml, self._layer, entry.path, source)
        at = self._toml.complaint(path, ", ".join(_words(path)), "")
        self._settings[entry.name] = Setting(spec, value, origin, at)

    def _complain(self, path: KeyPath, message: str, hint: str = "", *, key: bool = False) -> None:
        words = ", ".join(_words(path))
        complaint = self._toml.complaint(path, words, message, hint, at_key=key)
        self._complaints.append(complaint)


def _source_fault(source: str) -> str:
    """Why a text cannot stand on paper as a value's source; "" where it can."""
    if not source.strip():
        return 'say where the value is from, or "common practice, no source"'
    return letters_fault(" ".join(source.split()))


def _words(path: KeyPath) -> list[str]:
    """A key path in the file's own words."""
    return [str(part) for part in path if part != "value"]


def origin_in(toml: TomlFile, layer: str, path: KeyPath, source: str = "") -> Origin:
    """The Origin of a key in a file.

    Only the file's own name is kept: a plan must not change with the folder it is made from.
    """
    return Origin(layer, PurePath(toml.file).name, toml.place(path)[0], source)


def read_table(table: Mapping[str, Any], toml: TomlFile, layer: str, base: KeyPath = ()) -> Layer:
    """The limits a TOML table sets.

    ``base`` is the key path of the table in its file: ``()`` for a limits file, ``("limits",)``
    for a scenario's own table.
    """
    return _TableReader(toml, layer, base).read(table)


def read_settings(settings: tuple[str, ...]) -> Layer:
    """The limits set on the command line, each as ``NAME=VALUE``."""
    found: dict[str, Setting] = {}
    complaints: list[Complaint] = []
    for text in settings:
        name, sign, written = (part.strip() for part in text.partition("="))
        try:
            if not sign:
                raise NotAllowed("this is not NAME=VALUE", "e.g. lugs_per_stud=5")
            if name in found:
                raise NotAllowed("this limit is set twice", "keep one")
            spec = _spec_named(name)
            origin = Origin(COMMAND_LINE, source=NO_SOURCE)
            at = Complaint(COMMAND_LINE, 0, 0, name, "")
            found[name] = Setting(spec, parse_value(spec, written), origin, at)
        except NotAllowed as fault:
            complaints.append(Complaint(COMMAND_LINE, 0, 0, name, fault.message, fault.hint))
    return Layer(found, tuple(complaints))


def _spec_named(name: str) -> LimitSpec:
    """The row of a plain name. Raises NotAllowed where there is none."""
    if name in SPEC_BY_NAME:
        return SPEC_BY_NAME[name]
    parts = _parts_of(name)
    if parts:
        raise NotAllowed(
            "this limit has parts", f"set one of: {', '.join(f'{name}.{part}' for part in parts)}"
        )
    raise NotAllowed("there is no such limit", _hint(name, ""))


def _is_leaf(key: str, written: object) -> bool:
    """Whether a key that is both a group and a limit (``objective``) is meant as the limit."""
    if key not in SPEC_BY_NAME:
        return False
    return not isinstance(written, dict) or "value" in written


def _parts_of(name: str) -> tuple[str, ...]:
    """The next parts of a limit that has some: ``minutes_fitting`` has ``ring``, ``butt``, ..."""
    depth = len(name.split("."))
    parts = (
        spec.path[depth]
        for spec in SPECS
        if spec.name.startswith(f"{name}.") and len(spec.path) > depth
    )
    return tuple(dict.fromkeys(parts))


def _hint(name: str, group: str) -> str:
    """The nearest limit: in its group first, then anywhere; else what the group holds."""
    own = [spec.name for spec in SPECS if spec.group == group]
    heads = list(_GROUP_OF_HEAD)
    close = did_you_mean(name, own) or did_you_mean(name, [spec.name for spec in SPECS])
    close = close or did_you_mean(name, [*heads, *GROUPS])
    if close:
        return close
    if group:
        inside = dict.fromkeys(spec.path[0] for spec in SPECS if spec.group == group)
        return f"[{group}] holds: {', '.join(inside)}"
    return "`lugwright limits` lists them all"
