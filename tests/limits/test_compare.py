"""Which of two values of a limit is the looser one."""

from __future__ import annotations

import pytest

from lugwright.electrics.ampacity import bundle_factor_permille
from lugwright.limits.compare import loosens
from lugwright.limits.spec_rows import BUNDLE_RULES, SPEC_BY_NAME, SPECS
from lugwright.limits.values import parse_value

PAIRS = [
    # limit, looser, tighter
    ("lugs_per_stud", 5, 4),
    ("drop_other", "10 %", "3 %"),
    ("showing_thread", "1", "1.5"),
    ("minimum_size", "18 AWG", "16 AWG"),
    ("minimum_size", "none", "0.75 mm2"),
    ("ground_shift", "off", "0.05 V"),
    ("ground_shift", "0.06 V", "0.05 V"),
    ("splices", True, False),
    ("one_hub", False, True),
    ("lock_washer", False, True),
    ("stud_kinds", ["ring", "captive spade", "plain spade"], ["ring"]),
    ("stud_count", "lugs", "conductors"),
    ("lamp_take_off", "any", "landing"),
    ("fuse_distance", "8 in", "7 in"),
    ("conductor_temperature", "50 C", "75 C"),
    ("off_loom_conductors", 1, 2),
    ("bundle_rule", "none", "e11-dc"),
    ("bundle_rule", "iso-13297", "e11-ac"),
]


@pytest.mark.parametrize(("name", "loose", "tight"), PAIRS)
def test_the_looser_of_two(name: str, loose: object, tight: object) -> None:
    """The one that allows more loosens the other, and not the other way round."""
    spec = SPEC_BY_NAME[name]
    one, other = parse_value(spec, loose), parse_value(spec, tight)
    assert (loosens(spec, one, other), loosens(spec, other, one)) == (True, False)


@pytest.mark.parametrize("spec", SPECS, ids=lambda spec: spec.name)
def test_nothing_loosens_itself(spec) -> None:  # type: ignore[no-untyped-def]
    """Setting a limit to what it is already changes nothing."""
    value = spec.choices[0] if spec.choices else spec.least
    assert loosens(spec, value, value) is False


@pytest.mark.parametrize("name", ["slack", "cut_step", "objective", "lug_worth", "currency"])
def test_without_a_direction_every_change_is_a_loosening(name: str) -> None:
    """Where neither side is the safer one, a limit that is held stays where it is."""
    spec = SPEC_BY_NAME[name]
    values = {"objective": ("shortest", "cheapest"), "currency": ("EUR", "USD")}.get(name, (3, 4))
    assert loosens(spec, *values) and loosens(spec, *reversed(values))


def test_kinds_that_only_differ_are_looser_both_ways() -> None:
    """A list that lacks one kind and has another allows something the other does not."""
    spec = SPEC_BY_NAME["stud_kinds"]
    assert loosens(spec, ("ring",), ("captive spade",))
    assert loosens(spec, ("captive spade",), ("ring",))


@pytest.mark.parametrize("one", BUNDLE_RULES)
@pytest.mark.parametrize("other", BUNDLE_RULES)
def test_bundle_rules_compare_by_their_factors(one: str, other: str) -> None:
    """A rule is looser where it leaves more for any number of wires, of the first sixty."""
    more = any(
        bundle_factor_permille(one, n) > bundle_factor_permille(other, n) for n in range(1, 61)
    )
    assert loosens(SPEC_BY_NAME["bundle_rule"], one, other) is more
