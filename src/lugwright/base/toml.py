"""Reading a TOML file with the place of every key.

Values come from ``tomllib``, which alone judges whether the text is TOML. Places come from
tree-sitter, which is loaded only when a place is asked for: a file without fault never needs it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date, time
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lugwright.base.canonical import digest_of
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_file, refused

if TYPE_CHECKING:
    from tree_sitter import Node

MAX_BYTES = 1_000_000
MAX_DEPTH = 32
MAX_KEY_PARTS = 32
MAX_KEYS = 1_000  # in one table; the largest console has fewer
_LEAST_INTEGER, _MOST_INTEGER = -(2**63), 2**63 - 1  # a whole number of TOML 1.0 has 64 bits

KeyPath = tuple[str | int, ...]
Place = tuple[int, int]

# tomllib of Python 3.11 tells the place of a fault only inside its text.
_AT = re.compile(r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")
_KEYS = ("bare_key", "quoted_key", "dotted_key")
# tomllib takes time and memory with the square of the number of parts of a key. Nothing here is
# tried twice (possessive, and from the start of a part only), so a long text costs no more.
_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+"""
_LONG_KEY = re.compile(rf"(?<![\w\-.]){_PART}(?:\.[ \t]*+{_PART}){{{MAX_KEY_PARTS}}}", re.ASCII)


@dataclass(frozen=True)
class TomlFile:
    """One TOML file: its values, its text, and where each key stands.

    ``file`` is the name as given by the caller, ``digest`` the SHA-256 of what the file says:
    its values in one form. Line ends, comments, blanks and the order of keys are not in it.
    """

    file: str
    text: str
    digest: str
    values: dict[str, Any] = field(repr=False)

    def place(self, path: KeyPath) -> Place:
        """Line and column (from 1, in characters) of the key at the end of ``path``.

        An array element has the place of its value. A path the file does not hold gives the
        place of its nearest known parent; the empty path gives line 1, column 1.
        """
        return self._nearest(path, self._places[0])

    def value_place(self, path: KeyPath) -> Place:
        """Line and column of the value at ``path``; otherwise as ``place``."""
        return self._nearest(path, self._places[1])

    def complaint(
        self,
        path: KeyPath,
        words: str,
        message: str,
        hint: str = "",
        *,
        at_key: bool = False,
    ) -> Complaint:
        """A Complaint about the value at ``path`` (or its key), ``words`` naming the field."""
        line, column = self.place(path) if at_key else self.value_place(path)
        return Complaint(self.file, line, column, words, message, hint)

    @staticmethod
    def _nearest(path: KeyPath, places: dict[KeyPath, Place]) -> Place:
        while path and path not in places:
            path = path[:-1]
        return places.get(path, (1, 1))

    @cached_property
    def _places(self) -> tuple[dict[KeyPath, Place], dict[KeyPath, Place]]:
        return _Locator(self.text).find()


def read_toml(path: str | Path) -> TomlFile:
    """Read a TOML file.

    Raises BadInput, with one complaint, when it is missing, a folder, no file at all, not
    readable, larger than ``MAX_BYTES``, not text in UTF-8, empty, not TOML, or TOML with keys,
    nesting or numbers beyond any use.
    """
    return parse_toml(read_file(path, MAX_BYTES), str(path))


def parse_toml(data: bytes, file: str) -> TomlFile:
    """The same for bytes already at hand; ``file`` is the name used in complaints."""
    if len(data) > MAX_BYTES:
        raise refused(file, f"the file is too large: at most {MAX_BYTES // 1_000_000} MB is read")
    text = _decoded(data, file)
    if not text.strip():
        raise refused(file, "the file is empty")
    long_key = _LONG_KEY.search(text)
    if long_key:
        line, column = _line_and_column(text, long_key.start())
        message = f"a key has more than {MAX_KEY_PARTS} parts"
        raise BadInput(Complaint(file, line, column, "", message))
    try:
        values = tomllib.loads(text)
    except RecursionError:
        raise refused(file, "brackets are nested too deep to be read") from None
    except tomllib.TOMLDecodeError as error:
        raise BadInput(_syntax_complaint(str(error), text, file)) from None
    except ValueError:  # Python refuses to convert numbers of thousands of digits
        raise refused(file, "a number has too many digits") from None
    toml = TomlFile(file, text, "", values)
    _refuse_beyond_use(toml)
    return replace(toml, digest=digest_of(_in_one_form(values)))


def _in_one_form(value: Any) -> Any:
    """A value as JSON can have it; each list begins with what it stands for."""
    if isinstance(value, dict):
        return {key: _in_one_form(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return ["list", *map(_in_one_form, value)]
    if isinstance(value, float | date | time):
        return [type(value).__name__, repr(value)]
    return value


def _refuse_beyond_use(toml: TomlFile) -> None:
    """Raises BadInput for the first value nested too deep, or number longer than TOML has."""
    waiting: list[tuple[KeyPath, Any]] = [((), toml.values)]
    while waiting:
        path, value = waiting.pop()
        words = ", ".join(str(key + 1) if isinstance(key, int) else key for key in path)
        if len(path) > MAX_DEPTH:
            fault = toml.complaint(path, "", f"nested too deep: at most {MAX_DEPTH} levels")
            raise BadInput(fault)
        if isinstance(value, int) and not _LEAST_INTEGER <= value <= _MOST_INTEGER:
            raise BadInput(toml.complaint(path, words, "a whole number has too many digits"))
        if isinstance(value, dict) and len(value) > MAX_KEYS:
            message = f"a table has {len(value)} keys, at most {MAX_KEYS} are read"
            raise BadInput(Complaint(toml.file, 0, 0, words, message))
        if isinstance(value, dict):
            waiting.extend(((*path, key), inner) for key, inner in reversed(value.items()))
        elif isinstance(value, list):
            waiting.extend(((*path, i), value[i]) for i in reversed(range(len(value))))


def _line_and_column(text: str, at: int) -> Place:
    before = text[:at]
    return before.count("\n") + 1, at - (before.rfind("\n") + 1) + 1


def _decoded(data: bytes, file: str) -> str:
    if b"\0" in data:
        raise refused(file, "this is not a text file: it holds zero bytes")
    try:
        return data.decode("utf-8-sig")  # some editors write a byte order mark
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line = before.count(b"\n") + 1
        column = len(before.rpartition(b"\n")[2].decode("utf-8", "replace")) + 1
        message = "this is not text in UTF-8; save the file as UTF-8"
        raise BadInput(Complaint(file, line, column, "", message)) from None


def _syntax_complaint(message: str, text: str, file: str) -> Complaint:
    found = _AT.search(message)
    line = column = 0
    if found and found["line"]:
        line, column = int(found["line"]), int(found["column"])
    elif found:
        lines = text.split("\n")
        line, column = len(lines), len(lines[-1]) + 1
    plain = message[: found.start()] if found else message
    return Complaint(file, line, column, "", f"not valid TOML: {plain}")


class _Locator:
    """Walks the syntax tree once and notes the place of every key and value."""

    def __init__(self, text: str) -> None:
        self._source = text.encode()
        self._lines = self._source.split(b"\n")
        self._key_places: dict[KeyPath, Place] = {}
        self._value_places: dict[KeyPath, Place] = {}
        self._count: dict[KeyPath, int] = {}  # elements met so far of each array of tables

    def find(self) -> tuple[dict[KeyPath, Place], dict[KeyPath, Place]]:
        import tree_sitter
        import tree_sitter_toml

        language = tree_sitter.Language(tree_sitter_toml.language())
        tree = tree_sitter.Parser(language).parse(self._source)
        for node in tree.root_node.children:
            if node.type == "pair":
                self._pair(node, ())
            elif node.type in ("table", "table_array_element"):
                self._table(node)
        return self._key_places, self._value_places

    def _place(self, node: Node) -> Place:
        row, column_bytes = node.start_point
        # tree-sitter counts bytes; people count characters
        return row + 1, len(self._lines[row][:column_bytes].decode("utf-8", "replace")) + 1

    def _note(self, path: KeyPath, key: Node, value: Node) -> None:
        self._key_places.setdefault(path, self._place(key))
        self._value_places.setdefault(path, self._place(value))

    def _table(self, node: Node) -> None:
        header = next(child for child in node.children if child.type in _KEYS)
        parts = list(self._key_parts(header))
        base: KeyPath = ()
        for position, (name, part_node) in enumerate(parts):
            base = (*base, name)
            last = position == len(parts) - 1
            self._note(base, part_node, part_node)
            if last and node.type == "table_array_element":
                index = self._count.get(base, 0)
                self._count[base] = index + 1
                base = (*base, index)
                self._note(base, part_node, part_node)
            elif base in self._count:  # a header under an array of tables means its last element
                base = (*base, self._count[base] - 1)
        for child in node.children:
            if child.type == "pair":
                self._pair(child, base)

    def _pair(self, node: Node, base: KeyPath) -> None:
        parts = [child for child in node.children if child.type != "comment"]
        key, value = parts[0], parts[-1]
        path = base
        for name, part_node in self._key_parts(key):
            path = (*path, name)
            self._note(path, part_node, value)
        self._value(value, path)

    def _value(self, node: Node, path: KeyPath) -> None:
        if node.type == "inline_table":
            for child in node.children:
                if child.type == "pair":
                    self._pair(child, path)
        elif node.type == "array":
            elements = [child for child in node.named_children if child.type != "comment"]
            for index, child in enumerate(elements):
                self._note((*path, index), child, child)
                self._value(child, (*path, index))

    def _key_parts(self, node: Node) -> Iterator[tuple[str, Node]]:
        if node.type == "dotted_key":
            for child in node.children:
                if child.type in _KEYS:
                    yield from self._key_parts(child)
        else:
            yield _key_name(self._source[node.start_byte : node.end_byte].decode()), node


def _key_name(written: str) -> str:
    """A key as tomllib reads it; a quoted one without quotes and escapes."""
    if written[:1] in ("'", '"'):
        return next(iter(tomllib.loads(f"{written} = 0")))
    return written
