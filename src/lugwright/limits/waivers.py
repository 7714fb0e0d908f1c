"""Reading the waivers of a scenario: limits loosened for one place each, on the record.

::

    [[waiver]]
    limit = "lugs_per_stud"
    place = "depth.ground"
    value = 5
    reason = "the bus bar came with one stud short"
    initials = "AB"
    date = 2026-11-25

A waiver has to loosen its limit, within what the limit may be at all, where the shop lets it be
waived. Whether the place is there is looked up where the console is known
(``scenario.waiver_places``).
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lugwright.base.errors import Complaint
from lugwright.base.letters import letters_fault
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import KeyPath, TomlFile
from lugwright.limits.compare import loosens
from lugwright.limits.read import Setting, origin_in
from lugwright.limits.shop_layers import ASK, Shop
from lugwright.limits.spec import LimitSpec, SizeValue, Value
from lugwright.limits.spec_rows import SPEC_BY_NAME
from lugwright.limits.values import NotAllowed, parse_value, value_text
from lugwright.limits.waivable import WAIVABLE, Waiver

TABLE = "waiver"
WAIVER = "waiver"
KEYS = ("limit", "place", "value", "reason", "initials", "date")
LONGEST_TEXT = 200
LONGEST_INITIALS = 8


@dataclass
class WaiversRead:
    """The waivers that stand; what is wrong in form; and what the shop refuses."""

    waivers: list[Waiver]
    complaints: list[Complaint]
    refused: list[Complaint]


def read_waivers(toml: TomlFile, shop: Shop, in_force: Mapping[str, Setting]) -> WaiversRead:
    """Every ``[[waiver]]`` of a scenario, judged by the shop and by the limits in force."""
    found = WaiversRead([], [], [])
    tables = toml.values.get(TABLE, [])
    if not isinstance(tables, list):
        hint = "write [[waiver]] above each"
        found.complaints.append(toml.complaint((TABLE,), TABLE, "this is a list of waivers", hint))
        return found
    for index, table in enumerate(tables):
        _Reader(toml, index, shop, in_force, found).read(table)
    return found


class _Reader:
    """Reads one waiver; every fault is gathered."""

    def __init__(
        self,
        toml: TomlFile,
        index: int,
        shop: Shop,
        in_force: Mapping[str, Setting],
        found: WaiversRead,
    ) -> None:
        self._toml, self._index, self._shop = toml, index, shop
        self._in_force, self._found = in_force, found

    def read(self, table: Any) -> None:
        before = len(self._found.complaints) + len(self._found.refused)
        if not isinstance(table, dict):
            self._complain("", "this is a table", f"its keys: {', '.join(KEYS)}")
            return
        for key in table:
            if key not in KEYS:
                close = did_you_mean(key, KEYS)
                hint = f"{close} its keys: {', '.join(KEYS)}".strip()
                self._complain(key, "there is no such key", hint)
        spec = self._limit(table.get("limit"))
        place = self._text(table, "place", LONGEST_TEXT)
        reason = self._text(table, "reason", LONGEST_TEXT)
        initials = self._text(table, "initials", LONGEST_INITIALS)
        date = self._date(table.get("date"))
        value = self._value(spec, table.get("value")) if spec else None
        if spec is None or len(self._found.complaints) + len(self._found.refused) > before:
            return
        if any((w.limit, w.place) == (spec.name, place) for w in self._found.waivers):
            self._complain("place", f"{spec.name} is waived there already", "keep one")
            return
        origin = origin_in(self._toml, "scenario", (TABLE, self._index))
        self._found.waivers.append(Waiver(spec.name, place, value, reason, initials, date, origin))

    def _at(self, key: str, message: str, hint: str) -> Complaint:
        path: KeyPath = (TABLE, self._index, key) if key else (TABLE, self._index)
        words = f"waiver {self._index + 1}" + (f", {key}" if key else "")
        return self._toml.complaint(path, words, message, hint)

    def _complain(self, key: str, message: str, hint: str = "") -> None:
        self._found.complaints.append(self._at(key, message, hint))

    def _refuse(self, key: str, message: str) -> None:
        self._found.refused.append(self._at(key, message, ASK))

    def _text(self, table: Mapping[str, Any], key: str, longest: int) -> str:
        written = table.get(key)
        text = written.strip() if isinstance(written, str) else ""
        if not text:
            self._complain(key, f"a waiver has its {key}: one line of text")
        elif len(text) > longest or not text.isprintable():
            self._complain(key, f"this is one line of at most {longest} printable characters")
        elif fault := letters_fault(text):
            self._complain(key, fault)
        return text

    def _date(self, written: Any) -> str:
        if isinstance(written, datetime.date) and not isinstance(written, datetime.datetime):
            return written.isoformat()
        if isinstance(written, str):
            try:
                if len(written) == len("2026-11-25"):
                    return datetime.date.fromisoformat(written).isoformat()
            except ValueError:
                pass
        self._complain("date", "a waiver has the date it was given", "write it like 2026-11-25")
        return ""

    def _limit(self, name: Any) -> LimitSpec | None:
        if name in WAIVABLE:
            self._allowed(str(name))
            return SPEC_BY_NAME[name]
        if isinstance(name, str) and name in SPEC_BY_NAME:
            message = f"{name} cannot be waived at a place"
        else:
            message = f'there is no limit "{name}"' if name else "a waiver names its limit"
        close = did_you_mean(str(name), tuple(WAIVABLE))
        self._complain("limit", message, f"{close} these can: {', '.join(WAIVABLE)}".strip())
        return None

    def _allowed(self, name: str) -> None:
        lock = self._shop.locks.get(name)
        if lock and lock.locked:
            self._refuse("limit", f"{name}: {lock.words}: it cannot be waived")
        elif name not in self._shop.waivable:
            origin = self._shop.waivers_origin
            self._refuse("limit", f"the shop does not let {name} be waived ({origin})")

    def _value(self, spec: LimitSpec, written: Any) -> Value:
        if written is None:
            self._complain("value", "a waiver has the value that counts at its place")
            return None
        try:
            value = parse_value(spec, written)
        except NotAllowed as fault:
            self._complain("value", fault.message, fault.hint)
            return None
        if not isinstance(value, int | SizeValue):
            self._complain("value", "a waiver loosens a limit, it does not put it off")
            return None
        present = self._in_force[spec.name]
        if not loosens(spec, value, present.value):
            told = f"{value_text(spec, value)} is no looser than what counts everywhere"
            hint = "leave the waiver out"
            self._complain("value", f"{told}, {present.text} ({present.origin})", hint)
        lock = self._shop.locks.get(spec.name)
        outside = lock.out_of_range(value) if lock else ""
        if outside:
            self._refuse("value", outside)
        return value
