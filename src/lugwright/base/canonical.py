"""One text for one value: what results are keyed by, and compared by."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from dataclasses import fields, is_dataclass
from pathlib import PurePath
from typing import Any


def plain(value: object) -> Any:
    """A value of this program as JSON has it: records by field, sets and mappings sorted.

    Raises TypeError for anything that has no one way of being written.
    """
    if value is None or isinstance(value, bool | int | str):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        pairs = sorted((_key(key), plain(item)) for key, item in value.items())
        return dict(pairs)
    if isinstance(value, AbstractSet):
        return sorted((plain(item) for item in value), key=_text)
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, PurePath):
        return value.as_posix()
    raise TypeError(f"a {type(value).__name__} has no one way of being written")


def _key(key: object) -> str:
    """A mapping's key as text; a key that is no text is written out."""
    return key if isinstance(key, str) else _text(plain(key))


def _text(data: Any) -> str:
    return json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=True)


def digest_of(value: object) -> str:
    """SHA-256 of the one text of a value, in hex digits."""
    return hashlib.sha256(_text(plain(value)).encode()).hexdigest()
