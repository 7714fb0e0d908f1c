"""Ampacity against 33 CFR 183.425 Table 5, NEC 310.15, and UL 310 for tabs."""

import pytest

from lugwright.electrics.ampacity import (
    allowed_ma,
    bundle_factor_permille,
    tab_current_ma,
    table_ma,
)

TEMPERATURES = (60, 75, 80, 90, 105, 125, 200)

# 33 CFR 183.425 Table 5: amperes at 30 C ambient, by insulation temperature.
TABLE_5 = {
    "18 AWG": (10, 10, 15, 20, 20, 25, 25),
    "16 AWG": (15, 15, 20, 25, 25, 30, 35),
    "14 AWG": (20, 20, 25, 30, 35, 40, 45),
    "12 AWG": (25, 25, 35, 40, 45, 50, 55),
    "10 AWG": (40, 40, 50, 55, 60, 70, 70),
    "8 AWG": (55, 65, 70, 70, 80, 90, 100),
    "6 AWG": (80, 95, 100, 100, 120, 125, 135),
    "4 AWG": (105, 125, 130, 135, 160, 170, 180),
    "3 AWG": (120, 145, 150, 155, 180, 195, 210),
    "2 AWG": (140, 170, 175, 180, 210, 225, 240),
    "1 AWG": (165, 195, 210, 210, 245, 265, 280),
    "1/0 AWG": (195, 230, 245, 245, 285, 305, 325),
    "2/0 AWG": (225, 265, 285, 285, 330, 355, 370),
    "3/0 AWG": (260, 310, 330, 330, 385, 410, 430),
    "4/0 AWG": (300, 360, 385, 385, 445, 475, 510),
}


@pytest.mark.parametrize("size", TABLE_5)
def test_33_cfr_183_table_5(size: str) -> None:
    """33 CFR 183.425 Table 5, outside engine spaces, one conductor, every printed cell."""
    row = tuple(table_ma(size, temp_c, False) for temp_c in TEMPERATURES)
    assert row == tuple(amps * 1000 for amps in TABLE_5[size])


@pytest.mark.parametrize("conductors", [1, 2, 3, 7, 25, 100])
def test_33_cfr_183_counts_no_bundle_under_50_volts(conductors: int) -> None:
    """33 CFR 183.435(b) reaches only circuits of 50 V or more."""
    assert allowed_ma("16 AWG", 105, False, "33-cfr-183", conductors) == 25_000


@pytest.mark.parametrize(
    ("conductors", "factor_permille"),
    [(3, 1000), (4, 800), (6, 800), (7, 700), (9, 700), (10, 500), (21, 450), (31, 400), (41, 350)],
)
def test_nec_adjustment_factors(conductors: int, factor_permille: int) -> None:
    """NEC Table 310.15(C)(1)."""
    assert bundle_factor_permille("nec-310-15", conductors) == factor_permille


@pytest.mark.parametrize(("tab", "amps"), [("2.8 x 0.5", 5), ("4.8 x 0.5", 10), ("6.3 x 0.8", 24)])
def test_ul_310_tab_currents(tab: str, amps: int) -> None:
    """UL 310: 16, 16 and 10 AWG are the largest wires listed (secondary source)."""
    assert tab_current_ma(tab) == amps * 1000
