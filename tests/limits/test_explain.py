"""Limits as rows to print, and a limits file's layout as JSON Schema."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from support.limits import plain_limits

from lugwright.limits.built_in import rule_set_file
from lugwright.limits.defaults import built_in
from lugwright.limits.explain import limit_rows, limits_json_schema
from lugwright.limits.resolve import resolve_limits
from lugwright.limits.spec import GROUPS
from lugwright.limits.spec_rows import SPECS


def test_one_row_for_every_limit_in_order() -> None:
    """Every limit is listed once, group after group."""
    rows = limit_rows(built_in())
    assert [row.name for row in rows] == [spec.name for spec in SPECS]
    assert tuple(dict.fromkeys(row.group for row in rows)) == GROUPS


def test_a_row_says_all_there_is_to_know() -> None:
    """Value, unit, meaning, range, origin, source and what was replaced, in words."""
    limits = resolve_limits("strict", None, None, ("lugs_per_stud=5",))
    row = next(row for row in limit_rows(limits) if row.name == "lugs_per_stud")
    assert row.value == "5"
    assert row.unit == "count"
    assert row.allowed == "1 to 20"
    assert row.origin == "command line"
    assert row.source == "no source given"
    assert row.meaning == "Most lugs (or conductors) on one stud."
    assert row.replaced.startswith("3 (built-in rule set, strict.toml:")
    assert ", 4 (built-in rule set, usual.toml:" in row.replaced


def test_values_of_parts_and_sizes() -> None:
    """A part of a table and a wire size print like any other limit."""
    values = {row.name: row.value for row in limit_rows(built_in())}
    assert values["minutes_landing.captive spade.aboard"] == "1 min"
    assert values["minimum_size"] == "16 AWG"
    assert values["ground_shift"] == "off"
    assert values["rate"] == "60 per hour"


def test_limits_without_origins_name_their_practice() -> None:
    """Limits made by hand still print, with the rule set's name as their origin."""
    rows = limit_rows(plain_limits())
    assert {row.origin for row in rows} == {"built-in rule set, plain"}


def test_rows_follow_the_value_and_not_the_origin() -> None:
    """A row prints what is in force, whatever its origin says."""
    changed = replace(built_in(), cut_step_dmm=7, origins=MappingProxyType({}))
    row = next(row for row in limit_rows(changed) if row.name == "cut_step")
    assert row.value == "0.7 mm"


def test_the_schema_knows_every_limit_in_its_group_and_plainly() -> None:
    """What the reader accepts, the schema accepts: grouped and plain, and nothing else."""
    schema = limits_json_schema()
    assert schema["additionalProperties"] is False
    top = schema["properties"]
    for spec in SPECS:
        group = top[spec.group]
        table = group["anyOf"][0] if "anyOf" in group else group
        for part in spec.path[:-1]:
            table = table["properties"][part]
        assert spec.meaning in table["properties"][spec.path[-1]]["description"]
        assert spec.path[0] in top


def test_the_schema_covers_the_built_in_files() -> None:
    """Every key of the built-in rule sets is one the schema knows."""
    top = limits_json_schema()["properties"]
    for rule_set in ("usual", "strict"):
        assert set(rule_set_file(rule_set).values) <= set(top)
