"""One limit's value: text to integer and back."""

from __future__ import annotations

from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lugwright.base.scale import CMIL_TO_UM2
from lugwright.limits.schema import Limits
from lugwright.limits.spec import LimitSpec, SizeValue, Unit, Value, by_name
from lugwright.limits.spec_rows import SPEC_BY_NAME, SPECS
from lugwright.limits.values import NotAllowed, parse_value, smallest_area_um2, value_text

READINGS = [
    # limit, as written, value, as printed
    ("slack", "5 %", 50, "5 %"),
    ("slack", "2.5%", 25, "2.5 %"),
    ("end_allowance", "3/8 in", 95, "9.5 mm"),
    ("fuse_distance", "7 in", 1778, "177.8 mm"),
    ("lugs_per_stud", 4, 4, "4"),
    ("lugs_per_stud", "4", 4, "4"),
    ("size_ratio", 2.5, 2500, "2.5:1"),
    ("size_ratio", "4", 4000, "4:1"),
    ("showing_thread", 1, 1000, "1 pitch"),
    ("showing_thread", "1.5", 1500, "1.5 pitches"),
    ("one_hub", True, True, "yes"),
    ("one_hub", "no", False, "no"),
    ("lamp_take_off", "Any", "any", "any"),
    ("stud_kinds", ["captive spade", "ring"], ("ring", "captive spade"), "ring, captive spade"),
    ("stud_kinds", "ring", ("ring",), "ring"),
    ("conductor_temperature", "75 C", 75, "75 C"),
    ("conductor_temperature", "75 °C", 75, "75 C"),
    ("crimp_resistance", "0.0005 ohm", 500, "0.5 mohm"),
    ("ground_shift", "off", None, "off"),
    ("ground_shift", False, None, "off"),
    ("ground_shift", "50 mV", 50, "0.05 V"),
    ("minimum_size", "16awg", SizeValue("16 AWG", smallest_area_um2("16 AWG")), "16 AWG"),
    ("minimum_size", "1.5 mm2", SizeValue("1.5 mm2", 1_500_000), "1.5 mm2"),
    ("minimum_size", "none", SizeValue("none", 0), "none"),
    ("currency", "EUR", "EUR", "EUR"),
    ("rate", "62.50", 62_500_000, "62.5 per hour"),
    ("minutes_cut", "30 s", 50, "0.5 min"),
]


@pytest.mark.parametrize(("name", "written", "value", "printed"), READINGS)
def test_reading_and_printing(name: str, written: object, value: Value, printed: str) -> None:
    """What is written becomes the stated integer, and is printed in the limit's unit."""
    spec = SPEC_BY_NAME[name]
    found = parse_value(spec, written)
    assert found == value
    assert type(found) is type(value)
    assert value_text(spec, found) == printed


def _values(spec: LimitSpec) -> st.SearchStrategy[Value]:
    """Any value a limit may have."""
    if spec.unit is Unit.FLAG:
        return st.booleans()
    if spec.unit is Unit.CHOICE:
        return st.sampled_from(spec.choices)
    if spec.unit is Unit.KINDS:
        some = st.sets(st.sampled_from(spec.choices), min_size=1)
        return some.map(lambda kinds: tuple(one for one in spec.choices if one in kinds))
    if spec.unit is Unit.LENGTHS:
        lengths = st.sets(st.integers(spec.least, spec.most), max_size=6)
        return lengths.map(lambda found: tuple(sorted(found)))
    if spec.unit is Unit.CURRENCY:
        return st.sampled_from(["EUR", "USD", "€"])
    if spec.unit is Unit.WIRE_SIZE:
        sizes = st.sampled_from(["24 AWG", "16 AWG", "1/0 AWG", "4/0 AWG", "0.75 mm2", "none"])
        return sizes.map(lambda size: parse_value(spec, size))
    numbers: st.SearchStrategy[Value] = st.integers(spec.least, spec.most)
    return st.none() | numbers if spec.unit is Unit.VOLTS_OR_OFF else numbers


@given(st.data())
def test_what_is_printed_reads_back_as_the_same(data: st.DataObject) -> None:
    """Value to text to value to text: nothing is lost on the way, for every limit."""
    spec = data.draw(st.sampled_from(SPECS))
    value = data.draw(_values(spec))
    text = value_text(spec, value)
    assert parse_value(spec, text) == value
    assert value_text(spec, parse_value(spec, text)) == text


@given(st.text(max_size=60), st.sampled_from(SPECS))
def test_any_text_is_read_or_refused(text: str, spec: LimitSpec) -> None:
    """No text makes a parser fail in another way than refusing, or gives a value out of range."""
    try:
        value = parse_value(spec, text)
    except NotAllowed:
        return
    assert parse_value(spec, value_text(spec, value)) == value


PRINTED = [
    # wire size, circular mils as printed: NEC chapter 9 table 8, and SAE minimum
    ("18 AWG", 1620, 1537),
    ("16 AWG", 2580, 2336),
    ("14 AWG", 4110, 3702),
    ("10 AWG", 10380, 9343),
]


@pytest.mark.parametrize(("size", "printed_cmil", "thinner_cmil"), PRINTED)
def test_areas_that_count_as_a_size(size: str, printed_cmil: int, thinner_cmil: int) -> None:
    """A printed nominal area counts as its size; the SAE minimum of that number does not."""
    least = smallest_area_um2(size)
    assert thinner_cmil * CMIL_TO_UM2 < least <= printed_cmil * CMIL_TO_UM2


def test_a_metric_size_is_its_own_area() -> None:
    """Square millimetres need no table and have no rounding to forgive."""
    assert smallest_area_um2("1.5 mm2") == 1_500_000


def test_every_field_of_limits_has_its_row() -> None:
    """No limit without name, unit and meaning; no row without a field to fill."""
    filled = {spec.field for spec in SPECS} | {
        *("minimum_area_um2", "rule_set", "origins", "locks", "waivers")
    }
    assert filled == {field.name for field in fields(Limits)}
    assert all(spec.meaning.endswith(".") for spec in SPECS)


def test_two_limits_never_share_a_name() -> None:
    """Plain names address limits on the command line, so they are unique."""
    with pytest.raises(ValueError, match="two limits are called slack"):
        by_name((SPEC_BY_NAME["slack"], SPEC_BY_NAME["slack"]))


def test_a_limit_that_would_take_for_ever_is_refused() -> None:
    """Splice points of more neighbours than eight take minutes to lay out before any search."""
    spec = SPEC_BY_NAME["splice_neighbours"]
    assert parse_value(spec, 8) == 8
    with pytest.raises(NotAllowed) as caught:
        parse_value(spec, 9)
    assert caught.value.hint == "allowed: 2 to 8"


def test_a_refused_number_is_shown_cut_short() -> None:
    """A number as long as the file does not fill the screen."""
    with pytest.raises(NotAllowed) as caught:
        parse_value(SPEC_BY_NAME["one_hub"], 10**4000)
    assert caught.value.message == f"1{'0' * 39} is not yes or no"
