"""The form of an expected complaint, and the files that cannot be read at all."""

from __future__ import annotations

from typing import NamedTuple


class Expected(NamedTuple):
    """One complaint: line and column from 1, the field, and words of message and hint."""

    line: int
    column: int
    field: str
    words: tuple[str, ...]


UNREADABLE = {
    "binary.bin": "not a text file",
    "empty.toml": "the file is empty",
    "missing.toml": "there is no such file",
    "not_utf8.toml": "not text in UTF-8",
}
