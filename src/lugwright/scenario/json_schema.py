"""The JSON Schema of a scenario, for editors that complete and check while one types."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from lugwright.limits.explain import limits_json_schema, waivers_schema
from lugwright.scenario.field_notes import add_notes
from lugwright.scenario.fields import Part
from lugwright.scenario.library import pattern_names
from lugwright.scenario.schema import ScenarioPart

SCHEMA_FILE = "scenario.schema.json"
OF_A_FILE = ("title", "rule_set", "shop")  # keys of a limits file, not of a scenario's limits


def _parts(base: type[Part]) -> Iterator[type[Part]]:
    """Every kind of part, those that build on another among them."""
    for model in base.__subclasses__():
        yield model
        yield from _parts(model)


def scenario_schema() -> dict[str, Any]:
    """The schema (draft 2020-12), generated from the models and the table of limits.

    It lists the library's pattern names as examples.
    """
    schema = ScenarioPart.model_json_schema()
    add_notes(schema, ScenarioPart)
    for model in _parts(Part):
        if model.__name__ in schema["$defs"]:
            add_notes(schema["$defs"][model.__name__], model)
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "Lugwright scenario"
    pattern = schema["$defs"]["InstrumentPart"]["properties"]["pattern"]
    pattern["examples"] = list(pattern_names())
    limits = limits_json_schema()
    schema["properties"]["limits"] = {
        "type": "object",
        "description": schema["properties"]["limits"]["description"],
        "properties": {k: v for k, v in limits["properties"].items() if k not in OF_A_FILE},
        "additionalProperties": False,
    }
    schema["properties"]["waiver"] = waivers_schema()
    return schema


def schema_text() -> str:
    """The schema as it is written: sorted keys, one fact a line."""
    return json.dumps(scenario_schema(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def write_schema_beside(scenario: str | Path) -> Path:
    """Write ``scenario.schema.json`` into the folder of a scenario file; returns its path.

    Raises OSError where the folder cannot be written to.
    """
    target = Path(scenario).parent / SCHEMA_FILE
    target.write_text(schema_text(), encoding="utf-8", newline="\n")
    return target
