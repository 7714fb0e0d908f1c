"""Conductor colours: one spelling, one code, and no use read off a colour alone."""

import pytest

from lugwright.electrics.colours import canonical_colour, colour_code, standard_colours, uses_of
from lugwright.electrics.tables import colour_uses


def test_codes_are_unambiguous() -> None:
    """No two colours share a code."""
    codes = [colour_code(colour) for colour in standard_colours()]
    assert len(set(codes)) == len(codes)


@pytest.mark.parametrize(
    ("colour", "code"),
    [("black", "BK"), ("purple", "VT"), ("violet", "VT"), ("grey", "GY"), ("Dark-Blue", "DBU")],
)
def test_codes_and_other_spellings(colour: str, code: str) -> None:
    """IEC 60757 letters where it has them; violet and grey are the same colours."""
    assert colour_code(colour) == code


def test_every_colour_of_the_standard_table_has_a_code() -> None:
    """Colours and their alternatives alike are in the closed list."""
    for use in colour_uses():
        assert use.colour in standard_colours()
        assert use.alternative == "" or use.alternative in standard_colours()


def test_one_colour_can_have_two_uses() -> None:
    """Yellow is a return and was the blower's colour: both are told."""
    assert {use.role for use in uses_of("yellow")} == {"negative", "positive"}
    assert uses_of("white") == ()


def test_an_unknown_colour_is_refused_with_the_nearest() -> None:
    """The closed list is named."""
    with pytest.raises(ValueError, match='did you mean "purple"'):
        canonical_colour("purpel")
