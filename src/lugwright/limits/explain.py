"""The limits in force as rows to print, and the layout of a limits file as JSON Schema."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lugwright.limits.built_in import BUILT_IN, RULE_SETS
from lugwright.limits.schema import Limits
from lugwright.limits.spec import GROUPS, LimitSpec, SizeValue, Unit, Value
from lugwright.limits.spec_rows import SPEC_BY_NAME, SPECS
from lugwright.limits.values import HOW_TO_WRITE, range_text, value_text
from lugwright.limits.waivable import WAIVABLE

SCHEMA_DIALECT = "https://json-schema.org/draft/2020-12/schema"


@dataclass(frozen=True)
class LimitRow:
    """One limit in force, in words.

    ``origin`` says which layer, file and line set it, ``on_paper`` the same without the line;
    ``source`` the published source of the value; ``replaced`` what it took the place of, the
    nearest layer first ("" when nothing).
    ``allowed`` is what the limit may be, ``shop`` how the shop holds it ("" where it is open).
    """

    name: str
    group: str
    value: str
    unit: str
    meaning: str
    allowed: str
    origin: str
    source: str
    replaced: str
    shop: str = ""
    on_paper: str = ""


@dataclass(frozen=True)
class WaiverRow:
    """One waiver, in words; ``instead_of`` is what counts everywhere else."""

    limit: str
    place: str
    value: str
    instead_of: str
    reason: str
    initials: str
    date: str
    origin: str


def limit_rows(limits: Limits) -> list[LimitRow]:
    """Every limit of a plan, in the order in which limits are always listed."""
    return [_row(spec, limits) for spec in SPECS]


def limit_value(spec: LimitSpec, limits: Limits) -> Value:
    """The value of one limit. Raises KeyError where a table field lacks that part."""
    value: Any = getattr(limits, spec.field)
    for key in spec.keys:
        value = value[key]
    if spec.unit is Unit.WIRE_SIZE:
        return SizeValue(limits.minimum_size, limits.minimum_area_um2)
    found: Value = value
    return found


def _row(spec: LimitSpec, limits: Limits) -> LimitRow:
    origin = limits.origins.get(spec.name)
    rule_set = f"{BUILT_IN}, {limits.rule_set}"
    return LimitRow(
        name=spec.name,
        group=spec.group,
        value=value_text(spec, limit_value(spec, limits)),
        unit=spec.unit.value,
        meaning=spec.meaning,
        allowed=range_text(spec),
        origin=str(origin) if origin else rule_set,
        source=origin.source if origin else "",
        replaced=origin.replaced if origin else "",
        shop=limits.locks[spec.name].words if spec.name in limits.locks else "",
        on_paper=origin.on_paper if origin else rule_set,
    )


def waiver_rows(limits: Limits) -> list[WaiverRow]:
    """Every waiver of a scenario, by limit and place."""
    return [
        WaiverRow(
            limit=waiver.limit,
            place=waiver.place,
            value=waiver.text,
            instead_of=value_text(waiver.spec, limit_value(waiver.spec, limits)),
            reason=waiver.reason,
            initials=waiver.initials,
            date=waiver.date,
            origin=str(waiver.origin),
        )
        for waiver in limits.waivers
    ]


def limits_json_schema() -> dict[str, Any]:
    """The layout of a limits file, as JSON Schema (draft 2020-12), made from the limits' rows.

    It also fits a scenario's ``[limits]`` table, whose keys are the same.
    """
    return {
        "$schema": SCHEMA_DIALECT,
        "title": "Limits of a shop",
        "type": "object",
        "properties": {
            "title": {"type": "string", "description": "What these limits are for."},
            "rule_set": {
                "enum": list(RULE_SETS),
                "description": "The built-in rule set these limits stand on.",
            },
            "shop": shop_schema(),
            **_plain_names(),
            **{group: _group_schema(group) for group in GROUPS},
        },
        "additionalProperties": False,
    }


def shop_schema() -> dict[str, Any]:
    """The layout of the ``[shop]`` table of a limits file."""
    words = [*SPEC_BY_NAME, *GROUPS]
    names = {"type": "array", "items": {"enum": sorted(dict.fromkeys(words))}}
    ends = {"type": "array", "minItems": 2, "maxItems": 2}
    waived = {"type": "array", "items": {"enum": list(WAIVABLE)}}
    return {
        "type": "object",
        "description": "What may be changed by whatever stands below this file.",
        "properties": {
            "extends": {"type": "string", "description": "Another limits file it stands on."},
            "rule_set": {"enum": list(RULE_SETS), "description": "No other may be chosen."},
            "tighten_only": {
                "anyOf": [{"const": "all"}, names],
                "description": "Limits that may only be tightened; all: but those under open.",
            },
            "open": {**names, "description": "Limits that may be loosened all the same."},
            "locked": {**names, "description": "Limits that may not be changed at all."},
            "range": {
                "type": "object",
                "description": "Least and most value of single limits.",
                "additionalProperties": {"anyOf": [ends, {"type": "object"}]},
            },
            "waivers": {
                "anyOf": [{"type": "boolean"}, waived],
                "description": "Whether a scenario may waive limits at a place, or which.",
            },
        },
        "additionalProperties": False,
    }


def waivers_schema() -> dict[str, Any]:
    """The layout of the waivers of a scenario."""
    line = {"type": "string", "minLength": 1, "maxLength": 200}
    keys = {
        "limit": {"enum": list(WAIVABLE), "description": "The limit that is loosened."},
        "place": {
            **line,
            "description": "Where: a post, a load, a circuit, a block of boat wires.",
        },
        "value": {"description": "The value that counts there; looser than everywhere else."},
        "reason": {**line, "description": "Why, in one line; printed on every sheet."},
        "initials": {"type": "string", "maxLength": 8, "description": "Who answers for it."},
        "date": {"type": "string", "description": "When it was given, like 2026-11-25."},
    }
    return {
        "type": "array",
        "description": "Limits loosened for one place each, on the record.",
        "items": {
            "type": "object",
            "properties": keys,
            "required": list(keys),
            "additionalProperties": False,
        },
    }


def _plain_names() -> dict[str, Any]:
    """Limits may stand plainly, without their group."""
    plain: dict[str, Any] = {}
    for group in GROUPS:
        plain.update(_nested(group))
    return plain


def _group_schema(group: str) -> dict[str, Any]:
    table: dict[str, Any] = {
        "type": "object",
        "properties": _nested(group),
        "additionalProperties": False,
    }
    inside = _nested(group).get(group)
    # one word is both a group and a limit in it: as a word it is the limit
    return {"anyOf": [table, inside]} if inside else table


def _nested(group: str) -> dict[str, Any]:
    """The limits of one group; a limit with parts is a table of them."""
    properties: dict[str, Any] = {}
    for spec in SPECS:
        if spec.group != group:
            continue
        inside = properties
        for part in spec.path[:-1]:
            table = inside.setdefault(
                part, {"type": "object", "properties": {}, "additionalProperties": False}
            )
            inside = table["properties"]
        inside[spec.path[-1]] = _limit_schema(spec)
    return properties


def _limit_schema(spec: LimitSpec) -> dict[str, Any]:
    value = _value_schema(spec)
    with_source = {
        "type": "object",
        "properties": {"value": value, "source": {"type": "string"}},
        "required": ["value"],
        "additionalProperties": False,
    }
    return {
        "description": f"{spec.meaning} Write it like {HOW_TO_WRITE[spec.unit]}; "
        f"allowed: {range_text(spec)}.",
        "anyOf": [value, with_source],
    }


def _value_schema(spec: LimitSpec) -> Mapping[str, Any]:
    if spec.unit is Unit.COUNT:
        return {"type": "integer", "minimum": spec.least, "maximum": spec.most}
    if spec.unit in (Unit.RATIO, Unit.PITCHES):
        return {"type": "number", "minimum": spec.least / 1000, "maximum": spec.most / 1000}
    if spec.unit is Unit.FLAG:
        return {"type": "boolean"}
    if spec.unit is Unit.CHOICE:
        return {"enum": list(spec.choices)}
    if spec.unit is Unit.LENGTHS:
        lengths = {"type": "array", "items": {"type": "string"}, "minItems": 1}
        return {"anyOf": [lengths, {"type": "string"}]}
    if spec.unit is Unit.KINDS:
        words = {"enum": list(spec.choices)}
        return {"type": "array", "items": words, "minItems": 1, "uniqueItems": True}
    return {"type": "string"}
