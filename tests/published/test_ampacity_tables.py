"""Ampacity against 33 CFR 183.425 Table 5, a cable maker's table, and UL 310 for tabs."""

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


@pytest.mark.parametrize(
    ("temp_c", "factor"), [(60, 58), (75, 75), (80, 78), (90, 82), (105, 85), (125, 89), (200, 100)]
)
def test_engine_space_factors(temp_c: int, factor: int) -> None:
    """33 CFR 183.425 Table 5 Note 1 (50 C); 0.85 read in trade reprints, the rest from memory."""
    assert table_ma("2 AWG", temp_c, True) == table_ma("2 AWG", temp_c, False) * factor // 100


@pytest.mark.parametrize("conductors", [1, 2, 3, 7, 25, 100])
def test_33_cfr_183_counts_no_bundle_under_50_volts(conductors: int) -> None:
    """33 CFR 183.435(b) reaches only circuits of 50 V or more."""
    assert allowed_ma("16 AWG", 105, False, "33-cfr-183", conductors) == 25_000


# A cable maker's UL 1426 table (105 C boat cable), outside and inside engine spaces. Its steps
# (1-2, 3, 4-6, 7-24 wires) are those of ABYC E-11 for AC.
CABLE_MAKER = [
    ("16 AWG", 2, 25.0, 21.3),
    ("16 AWG", 3, 17.5, 14.9),
    ("16 AWG", 6, 15.0, 12.8),
    ("16 AWG", 24, 12.5, 10.6),
    ("18 AWG", 7, 10.0, 8.5),
]


@pytest.mark.parametrize(("size", "wires", "outside_a", "inside_a"), CABLE_MAKER)
def test_cable_makers_table(size: str, wires: int, outside_a: float, inside_a: float) -> None:
    """UL 1426 boat cable, 105 C, printed to 0.1 A."""
    outside_ma = allowed_ma(size, 105, False, "e11-ac", wires)
    inside_ma = allowed_ma(size, 105, True, "e11-ac", wires)
    assert outside_ma == round(outside_a * 1000)
    assert abs(inside_ma - inside_a * 1000) <= 50


@pytest.mark.parametrize(
    ("rule", "pair_ma"),
    [("e11-ac", 25_000), ("e11-dc", 17_500), ("iso-13297", 25_000), ("33-cfr-183", 25_000)],
)
def test_a_pair_is_where_the_rule_sets_differ(rule: str, pair_ma: int) -> None:
    """Two 16 AWG wires, 105 C: the cable maker prints 25 A, E-11's DC counting allows 17.5 A.

    E-11 counts feed and return of a DC pair, so its 0.70 begins at two; ISO begins at four.
    """
    assert allowed_ma("16 AWG", 105, False, rule, 2) == pair_ma


@pytest.mark.parametrize(
    ("conductors", "factor_permille"),
    [(3, 1000), (4, 800), (6, 800), (7, 700), (9, 700), (10, 500), (21, 450), (31, 400), (41, 350)],
)
def test_nec_adjustment_factors(conductors: int, factor_permille: int) -> None:
    """NEC Table 310.15(C)(1)."""
    assert bundle_factor_permille("nec-310-15", conductors) == factor_permille


@pytest.mark.parametrize(("tab", "amps"), [("2.8 x 0.5", 5), ("4.8 x 0.5", 10), ("6.3 x 0.8", 24)])
def test_ul_310_tab_currents(tab: str, amps: int) -> None:
    """UL 310: 16, 16 and 10 AWG are the largest wires listed, in a connector maker's table."""
    assert tab_current_ma(tab) == amps * 1000
