"""The ``[shop]`` table of a limits file: what may be changed by whatever stands below it.

================  =========================================================================
key               meaning
================  =========================================================================
``extends``       another limits file this one stands on; what that one closes stays closed
``rule_set``      the rule set; nothing below may choose another
``tighten_only``  limits nothing below may loosen; ``"all"``: every one but those under ``open``
``open``          limits that may be loosened though ``tighten_only`` is ``"all"``
``locked``        limits nothing below may change at all
``range``         a table of ``name = [least, most]``
``waivers``       whether a scenario may waive limits at a place: true, false, or which
================  =========================================================================

In ``locked``, ``tighten_only`` and ``open`` a name is a limit, the head of one with
parts, or a group.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import combinations
from typing import Any

from lugwright.base.errors import Complaint
from lugwright.base.origin import Origin
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import KeyPath, TomlFile
from lugwright.limits.compare import RANGED, on_scale
from lugwright.limits.locks import Span
from lugwright.limits.read import origin_in
from lugwright.limits.spec import GROUPS
from lugwright.limits.spec_rows import SPEC_BY_NAME, SPECS
from lugwright.limits.values import NotAllowed, parse_value
from lugwright.limits.waivable import WAIVABLE

TABLE = "shop"
LIMITS_FILE = "limits file"
ALL = "all"


@dataclass
class ShopRules:
    """What one limits file says of what stands below it, each with its place.

    ``waivers`` None: nothing said. ``complaints`` is everything wrong in the table.
    """

    extends: str = ""
    rule_set: str = ""
    rule_set_origin: Origin | None = None
    tightens_all: Origin | None = None
    locked: dict[str, Origin] = field(default_factory=dict)
    tighten_only: dict[str, Origin] = field(default_factory=dict)
    open: dict[str, Origin] = field(default_factory=dict)
    spans: dict[str, Span] = field(default_factory=dict)
    waivers: frozenset[str] | None = None
    waivers_origin: Origin | None = None
    complaints: list[Complaint] = field(default_factory=list)

    def tightener(self, name: str) -> Origin | None:
        """Where this file says that a limit may only be tightened."""
        if name in self.tighten_only:
            return self.tighten_only[name]
        return None if name in self.open else self.tightens_all


def read_rules(toml: TomlFile) -> ShopRules:
    """The rules of a limits file; none where it has no ``[shop]`` table."""
    return _Reader(toml).read()


def limits_named(word: str) -> tuple[str, ...]:
    """The limits a word means: one limit, those with that head, or a group; none: ()."""
    if word in SPEC_BY_NAME:
        return (word,)
    parts = tuple(spec.name for spec in SPECS if spec.name.startswith(f"{word}."))
    return parts or tuple(spec.name for spec in SPECS if spec.group == word)


class _Reader:
    """Reads one table; every fault is gathered."""

    def __init__(self, toml: TomlFile) -> None:
        self._toml = toml
        self._rules = ShopRules()

    def read(self) -> ShopRules:
        table = self._toml.values.get(TABLE, {})
        if not isinstance(table, dict):
            self._complain((TABLE,), "this is a table", "write [shop] and its keys below")
            return self._rules
        readers = self._readers()
        for key, written in table.items():
            if key in readers:
                readers[key](written, (TABLE, key))
            else:
                close = did_you_mean(key, list(readers))
                hint = f"{close} " if close else ""
                hint += f"[shop] holds: {', '.join(readers)}"
                self._complain((TABLE, key), "there is no such key", hint, key=True)
        if table:
            self._twice()
        return self._rules

    def _readers(self) -> Mapping[str, Callable[[Any, KeyPath], None]]:
        return {
            "extends": self._extends,
            "rule_set": self._rule_set,
            "tighten_only": self._tighten_only,
            "open": lambda written, path: self._names(written, path, self._rules.open),
            "locked": lambda written, path: self._names(written, path, self._rules.locked),
            "range": self._ranges,
            "waivers": self._waivers,
        }

    def _complain(self, path: KeyPath, message: str, hint: str = "", *, key: bool = False) -> None:
        words = ", ".join(str(part) for part in path if isinstance(part, str))
        complaint = self._toml.complaint(path, words, message, hint, at_key=key)
        self._rules.complaints.append(complaint)

    def _origin(self, path: KeyPath) -> Origin:
        return origin_in(self._toml, LIMITS_FILE, path)

    def _extends(self, written: Any, path: KeyPath) -> None:
        if isinstance(written, str) and written.strip():
            self._rules.extends = written.strip()
        else:
            self._complain(path, "this is the name of a limits file", 'e.g. "company.toml"')

    def _rule_set(self, written: Any, path: KeyPath) -> None:
        if isinstance(written, str):
            self._rules.rule_set, self._rules.rule_set_origin = written, self._origin(path)
        else:
            self._complain(path, "this is the name of a rule set", 'e.g. "strict"')

    def _tighten_only(self, written: Any, path: KeyPath) -> None:
        if written == ALL:
            self._rules.tightens_all = self._origin(path)
        elif isinstance(written, str):
            self._complain(path, f'"{written}" is not "{ALL}"', f'"{ALL}", or a list of limits')
        else:
            self._names(written, path, self._rules.tighten_only)

    def _names(self, written: Any, path: KeyPath, into: dict[str, Origin]) -> None:
        if not isinstance(written, list):
            self._complain(path, "this is a list of limits", 'e.g. ["lugs_per_stud"]')
            return
        for index, word in enumerate(written):
            names = limits_named(word) if isinstance(word, str) else ()
            for name in names:
                into[name] = self._origin((*path, index))
            if not names:
                self._unknown(word, (*path, index))

    def _unknown(self, word: object, path: KeyPath) -> None:
        close = did_you_mean(str(word), [*SPEC_BY_NAME, *GROUPS])
        self._complain(path, "there is no such limit", close or "`lugwright limits` lists them all")

    def _ranges(self, written: Any, path: KeyPath) -> None:
        if not isinstance(written, dict):
            self._complain(path, "this is a table of ranges", "write [shop.range]")
            return
        for name, ends in _flat(written).items():
            here = (*path, *name.split("."))
            spec = SPEC_BY_NAME.get(name)
            if spec is None:
                self._unknown(name, here)
            elif spec.unit not in RANGED:
                hint = "write it under locked or tighten_only"
                self._complain(here, "its values lie on no scale", hint)
            elif not isinstance(ends, list) or len(ends) != 2:
                self._complain(here, "a range is its least and its most value", "[2, 4]")
            else:
                self._range(name, ends, here)

    def _range(self, name: str, ends: list[Any], path: KeyPath) -> None:
        try:
            least, most = (parse_value(SPEC_BY_NAME[name], end) for end in ends)
        except NotAllowed as fault:
            self._complain(path, fault.message, fault.hint)
            return
        if on_scale(least) > on_scale(most):
            self._complain(path, "its least value is more than its most", "put the least one first")
            return
        self._rules.spans[name] = Span(least, most, self._origin(path))

    def _waivers(self, written: Any, path: KeyPath) -> None:
        self._rules.waivers_origin = self._origin(path)
        if isinstance(written, bool):
            self._rules.waivers = frozenset(WAIVABLE) if written else frozenset()
            return
        named: dict[str, Origin] = {}
        self._names(written, path, named)
        for name in sorted(set(named) - set(WAIVABLE)):
            hint = f"these can: {', '.join(WAIVABLE)}"
            self._complain(path, f"{name} cannot be waived at a place", hint)
        self._rules.waivers = frozenset(named) & frozenset(WAIVABLE)

    def _twice(self) -> None:
        """Limits that stand in two lists that cannot both be meant."""
        rules = self._rules
        lists = ("locked", "tighten_only", "open")
        for one, other in combinations(lists, 2):
            for name in sorted(set(getattr(rules, one)) & set(getattr(rules, other))):
                message = f"{name} stands under {one} too"
                self._complain((TABLE, other), message, "keep one")
        if isinstance(self._toml.values[TABLE].get("waivers"), list):
            for name in sorted((rules.waivers or frozenset()) & set(rules.locked)):
                message = f"{name} is locked, and cannot be waived"
                self._complain((TABLE, "waivers"), message, "keep one")


def _flat(table: Mapping[str, Any], head: str = "") -> dict[str, Any]:
    """Nested tables as dotted names."""
    found: dict[str, Any] = {}
    for key, value in table.items():
        if isinstance(value, dict):
            found |= _flat(value, f"{head}{key}.")
        else:
            found[f"{head}{key}"] = value
    return found
