"""A console as TOML text from its values, and every place in it: what tests of bad files need."""

from __future__ import annotations

import datetime
import json
import math
from collections.abc import Iterator, Mapping
from typing import Any

Path = tuple[str | int, ...]


def toml_of(values: Mapping[str, Any]) -> str:
    """A document of one key a line, what lies in it as inline tables and arrays."""
    return "".join(f"{key_of(key)} = {value_of(value)}\n" for key, value in values.items())


def key_of(key: str) -> str:
    """A key, quoted where it is no bare one."""
    bare = key.isascii() and key.replace("_", "a").replace("-", "a").isalnum()
    return key if bare else json.dumps(key)


def value_of(value: Any) -> str:
    """A value as TOML writes it. Raises TypeError for one that TOML does not have."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=True).replace("\x7f", "\\u007f")
    if isinstance(value, float) and not math.isfinite(value):
        return "nan" if math.isnan(value) else f"{'-' if value < 0 else ''}inf"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{key_of(k)} = {value_of(v)}' for k, v in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(value_of, value))}]"
    raise TypeError(f"TOML has no {type(value).__name__}")


def places(values: Any, path: Path = ()) -> Iterator[Path]:
    """The way to every value, tables and arrays included, in the order of the file."""
    if path:
        yield path
    entries = values.items() if isinstance(values, dict) else ()
    entries = enumerate(values) if isinstance(values, list) else entries
    for key, value in entries:
        yield from places(value, (*path, key))


def at(values: Any, path: Path) -> Any:
    """What stands at a place."""
    for key in path:
        values = values[key]
    return values


def put(values: Any, path: Path, value: Any) -> None:
    """Put a value at a place that is there, or a new key of a table that is."""
    at(values, path[:-1])[path[-1]] = value
