"""The file of a family: its variants, how many boats of each, the price of a distinct part.

title = "Sandbar skiff, all options"
part_price = "1.50"              # what it costs to keep one more kind of jumper

[[variant]]
name = "plain"
scenario = "sandbar-skiff.toml"  # beside this file
without = ["speed"]              # instruments left out
boats = 60
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lugwright.base.errors import BadInput, Complaint
from lugwright.base.letters import letters_fault
from lugwright.base.spelling import near_or_all
from lugwright.base.toml import KeyPath, TomlFile, parse_toml, read_toml
from lugwright.base.units import parse_money_micro
from lugwright.scenario.leaving_out import text_without

MOST_VARIANTS = 24
MOST_BOATS = 100_000
_KEYS = ("title", "part_price", "variant")
_VARIANT_KEYS = ("name", "scenario", "without", "boats")
_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")  # it becomes the name of a folder


@dataclass(frozen=True)
class VariantPart:
    """One variant: its name, its boats, its scenario as text of its own."""

    name: str
    boats: int
    scenario: TomlFile


@dataclass(frozen=True)
class FamilyFile:
    """A family as written; ``part_micro`` in millionths of the currency."""

    title: str
    part_micro: int
    variants: tuple[VariantPart, ...]


def read_family(path: Path) -> FamilyFile:
    """Read a family's file and its scenarios. Raises BadInput with every fault of the file."""
    toml = read_toml(path)
    reading = _Reading(toml)
    found = reading.family(path.parent)
    if reading.faults:
        raise BadInput(*sorted(set(reading.faults)))
    return found


class _Reading:
    """What is read, and everything found wrong."""

    def __init__(self, toml: TomlFile) -> None:
        self.toml = toml
        self.faults: list[Complaint] = []

    def fault(self, path: KeyPath, message: str, hint: str = "", *, at_key: bool = False) -> None:
        words = ", ".join(f"entry {part + 1}" if isinstance(part, int) else part for part in path)
        self.faults.append(self.toml.complaint(path, words, message, hint, at_key=at_key))

    def family(self, folder: Path) -> FamilyFile:
        values = self.toml.values
        self.known_keys((), values, _KEYS)
        title = self.text((), values, "title")
        price = values.get("part_price")
        part_micro = 0
        try:
            part_micro = parse_money_micro(price)
        except ValueError as error:
            self.fault(("part_price",), str(error))
        given = values.get("variant")
        if not isinstance(given, list) or not given or not all(isinstance(x, dict) for x in given):
            self.fault(("variant",), "a family has variants", "write [[variant]] tables")
            return FamilyFile(title, part_micro, ())
        if len(given) > MOST_VARIANTS:
            self.fault(("variant",), f"has {len(given)} variants", f"at most {MOST_VARIANTS}")
            return FamilyFile(title, part_micro, ())
        parts = [self.variant(at, part, folder) for at, part in enumerate(given)]
        names = [part.name for part in parts if part]
        for at, name in enumerate(names):
            if name in names[:at]:
                self.fault(("variant", at, "name"), f"{name!r} is the name of two variants")
        return FamilyFile(title, part_micro, tuple(part for part in parts if part))

    def variant(self, at: int, part: dict[str, Any], folder: Path) -> VariantPart | None:
        before = len(self.faults)
        where: KeyPath = ("variant", at)
        self.known_keys(where, part, _VARIANT_KEYS)
        name = self.text(where, part, "name")
        if name and not _NAME.fullmatch(name):
            hint = "small letters, digits and hyphens: it names a folder"
            self.fault((*where, "name"), f"{name!r} is not a name for a variant", hint)
        boats = part.get("boats", 1)
        if type(boats) is not int or not 1 <= boats <= MOST_BOATS:
            self.fault((*where, "boats"), f"is {boats!r}", f"write a number from 1 to {MOST_BOATS}")
        without = part.get("without", [])
        if not isinstance(without, list) or not all(isinstance(one, str) for one in without):
            self.fault((*where, "without"), "is not a list of instruments' names")
        file = self.text(where, part, "scenario")
        if len(self.faults) > before:
            return None
        scenario = read_toml(folder / file)
        if without:
            title = f"{scenario.values.get('title', file)}, {name}"
            try:
                text = text_without(scenario, without, title)
            except BadInput as error:
                found = error.complaints[0]
                self.fault((*where, "without"), found.message, found.hint)
                return None
            scenario = parse_toml(text.encode(), f"{name}.toml")
        return VariantPart(name, boats, scenario)

    def text(self, where: KeyPath, part: dict[str, Any], key: str) -> str:
        value = part.get(key)
        if not isinstance(value, str) or not value.strip():
            self.fault((*where, key), "is missing" if value is None else "is not text")
            return ""
        if fault := letters_fault(value):
            self.fault((*where, key), fault)
        return value

    def known_keys(self, where: KeyPath, part: dict[str, Any], known: tuple[str, ...]) -> None:
        for key in part:
            if key not in known:
                hint = near_or_all(key, known)
                self.fault((*where, key), "is not a key of a family", hint, at_key=True)
