"""Resistance in exact integers, always rounded up."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lugwright.electrics.resistance import nohm_per_mm, wire_uohm


def test_one_square_millimetre_is_the_resistivity() -> None:
    """1 mm2 at 20 C without allowance is the constant itself."""
    assert nohm_per_mm(1_000_000, 20, 0) == 17_241


def test_heat_and_stranding_raise_it() -> None:
    """At 75 C by 309.5/254.5, with 2 % for the lay of the strands, by hand for 1 mm2."""
    assert nohm_per_mm(1_000_000, 75, 0) == 20_967  # 20966.97
    assert nohm_per_mm(1_000_000, 75, 20) == 21_387  # 21386.3


@given(st.integers(100_000, 200_000_000), st.integers(-40, 200), st.integers(0, 100))
def test_it_is_the_formula_rounded_up(area_um2: int, temp_c: int, stranding: int) -> None:
    """Never under the exact value, never a whole unit over it."""
    exact = (
        Fraction(17_241 * 1_000_000, area_um2)
        * Fraction(1000 + stranding, 1000)
        * (Fraction(469, 2) + temp_c)
        / Fraction(509, 2)
    )
    assert 0 <= nohm_per_mm(area_um2, temp_c, stranding) - exact < 1


def test_a_wire_is_rounded_up_once() -> None:
    """13175 nohm/mm over 1 m is 13175 µΩ; over 0.1 mm it is 1.3 µΩ, so 2."""
    assert wire_uohm(13_175, 10_000) == 13_175
    assert wire_uohm(13_175, 1) == 2
    assert wire_uohm(13_175, 0) == 0


@pytest.mark.parametrize(
    ("area_um2", "temp_c", "stranding"), [(0, 20, 0), (1, -235, 0), (1, 20, -1)]
)
def test_what_is_outside_the_formula(area_um2: int, temp_c: int, stranding: int) -> None:
    """No area, a temperature below the formula's zero, a negative allowance."""
    with pytest.raises(ValueError, match=r"above zero|outside the formula"):
        nohm_per_mm(area_um2, temp_c, stranding)
