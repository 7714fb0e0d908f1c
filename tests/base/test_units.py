"""Lengths, sizes, currents as people write them: what is accepted, what is refused and how."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lugwright.base import units

COUNTS = st.integers(min_value=0, max_value=10**9)


@pytest.mark.parametrize(
    ("text", "length_mm"),
    [
        ("52 mm", "52"),
        ("52mm", "52"),
        ("  52   mm ", "52"),
        (".5 mm", "0.5"),
        ("5.2 cm", "52"),
        ("6 m", "6000"),
        ("2 1/16 in", "52.3875"),
        ("3-3/8 in", "85.725"),
        ("3/8 in", "9.525"),
        ("2.5 in", "63.5"),
        ("40 ft", "12192"),
        ("2 ft 3 in", "685.8"),
        ("2ft3-1/2in", "698.5"),
        ("0 mm", "0"),
    ],
)
def test_lengths_are_exact(text: str, length_mm: str) -> None:
    """Every accepted form gives its exact number of millimetres."""
    assert units.parse_length_mm(text) == Fraction(length_mm)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1,5 mm", "not a comma"),
        ("52", "needs its unit"),
        ("3 3/8", "needs its unit"),
        ("3-3/8", "needs its unit"),
        ("", "nothing is written"),
        ("   ", "nothing is written"),
        ("-3 mm", "must not be negative"),
        ("−3 mm", "must not be negative"),
        ("nan mm", "not a length"),
        ("inf mm", "not a length"),
        ("1e3 mm", "not a length"),
        ("9**9**9 mm", "not a length"),
        ('3 3/8"', "not a length"),
        ("1 2 mm", "not a length"),
        ("5-10 mm", "not a length"),
        ("2.5-3/8 in", "not a length"),
        ("3 in 2 ft", "not a length"),
        ("2 ft 3 ft", "not a length"),
        ("2 m 3 mm", "not a length"),
        ("3 MM", "not a length"),
        ("3 furlong", "not a length"),
        ("٣ mm", "not a length"),
        ("3/0 in", "over zero"),
        ("3 9/8 in", "less than one"),
        ("1" * 39 + "mm", "at most 40 characters"),
    ],
)
def test_lengths_that_are_refused(text: str, reason: str) -> None:
    """A refusal is one line, says why, what was got and which forms are accepted."""
    with pytest.raises(ValueError, match=reason) as caught:
        units.parse_length_mm(text)
    message = str(caught.value)
    assert "\n" not in message
    assert "(got " in message
    assert '"3-3/8 in"' in message


@pytest.mark.parametrize("value", [52, 52.0, None, True, ["52 mm"], float("nan")])
def test_what_is_not_text_is_refused(value: object) -> None:
    """A bare number of the file has no unit; nothing is assumed for it."""
    with pytest.raises(ValueError, match="must be text, in quotes"):
        units.parse_length_mm(value)


def test_control_characters_do_not_reach_the_message() -> None:
    """A terminal escape in the file is shown, not obeyed."""
    with pytest.raises(ValueError, match="not a length") as caught:
        units.parse_length_mm("\x1b[2J mm")
    assert "\x1b" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "length_mm"), [("-3-3/8 in", "-85.725"), ("-2 ft 3 in", "-685.8"), ("−1 mm", "-1")]
)
def test_a_coordinate_may_be_negative(text: str, length_mm: str) -> None:
    """With the flag the sign belongs to the whole length."""
    assert units.parse_length_mm(text, allow_negative=True) == Fraction(length_mm)


@pytest.mark.parametrize(
    ("length_mm", "nearest", "up"),
    [("0.05", 1, 1), ("-0.05", -1, 0), ("0.049", 0, 1), ("52.3875", 524, 524), ("0.762", 8, 8)],
)
def test_rounding_to_a_tenth(length_mm: str, nearest: int, up: int) -> None:
    """Half a tenth goes away from zero; a thickness goes up."""
    assert units.to_dmm(Fraction(length_mm)) == nearest
    assert units.to_dmm_up(Fraction(length_mm)) == up


@given(st.fractions(min_value=-5000, max_value=5000, max_denominator=5000))
def test_a_length_written_is_read_the_same(length_mm: Fraction) -> None:
    """Millimetres where they end, inches where they do not: the parser gives the same number."""
    for text in (units.length_text(length_mm), units.inch_text(length_mm)):
        assert units.parse_length_mm(text, allow_negative=True) == length_mm


@given(COUNTS)
def test_the_other_quantities_written_are_read_the_same(number: int) -> None:
    """Format, then parse, gives the same integer for every scale."""
    assert units.parse_current_ma(units.current_text(number)) == number
    assert units.parse_share_permille(units.share_text(number)) == number
    assert units.parse_volts_mv(units.volts_text(number)) == number
    assert units.parse_ohms_uohm(units.ohms_text(number)) == number
    assert units.parse_money_micro(units.amount_text(number)) == number
    assert units.parse_minutes_cmin(units.minutes_text(number)) == number


@given(st.integers(min_value=-36_000, max_value=36_000))
def test_an_angle_written_is_read_the_same(hundredths: int) -> None:
    """Angles keep every decimal and their sign."""
    angle = Fraction(hundredths, 100)
    assert units.parse_degrees(units.degrees_text(angle), allow_negative=True) == angle


@given(st.text(max_size=60))
def test_no_text_brings_a_parser_down(text: str) -> None:
    """Whatever is written, a parser gives a value or a ValueError of one line."""
    for parse in (
        units.parse_length_mm,
        units.parse_wire_size,
        units.parse_thread,
        units.parse_tab_size,
        units.parse_current_ma,
        units.parse_money_micro,
    ):
        try:
            parse(text)
        except ValueError as error:
            assert len(str(error).splitlines()) == 1


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("16 AWG", "16 AWG"),
        ("16awg", "16 AWG"),
        ("1/0 AWG", "1/0 AWG"),
        ("1.5 mm2", "1.5 mm2"),
        ("1.50mm²", "1.5 mm2"),
        (".75 mm2", "0.75 mm2"),
        ("10 mm2", "10 mm2"),
    ],
)
def test_wire_sizes_have_one_spelling(text: str, canonical: str) -> None:
    """Every way to write a size gives the one the stock table is looked up by."""
    assert units.parse_wire_size(text) == canonical
    assert units.parse_wire_size(canonical) == canonical


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("16", "needs its system"),
        ("1/0", "needs its system"),
        ("15 AWG", "not an AWG size"),
        ("0 mm2", "more than zero"),
        ("1,5 mm2", "not a comma"),
        ("-1 mm2", "not a wire size"),
        ("nan mm2", "not a wire size"),
    ],
)
def test_wire_sizes_that_are_refused(text: str, reason: str) -> None:
    """AWG is a closed set and a bare number belongs to no system."""
    with pytest.raises(ValueError, match=reason):
        units.parse_wire_size(text)


@pytest.mark.parametrize(
    ("text", "thread"),
    [
        ("#10-32", "#10-32 UNF"),
        ("10-24 unc", "#10-24 UNC"),
        ("1/4-20", "1/4-20 UNC"),
        ("M5", "M5 x 0.8"),
        ("m6x1", "M6 x 1.0"),
        ("M6 × 1.0", "M6 x 1.0"),
        ("#8-32 UNC", "#8-32 UNC"),
    ],
)
def test_threads_have_one_spelling(text: str, thread: str) -> None:
    """Short and full names give the row of the hardware table."""
    assert units.parse_thread(text) == thread


@pytest.mark.parametrize("text", ["#10", "M7", "M5 x 0.5", "", "8"])
def test_threads_that_are_refused(text: str) -> None:
    """``#10`` alone could be either of two threads; the message names them all."""
    with pytest.raises(ValueError, match="#10-24 UNC, #10-32 UNF"):
        units.parse_thread(text)


@pytest.mark.parametrize("text", ["6.3 x 0.8", "6.3x0.8", "6.3 × 0.8 mm", "0.250 x 0.032 in"])
def test_tab_sizes_have_one_spelling(text: str) -> None:
    """Millimetre and inch names of one tab are the same tab."""
    assert units.parse_tab_size(text) == "6.3 x 0.8"


def test_tab_sizes_that_are_refused() -> None:
    """A tab of a width that has two thicknesses is refused without its thickness."""
    with pytest.raises(ValueError, match=r"4\.8 x 0\.5, 4\.8 x 0\.8"):
        units.parse_tab_size("4.8")


def test_currents_round_to_the_safe_side() -> None:
    """A load goes up to the next mA, a limit down."""
    assert units.parse_current_ma("150 mA") == 150
    assert units.parse_current_ma("0.1501 A") == 151
    assert units.parse_current_ma("0.1509 A", round_up=False) == 150


def test_the_case_of_a_unit_counts() -> None:
    """``ma`` is no milliampere; the message says how to write one."""
    with pytest.raises(ValueError, match=r'unit "ma" is not known here.*"150 mA"'):
        units.parse_current_ma("40 ma")


def test_shares_volts_ohms_minutes() -> None:
    """The remaining quantities, each by its own forms."""
    assert units.parse_share_permille("3 %") == 30
    assert units.parse_volts_mv("12 V") == 12_000
    assert units.parse_volts_mv("300 mV") == 300
    assert units.parse_ohms_uohm("0.5 mohm") == 500
    assert units.parse_ohms_uohm("0.5 mΩ") == 500
    assert units.parse_ohms_uohm("0.1 uohm") == 1
    assert units.parse_minutes_cmin("20 s") == 33
    assert units.parse_minutes_cmin("1 h") == 6000
    assert units.parse_degrees("90°") == 90


def test_money_has_at_most_six_decimals() -> None:
    """A seventh decimal cannot be kept, and a currency is stated elsewhere."""
    assert units.parse_money_micro("0.000001") == 1
    with pytest.raises(ValueError, match="more than six decimals"):
        units.parse_money_micro("0.0000001")
    with pytest.raises(ValueError, match="no currency"):
        units.parse_money_micro("1.25 EUR")
    with pytest.raises(ValueError, match="must not be negative"):
        units.parse_money_micro("-1")


def test_volts_finer_than_a_millivolt_are_refused() -> None:
    """The scale of voltages rounds neither way, so nothing is rounded silently."""
    with pytest.raises(ValueError, match="finer than 1 mV"):
        units.parse_volts_mv("0.0001 V")


def test_a_fraction_that_does_not_end_is_not_a_decimal() -> None:
    """A third has no decimal to write."""
    with pytest.raises(ValueError, match="does not end"):
        units.decimal_text(Fraction(1, 3))
