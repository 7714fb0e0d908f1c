"""Faults found while reading, as complaints in the reader's words.

Every complaint names file, line and column, the field in the trade's words, what is wrong, and
the way out: what is allowed, or the nearest spelling.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from lugwright.base.errors import Complaint
from lugwright.base.spelling import did_you_mean
from lugwright.base.toml import KeyPath, TomlFile
from lugwright.scenario.field_notes import field_notes
from lugwright.scenario.left_out import LATER_KEYS, LEFT_OUT, cannot_be_said

DID_YOU_MEAN = "did you mean"
NOT_SAYABLE = (
    "a key, switch, fuse block, breaker or dimmer says what it passes on: positions = "
    '["off", "on"] and ways = [{ from = "in", to = ["out"], kind = "switch", closed = ["on"] }], '
    'and each circuit behind it supplied_by = "NAME.out"; a relay or what else stands there: '
    f'{LEFT_OUT}, with "spare" at every post it feeds'
)

_SINGULAR = {
    "instrument": "instrument",
    "boat_wires": "boat wires",
    "harness": "harness",
    "wires": "wire",
    "pigtails": "pigtail",
    "circuit": "circuit",
    "keep_out": "keep-out",
    "tie_point": "tie point",
    "strap": "strap",
    "hold": "hold",
    "loads": "load",
    "corners": "corner",
    "ways": "way",
    "holes": "hole",
    "screws": "screw",
}
_PLACES = ("at", "centre", "entry", "corners")

# what pydantic calls a wrong type, in the words of someone writing TOML
_WANTED = {
    "string_type": "write it as text in quotes",
    "bool_type": "write true or false, without quotes",
    "int_type": "write a whole number, without quotes",
    "tuple_type": "write a list in square brackets",
    "dict_type": "write a table, as in { name = value }",
    "model_type": "write a table, as in { key = value }",
    "model_attributes_type": "write a table, as in { key = value }",
}


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint: the nearest known spelling, or else what is known (at most a dozen)."""
    names = sorted(set(known))
    listed = ", ".join(f'"{name}"' for name in names[:12])
    every = f"known: {listed}{' and others' if len(names) > 12 else ''}"
    return did_you_mean(word, names, every if names else "")


def field_words(path: KeyPath, values: Any) -> str:
    """A key path in words: ``instrument "fuel", centre, x``. ``values`` is the file's content."""
    words: list[str] = []
    node: Any = values
    for position, key in enumerate(path):
        parent = path[position - 1] if position else ""
        following = path[position + 1] if position + 1 < len(path) else None
        node = _step(node, key)
        if parent == "harness" and isinstance(key, int):
            if _has_several_harnesses(values):
                words.append(_element_words(path[:position], key, node))
            continue  # one harness needs no name
        if key == "harness" and ("pigtails" in path[2:3] or _has_several_harnesses(values)):
            continue  # the pigtail names itself, or the harness does
        if isinstance(key, int):
            words.append(_element_words(path[:position], key, node))
        elif isinstance(following, int) and key in _SINGULAR and key != "harness":
            continue  # the element names itself
        elif key == "posts" and following is not None:
            continue
        elif parent == "posts":
            words.append(f'post "{key}"')
        else:
            words.append(str(key))
    return ", ".join(words)


def _has_several_harnesses(values: Any) -> bool:
    written = values.get("harness") if isinstance(values, dict) else None
    return isinstance(written, list) and len(written) > 1


def _element_words(parents: KeyPath, index: int, node: Any) -> str:
    parent = parents[-1] if parents else ""
    if isinstance(parent, int):  # a corner of a keep-out: its own two coordinates
        return "xy"[index] if index < 2 else f"entry {index + 1}"
    if parent in _PLACES and parent != "corners":
        return "xy"[index] if index < 2 else f"entry {index + 1}"
    singular = _SINGULAR.get(parent, "entry")
    if isinstance(node, dict):
        for key in ("name", "label", "circuit"):
            name = node.get(key)
            if isinstance(name, str) and name.isprintable():
                return f'{singular} "{name[:40]}"'
    return f"{singular} {index + 1}"


def _step(node: Any, key: str | int) -> Any:
    try:
        return node[key]
    except (KeyError, IndexError, TypeError):
        return None


def from_validation(
    error: ValidationError, toml: TomlFile, model: type[BaseModel]
) -> list[Complaint]:
    """Every fault pydantic found in a file, in the order it found them."""
    details = error.errors(include_url=False)
    return [
        _complaint(detail, toml, model)
        for detail in details
        if not (detail["type"] == "too_short" and _has_faults_inside(detail, details))
    ]


def _has_faults_inside(detail: ErrorDetails, details: list[ErrorDetails]) -> bool:
    """A list is too short only because its records are at fault: that is said at the records."""
    path = error_path(detail)
    return any(error_path(d)[: len(path)] == path and error_path(d) != path for d in details)


def error_path(detail: ErrorDetails) -> KeyPath:
    """Where in the file's values a fault lies."""
    return tuple(part for part in detail["loc"] if part != "[key]")


def _complaint(detail: ErrorDetails, toml: TomlFile, model: type[BaseModel]) -> Complaint:
    path = error_path(detail)
    fault = detail["type"]
    if fault in ("missing", "extra_forbidden"):
        parent, key = path[:-1], path[-1]
        words = field_words(parent, toml.values)
        if fault == "extra_forbidden":
            if key in LATER_KEYS:
                message = f'"{key}": {cannot_be_said(LATER_KEYS[str(key)])}'
                return toml.complaint(path, words, message, at_key=True)
            hint = nearest(str(key), _allowed_keys(model, parent))
            message = f'unknown key "{key}"'
            return toml.complaint(path, words, message, hint, at_key=True)
        if isinstance(key, int):
            message = "two coordinates are wanted, [x, y]"
            return toml.complaint(parent, words, message)
        hint = _description(model, parent, str(key))
        return toml.complaint(parent, words, f'"{key}" is missing', hint, at_key=True)
    message, hint = _message(detail)
    at_key = "[key]" in detail["loc"]
    return toml.complaint(path, field_words(path, toml.values), message, hint, at_key=at_key)


def _message(detail: ErrorDetails) -> tuple[str, str]:
    fault, context, given = detail["type"], detail.get("ctx", {}), detail["input"]
    if fault == "value_error":
        return str(context["error"]), ""
    if fault == "literal_error":
        allowed = [word.strip("'") for word in _split_expected(str(context["expected"]))]
        return f"{_shown(given)} is not known here", nearest(str(given), allowed)
    if fault in _WANTED:
        return f"{_WANTED[fault]} (got {_shown(given)})", ""
    limits: dict[str, Callable[[], str]] = {
        "too_short": lambda: f"at least {context['min_length']} is needed",
        "too_long": lambda: _too_many(detail),
        "string_too_short": lambda: "must not be empty text",
        "string_too_long": lambda: f"at most {context['max_length']} characters",
        "greater_than_equal": lambda: f"at least {context['ge']} (got {_shown(given)})",
        "less_than_equal": lambda: f"at most {context['le']} (got {_shown(given)})",
    }
    return (limits[fault]() if fault in limits else detail["msg"]), ""


def _too_many(detail: ErrorDetails) -> str:
    most = detail.get("ctx", {}).get("max_length")
    if detail["loc"][-1] == "corners":
        return "two corners are wanted, [[x, y], [x, y]]"
    return "two coordinates are wanted, [x, y]" if most == 2 else f"at most {most} entries"


def _split_expected(expected: str) -> list[str]:
    return expected.replace(" or ", ", ").split(", ")


def _shown(given: Any) -> str:
    text = f'"{given}"' if isinstance(given, str) and given.isprintable() else repr(given)
    return text if len(text) <= 42 else f"{text[:40]}..."


def _allowed_keys(model: type[BaseModel], parent: KeyPath) -> list[str]:
    found = _model_at(model, parent)
    fields = found.model_fields if found else {}
    return [field.alias or name for name, field in fields.items()]


def _description(model: type[BaseModel], parent: KeyPath, key: str) -> str:
    found = _model_at(model, parent)
    if found is None:
        return ""
    names = {field.alias or name: name for name, field in found.model_fields.items()}
    return " ".join(field_notes(found).get(names.get(key, ""), "").split()).rstrip(".")


def _model_at(model: type[BaseModel], path: KeyPath) -> type[BaseModel] | None:
    """The pydantic model that reads the table at ``path``."""
    kind: Any = model
    for key in path:
        kind = _bare(kind)
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            if key not in kind.model_fields:
                return None
            kind = kind.model_fields[str(key)].annotation
        else:  # tuple[X, ...] or dict[str, X]
            arguments = [part for part in get_args(kind) if part is not Ellipsis]
            if not arguments:
                return None
            kind = arguments[-1]
    kind = _bare(kind)
    return kind if isinstance(kind, type) and issubclass(kind, BaseModel) else None


def _bare(kind: Any) -> Any:
    while get_origin(kind) in (Annotated, Union, UnionType):
        kind = next(part for part in get_args(kind) if part is not type(None))
    return kind
