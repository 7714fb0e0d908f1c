"""The pages that are made from the models: every key of a scenario, every limit.

``python -m lugwright.guide.key_tables FOLDER`` writes them anew; a test holds the shipped pages to
what this module makes.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from lugwright.limits.built_in import RULE_SETS
from lugwright.limits.defaults import built_in
from lugwright.limits.explain import limit_rows
from lugwright.limits.spec_rows import SPECS
from lugwright.scenario.json_schema import scenario_schema

_FRACTION = re.compile(r"[0-9]+/[0-9]+")  # of a millimetre: only lengths are kept so
KEYS_PAGE = "scenario-file.md"
LIMITS_PAGE = "limits.md"

_KEYS_HEAD = """# The scenario file, key by key

One TOML file describes one console. Cut-outs, entries and tie points are given as seen from the
**front**, as they are drilled; posts on an instrument as seen from the **back**, relative to its
centre, as they are read. The program does the mirroring.

Lengths are written `"52 mm"`, `"2 1/16 in"`, `"3-3/8 in"` or `"6 m"`; currents `"0.25 A"` or
`"120 mA"`; wire sizes `"16 AWG"` or `"1.5 mm2"`; a post is named `"fuel.ground"`. What is wrong in
a file is told at once, all of it, with line and column.
"""
_LIMITS_HEAD = """# Limits, by what they are about

A limit is one line of a rule set. `lugwright limits` prints those in force, each with its value,
where it was set and the published source behind it; `lugwright limits SCENARIO` those of a console.
Set one for a run with `--set 'NAME = VALUE'`, for a console in its `[limits]`, for a shop in the
shop's limits file. The columns show the built-in rule sets; `tighter` says which way is the safer
one, where one is.
"""
_GROUPS = {
    "lengths": "Lengths, slack and clearances",
    "panel": "The panel",
    "barrels": "Barrels and fittings",
    "studs": "Studs, tabs and leads",
    "electricity": "Electricity",
    "hub": "Hub, trees and splices",
    "time": "Minutes",
    "money": "Money",
    "objective": "What is made least",
}


@dataclass(frozen=True)
class _Table:
    """One table of keys: its heading, what it is, and the schema of its keys."""

    heading: str
    about: str
    schema: Mapping[str, Any]


def keys_page() -> str:
    """Every key and table of a scenario, from its JSON Schema."""
    schema = scenario_schema()
    parts = [_KEYS_HEAD]
    for table in _tables(schema):
        parts.append(f"## {table.heading}\n\n{table.about}\n\n{_key_rows(table.schema, schema)}")
    return "\n".join(parts)


def limits_page() -> str:
    """Every limit: what it means, and its value and source in each built-in rule set."""
    rows = {name: {row.name: row for row in limit_rows(built_in(name))} for name in RULE_SETS}
    parts = [_LIMITS_HEAD]
    for group in dict.fromkeys(spec.group for spec in SPECS):
        lines = [f"## {_GROUPS.get(group, group.capitalize())}\n"]
        for spec in (spec for spec in SPECS if spec.group == group):
            lines.append(f"**`{spec.name}`**  {spec.meaning}")
            for rule_set in RULE_SETS:
                row = rows[rule_set][spec.name]
                lines.append(f"- {rule_set}: {row.value} ({row.source})")
            lines.append(f"- tighter: {spec.tighter}\n")
        parts.append("\n".join(lines))
    return "\n".join(parts)


def _tables(schema: Mapping[str, Any]) -> Iterator[_Table]:
    """The tables in the order in which they are met from the top of the file."""
    seen: set[str] = set()
    waiting = [("The top of the file", "", schema)]
    while waiting:
        heading, path, part = waiting.pop(0)
        yield _Table(heading, part.get("description", ""), part)
        inner = []
        for key, value in part["properties"].items():
            for name, many in _parts_of(value):
                if name not in seen:
                    seen.add(name)
                    inner.append((*_named(path, key, many), schema["$defs"][name]))
            written_out = value.get("items", {})
            if "properties" in written_out:
                about = {"description": value.get("description", "")}
                inner.append((*_named(path, key, "list"), {**about, **written_out}))
        waiting = inner + waiting


def _named(path: str, key: str, many: str) -> tuple[str, str]:
    """Heading and path of a table met under a key."""
    if not path:
        written = {"list": f"[[{key}]]", "one": f"[{key}]", "named": f"[{key}.NAME]"}[many]
        return f"`{written}`", key
    written = {"list": f"{key} = [{{ … }}]", "one": f"{key} = {{ … }}"}.get(
        many, f"{key}.NAME = {{ … }}"
    )
    return f"`{written}` in `{path}`", f"{path}, {key}"


def _parts_of(value: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """The parts a key's value refers to, and whether it is one, a list or named ones."""
    if "$ref" in value:
        yield value["$ref"].rpartition("/")[2], "one"
    for each in value.get("anyOf", ()):
        yield from _parts_of(each)
    for inner, many in (("items", "list"), ("additionalProperties", "named")):
        if isinstance(value.get(inner), dict):
            yield from ((name, many) for name, _ in _parts_of(value[inner]))


def _key_rows(part: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    """The keys of a table as a Markdown table."""
    required = set(part.get("required", ()))
    lines = ["| key | write | left out | meaning |", "| --- | --- | --- | --- |"]
    for key, value in part["properties"].items():
        absent = "must be stated" if key in required else _default(value)
        about = " ".join(str(value.get("description", "")).split())
        lines.append(f"| `{key}` | {_written(value)} | {absent} | {about.replace('|', '/')} |")
    return "\n".join(lines) + "\n"


def _default(value: Mapping[str, Any]) -> str:
    """What holds where a key is left out, in words."""
    default = value.get("default")
    if default is None or default == "" or isinstance(default, list | dict):
        return "–"
    if _FRACTION.fullmatch(str(default)):
        return f"{float(Fraction(default)):g} mm"
    return {"True": "true", "False": "false"}.get(str(default), f"{default}")


def _written(value: Mapping[str, Any]) -> str:
    """How a value is written, from its schema."""
    if "anyOf" in value:
        return " or ".join(
            dict.fromkeys(_written(x) for x in value["anyOf"] if x != {"type": "null"})
        )
    if "enum" in value:
        return ", ".join(f"`{choice}`" for choice in value["enum"])
    if "const" in value:
        return f"`{value['const']}`"
    if "$ref" in value:
        return "table"
    kind = value.get("type")
    if kind == "array":
        return _list_written(value)
    if kind == "object":
        return "table of named values"
    if kind == "string":
        examples = value.get("examples")
        return ", ".join(f'`"{x}"`' for x in examples[:2]) if examples else "text"
    return {"boolean": "`true`, `false`", "integer": "whole number", "number": "number"}.get(
        str(kind), "any"
    )


def _list_written(value: Mapping[str, Any]) -> str:
    """How a list is written: a pair of places, or any number of one kind."""
    pair = value.get("prefixItems")
    if pair:
        return "[" + ", ".join(_one_way(each) for each in pair) + "]"
    each = value.get("items", {})
    return (
        "list of tables" if "$ref" in each or "properties" in each else f"list of {_written(each)}"
    )


def _one_way(value: Mapping[str, Any]) -> str:
    """How a value in a pair is written, by one example."""
    written = _written(value)
    return written if written.startswith("[") else written.split(", `")[0]


PAGES = {KEYS_PAGE: keys_page, LIMITS_PAGE: limits_page}


def write_pages(folder: Path) -> None:
    """Write the made pages into a folder."""
    for name, make in PAGES.items():
        (folder / name).write_text(make(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write_pages(Path(sys.argv[1]))
