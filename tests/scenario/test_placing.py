"""Front to back: mirroring, turning, rounding."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.scenario_text import SKETCH, console_of

from lugwright.scenario.placing import point, to_back, turned, turned_extent

MM = st.fractions(min_value=-500, max_value=500, max_denominator=64)
QUARTERS = st.integers(min_value=-3, max_value=7)


def test_panel_is_mirrored() -> None:
    """A dial left of the middle, seen from the front, is right of it seen from the back.

    The plate is 420 mm wide: 110 mm from the front's left edge is 310 mm from the back's.
    """
    console = console_of(SKETCH)
    assert console.instrument("speed").centre.x_dmm == 3100
    assert console.instrument("fuel").centre.x_dmm == 1900
    ignition = console.circuit("ignition").pigtail
    assert ignition is not None
    assert ignition.entry.x_dmm == 2100


def test_height_is_not_mirrored() -> None:
    """y counts from the lower edge on both sides; 3-1/2 in are 88.9 mm."""
    assert console_of(SKETCH).instrument("speed").centre.y_dmm == 889


def test_posts_are_not_mirrored() -> None:
    """Posts are read from the back already: ignition stays left of the dial's centre there."""
    console = console_of(SKETCH)
    ignition, ground = console.post("fuel.ignition").at, console.post("fuel.ground").at
    assert (ignition.x_dmm, ignition.y_dmm, ignition.z_dmm) == (1770, 980, 540)
    assert (ground.x_dmm, ground.y_dmm, ground.z_dmm) == (2030, 980, 540)


@pytest.mark.parametrize(
    ("turn_deg", "expected"),
    [(0, (10, 4)), (90, (-4, 10)), (180, (-10, -4)), (270, (4, -10)), (450, (-4, 10))],
)
def test_turn_is_clockwise_from_the_front(turn_deg: int, expected: tuple[int, int]) -> None:
    """Seen from the back a turn runs against the clock, exactly at right angles."""
    assert expected == turned((Fraction(10), Fraction(4)), Fraction(turn_deg))


@given(MM, MM, QUARTERS)
def test_turning_agrees_with_the_front_view(x: Fraction, y: Fraction, quarters: int) -> None:
    """Mirrored to the front, turned there with the clock and mirrored again: the same place."""
    front_x, front_y = -x, y
    for _ in range(quarters % 4):
        front_x, front_y = front_y, -front_x
    assert (-front_x, front_y) == turned((x, y), Fraction(90 * quarters))


def test_turn_of_a_third() -> None:
    """At 30 degrees the sine is one half to the last digit, so rounding is exact."""
    x, y = turned((Fraction(1), Fraction(0)), Fraction(30))
    assert Fraction(1, 2) == y
    assert abs(x * x - Fraction(3, 4)) < Fraction(1, 10**12)


def test_extent_of_a_turned_rectangle() -> None:
    """A quarter turn swaps width and height; an eighth turn takes more room both ways."""
    wide, high = Fraction(80), Fraction(40)
    assert (high, wide) == turned_extent(wide, high, Fraction(90))
    across, up = turned_extent(wide, high, Fraction(45))
    assert abs(across - up) < Fraction(1, 10**9)
    assert abs(across * across - 7200) < Fraction(1, 10**6)


@given(MM, MM, st.fractions(min_value=600, max_value=900, max_denominator=16))
def test_mirroring_twice_is_nothing(x: Fraction, y: Fraction, width: Fraction) -> None:
    """Front to back and back again ends where it began."""
    assert (x, y) == to_back(to_back((x, y), width), width)


def test_rounding_is_half_away_from_zero() -> None:
    """The one rounding to 0.1 mm."""
    place = point((Fraction(-5, 100), Fraction(15, 100)), Fraction(249, 1000))
    assert (place.x_dmm, place.y_dmm, place.z_dmm) == (-1, 2, 2)


def test_turn_in_a_scenario() -> None:
    """A dial turned half round has its ignition where its ground was."""
    straight = console_of(SKETCH)
    turned_text = SKETCH.replace('pattern = "dial-52"', 'pattern = "dial-52"\nturn = "180 deg"')
    turned_console = console_of(turned_text)
    assert straight.post("fuel.ground").at.x_dmm == turned_console.post("fuel.ignition").at.x_dmm
    assert turned_console.post("fuel.ignition").at.y_dmm == 820
