"""What a limits file or a setting may not say, and what the reader is told."""

from __future__ import annotations

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.limits.resolve import resolve_limits

REFUSED = [
    # what is written, line, column, field, part of the message, part of the hint
    ("[lengths]\nslak = '5 %'", 2, 1, "lengths, slak", "there is no such limit", 'mean "slack"?'),
    ("lugs_per_studd = 4", 1, 1, "lugs_per_studd", "no such limit", 'mean "lugs_per_stud"?'),
    ("[lenghts]\nslack = '5 %'", 1, 2, "lenghts", "no such limit", 'mean "lengths"?'),
    ("[hub]\nzzzz = 1", 2, 1, "hub, zzzz", "no such limit", "[hub] holds: one_hub,"),
    ("zzzz = 1", 1, 1, "zzzz", "no such limit", "`lugwright limits` lists them all"),
    ("[hub]\nslack = '5 %'", 2, 1, "hub, slack", "another group", "move it to [lengths]"),
    ("slack = '5 mm'", 1, 9, "slack", 'unit "mm" is not known here', ""),
    ("slack = 5", 1, 9, "slack", "5 has no unit", 'write it like "5 %"'),
    ("slack = nan", 1, 9, "slack", "nan is not a number", '"5 %"'),
    ("size_ratio = nan", 1, 14, "size_ratio", "nan is not a number", "4"),
    ("size_ratio = inf", 1, 14, "size_ratio", "inf is not a number", "4"),
    ("slack = true", 1, 9, "slack", "true is not a share", '"5 %"'),
    ("slack = '101 %'", 1, 9, "slack", "101 % is outside", "allowed: 0 % to 100 %"),
    ("cut_step = '0 mm'", 1, 12, "cut_step", "0 mm is outside", "allowed: 0.1 mm to 100 mm"),
    ("clearance = '-1 mm'", 1, 13, "clearance", "must not be negative", ""),
    ("end_allowance = '1,5 mm'", 1, 17, "end_allowance", "not a comma", ""),
    ("[studs]\nlugs_per_stud = 0", 2, 17, "studs, lugs_per_stud", "0 is outside", "1 to 20"),
    ("lugs_per_stud = 4.0", 1, 17, "lugs_per_stud", "4.0 is not a whole number", "1 to 20"),
    ("lugs_per_stud = true", 1, 17, "lugs_per_stud", "true is not a whole number", ""),
    (
        "stud_count = 'lug'",
        1,
        14,
        "stud_count",
        '"lug" is not one of',
        'mean "lugs"? allowed: lugs,',
    ),
    ("stud_count = 4", 1, 14, "stud_count", "4 is not one of lugs, conductors", ""),
    ("stud_kinds = []", 1, 14, "stud_kinds", "empty list leaves no kind", "allowed: ring"),
    ("stud_kinds = ['rin']", 1, 14, "stud_kinds", '"rin" is not one of', 'did you mean "ring"?'),
    ("stud_kinds = [1]", 1, 14, "stud_kinds", "a list is not a list of kinds", ""),
    ("one_hub = 'perhaps'", 1, 11, "one_hub", '"perhaps" is not yes or no', "true or false"),
    ("one_hub = 1", 1, 11, "one_hub", "1 is not yes or no", "true or false"),
    ("conductor_temperature = '50 F'", 1, 25, "conductor_temperature", "not whole degrees", ""),
    ("conductor_temperature = '900 C'", 1, 25, "conductor_temperature", "outside", "0 C to 200 C"),
    ("ground_shift = '0 V'", 1, 16, "ground_shift", "0 V is outside", "off, or 0.001 V"),
    ("ground_shift = 'none'", 1, 16, "ground_shift", "not a number", 'or "off"'),
    ("minimum_size = '16'", 1, 16, "minimum_size", "a size needs its system", 'or "none"'),
    ("minimum_size = 16", 1, 16, "minimum_size", "16 is not a wire size", '"16 AWG"'),
    ("currency = 'E,R'", 1, 12, "currency", "is not a currency", '"EUR"'),
    ("size_ratio = 1.2345", 1, 14, "size_ratio", "more than three decimals", ""),
    ("weights = 3", 1, 11, "weights", "has parts", "length, stacked, fittings, money"),
    ("lengths = 3", 1, 11, "lengths", "a group of limits", "write [lengths]"),
    ("slack = { val = '5 %' }", 1, 9, "slack", "one value", "{ value = ..., source"),
    ("slack = { value = 5 }", 1, 19, "slack", "5 has no unit", ""),
    ("slack = { value = '5 %', source = 1 }", 1, 9, "slack", "one value", ""),
    ("slack = '5 %'\n[lengths]\nslack = '6 %'", 3, 1, "lengths, slack", "set twice", "keep one"),
    (
        "rule_set = 'strickt'",
        1,
        12,
        "rule_set",
        "not a built-in",
        'mean "strict"? built-in: usual,',
    ),
    (
        "rule_set = 3",
        1,
        12,
        "rule_set",
        '"3" is not a built-in rule set',
        "built-in: usual, strict",
    ),
]


@pytest.mark.parametrize(("text", "line", "column", "field", "message", "hint"), REFUSED)
def test_refused_in_a_file(
    text: str, line: int, column: int, field: str, message: str, hint: str
) -> None:
    """Each fault is told with file, line, column, field, what is wrong and what is allowed."""
    with pytest.raises(BadInput) as bad:
        resolve_limits("", parse_toml(text.encode(), "shop.toml"), None, ())
    (told,) = bad.value.complaints
    assert (told.file, told.line, told.column, told.field) == ("shop.toml", line, column, field)
    assert message in told.message
    assert hint in told.hint


SETTINGS = [
    # setting, field, part of the message, part of the hint
    ("lugs_per_stud", "lugs_per_stud", "this is not NAME=VALUE", "lugs_per_stud=5"),
    ("=5", "", "there is no such limit", "lists them all"),
    ("slak=5 %", "slak", "there is no such limit", 'did you mean "slack"?'),
    ("slack=", "slack", "nothing is written", ""),
    ("slack=5", "slack", "a number needs its unit", ""),
    ("lugs_per_stud=nan", "lugs_per_stud", '"nan" is not a whole number', "allowed: 1 to 20"),
    ("lugs_per_stud=999", "lugs_per_stud", "999 is outside", "allowed: 1 to 20"),
    ("size_ratio=nan", "size_ratio", '"nan" is not a plain number', "allowed: 1:1 to 100:1"),
    ("weights=3", "weights", "this limit has parts", "weights.length, weights.stacked"),
    (
        "minutes_landing.ring=1 min",
        "minutes_landing.ring",
        "has parts",
        "minutes_landing.ring.aboard",
    ),
]


@pytest.mark.parametrize(("setting", "field", "message", "hint"), SETTINGS)
def test_refused_on_the_command_line(setting: str, field: str, message: str, hint: str) -> None:
    """A setting's fault names the limit; it has no line."""
    with pytest.raises(BadInput) as bad:
        resolve_limits("", None, None, (setting,))
    (told,) = bad.value.complaints
    assert (told.file, told.line, told.field) == ("command line", 0, field)
    assert message in told.message
    assert hint in told.hint


def test_one_limit_is_set_once_on_the_command_line() -> None:
    """Two values for one limit are not guessed between."""
    with pytest.raises(BadInput, match="slack: this limit is set twice"):
        resolve_limits("", None, None, ("slack=3 %", "slack=4 %"))


def test_every_fault_of_every_layer_is_told_at_once() -> None:
    """One run shows all there is to mend: rule set, file, scenario and settings."""
    toml = parse_toml(b"[lengths]\nslak = 1\nslack = 5", "shop.toml")
    table = parse_toml(b"[limits.hub]\nsplices = 'maybe'", "skiff.toml")
    with pytest.raises(BadInput) as bad:
        resolve_limits("nobody", toml, (table.values["limits"], table), ("cut_step=1",))
    places = [(told.file, told.line, told.field) for told in bad.value.complaints]
    assert places == [
        ("command line", 0, "rule_set"),
        ("shop.toml", 2, "lengths, slak"),
        ("shop.toml", 3, "lengths, slack"),
        ("skiff.toml", 2, "limits, hub, splices"),
        ("command line", 0, "cut_step"),
    ]


def test_a_scenario_table_has_no_practice_inside() -> None:
    """A scenario names its rule set beside its limits, not among them."""
    table = parse_toml(b"[limits]\nrule_set = 'strict'", "skiff.toml")
    with pytest.raises(BadInput, match=r"skiff\.toml:2:1: limits, rule_set: there is no such"):
        resolve_limits("", None, (table.values["limits"], table), ())
