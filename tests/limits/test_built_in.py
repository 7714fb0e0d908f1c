"""The rule sets that come with the program."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from lugwright.base.errors import BadInput
from lugwright.limits.built_in import RULE_SETS, rule_set_file, rule_set_settings
from lugwright.limits.defaults import built_in
from lugwright.limits.explain import limit_value
from lugwright.limits.schema import Limits
from lugwright.limits.spec import LimitSpec, SizeValue, Value
from lugwright.limits.spec_rows import BUNDLE_RULES, SPEC_BY_NAME, SPECS


@pytest.mark.parametrize("rule_set", RULE_SETS)
def test_every_limit_has_a_value_and_a_source(rule_set: str) -> None:
    """A built-in value without a published source says so; none is silent."""
    settings = rule_set_settings(rule_set)
    assert set(settings) == set(SPEC_BY_NAME)
    for name, setting in settings.items():
        assert setting.origin.source not in ("", "no source given"), name
        assert setting.origin.line > 0, name


@pytest.mark.parametrize("rule_set", RULE_SETS)
def test_a_built_in_practice_gives_limits(rule_set: str) -> None:
    """Both load, under their own name."""
    assert built_in(rule_set).rule_set == rule_set


def test_an_unknown_practice_names_those_there_are() -> None:
    """The nearest name and all names."""
    with pytest.raises(BadInput, match=r"did you mean \"usual\"\? built-in: usual, strict"):
        built_in("usuall")


USUAL = [
    # limit as a field of Limits, value: the usual rule set as it is published or settled
    ("slack_permille", 50),
    ("end_allowance_dmm", 100),
    ("cut_step_dmm", 50),
    ("minimum_jumper_dmm", 800),
    ("splice_to_post_dmm", 750),
    ("support_distance_dmm", 4500),
    ("re_termination_dmm", 150),
    ("lugs_per_stud", 4),
    ("stud_kinds", ("ring", "captive spade")),
    ("drop_critical_permille", 30),
    ("drop_other_permille", 100),
    ("fuse_permille", 1500),
    ("load_permille", 800),
    ("fuse_distance_dmm", 1778),
    ("minimum_size", "16 AWG"),
    ("ground_shift_mv", None),
    ("rate_micro_per_hour", 60_000_000),
]


@pytest.mark.parametrize(("field", "value"), USUAL)
def test_usual_values(field: str, value: object) -> None:
    """What the published rules say, as integers."""
    assert getattr(built_in(), field) == value


# Where the standards differ: the limit, and the safer value taken (reference: conflicts table).
SAFER = {
    "lugs_per_stud": 3,  # MIL-DTL-917F against ABYC E-11
    "stud_count": "conductors",  # older E-11 wording and ISO against newer E-11
    "conductor_temperature": 75,  # NEC K = 12.9 against E-11 K = 10.75
    "stranding": 212,  # AC 43.13-1B Table 11-9 against solid bare wire
    "drop_other": 30,  # NEC note against E-11
    "off_loom_conductors": 2,  # E-11 counting of a pair against common practice
    "fuse_share": 1000,  # ISO and AC 43.13-1B against 33 CFR
    "load_share": 750,  # the lower end of fuse practice
}


def test_strict_takes_the_safer_side_and_touches_nothing_else() -> None:
    """The limits that differ from the usual rule set are those where the standards differ."""
    usual, strict = built_in(), built_in("strict")
    differing = {
        spec.name: limit_value(spec, strict)
        for spec in SPECS
        if limit_value(spec, strict) != limit_value(spec, usual)
    }
    assert differing == SAFER
    assert {name for name, row in strict.origins.items() if row.replaced} >= set(SAFER)


def _strictness(spec: LimitSpec, limits: Limits) -> int:
    """A number that is larger the stricter the limit is, by the direction its row states."""
    value: Value = limit_value(spec, limits)
    if isinstance(value, SizeValue):
        value = value.area_um2
    if spec.tighter == "listed":
        return spec.choices.index(str(value))
    if isinstance(value, tuple):
        value = len(value)
    if value is None:
        return -(10**12)
    return int(value) if spec.tighter == "more" else -int(value)


@pytest.mark.parametrize(
    "spec", [one for one in SPECS if one.tighter != "none"], ids=lambda one: one.name
)
def test_strict_is_never_looser_than_usual(spec: LimitSpec) -> None:
    """In every limit that has a safer direction, ``strict`` lies on that side or is equal."""
    assert _strictness(spec, built_in("strict")) >= _strictness(spec, built_in())


def test_every_difference_has_a_safer_direction() -> None:
    """A limit the strict set changes states which way is the safer one."""
    assert {name for name in SAFER if SPEC_BY_NAME[name].tighter == "none"} == set()


def test_strict_file_holds_only_differences() -> None:
    """What is equal in both is written once."""
    written = {
        name
        for name, setting in rule_set_settings("strict").items()
        if setting.origin.file == rule_set_file("strict").file
    }
    assert written == set(SAFER)


def test_bundle_rules_are_those_of_the_table() -> None:
    """Each rule set that may be named has its factors, and each with factors may be named."""
    table = files("lugwright.electrics").joinpath("tables", "bundle_factors.csv")
    rows = csv.DictReader(table.read_text(encoding="utf-8").splitlines())
    assert {row["rule"] for row in rows} == set(BUNDLE_RULES)
