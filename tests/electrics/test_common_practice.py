"""Currents and drops as the trade has them: common practice, no published source.

Where a number comes from a standard that was not read, or from memory, its test says so.
"""

import pytest
from support.drops import E11_COPPER_C, SAE, drop_volts, drop_volts_by_ohm_per_ft, e11_drop

from lugwright.base.scale import ceil_div
from lugwright.electrics.ampacity import allowed_ma, table_ma
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.electrics.sizes import nominal_area_um2

# Boat cable with 105 C insulation as tables of the trade have it, outside and inside engine
# spaces (common practice, no source). Its steps
# (1-2, 3, 4-6, 7-24 wires) are those of ABYC E-11 for AC.
BOAT_CABLE = [
    ("16 AWG", 2, 25.0, 21.3),
    ("16 AWG", 3, 17.5, 14.9),
    ("16 AWG", 6, 15.0, 12.8),
    ("16 AWG", 24, 12.5, 10.6),
    ("18 AWG", 7, 10.0, 8.5),
]


@pytest.mark.parametrize(
    ("temp_c", "factor"), [(60, 58), (75, 75), (80, 78), (90, 82), (105, 85), (125, 89), (200, 100)]
)
def test_engine_space_factors(temp_c: int, factor: int) -> None:
    """33 CFR 183.425 Table 5 Note 1 (50 C): 0.85 secondary source, the rest from memory."""
    assert table_ma("2 AWG", temp_c, True) == table_ma("2 AWG", temp_c, False) * factor // 100


@pytest.mark.parametrize(("size", "wires", "outside_a", "inside_a"), BOAT_CABLE)
def test_boat_cable_in_bundles(size: str, wires: int, outside_a: float, inside_a: float) -> None:
    """Common practice, no source: boat cable at 105 C, to 0.1 A."""
    outside_ma = allowed_ma(size, 105, False, "e11-ac", wires)
    inside_ma = allowed_ma(size, 105, True, "e11-ac", wires)
    assert outside_ma == round(outside_a * 1000)
    assert abs(inside_ma - inside_a * 1000) <= 50


@pytest.mark.parametrize(
    ("rule", "pair_ma"),
    [("e11-ac", 25_000), ("e11-dc", 17_500), ("iso-13297", 25_000), ("33-cfr-183", 25_000)],
)
def test_a_pair_is_where_the_rule_sets_differ(rule: str, pair_ma: int) -> None:
    """Two 16 AWG wires, 105 C: common practice is 25 A, E-11's DC counting allows 17.5 A.

    E-11 counts feed and return of a DC pair, so its 0.70 begins at two; ISO begins at four.
    """
    assert allowed_ma("16 AWG", 105, False, rule, 2) == pair_ma


def test_bilge_pump_at_ten_percent() -> None:
    """Common practice at 10 %: 16 AWG at 12 V; 18 (1537 by SAE, 1624 by AWG) does not do."""
    assert e11_drop(SAE[16], 21, 10) <= 1.2
    assert e11_drop(1537, 21, 10) > 1.2
    assert e11_drop(1624, 21, 10) > 1.2


def test_1800_amp_feet_at_ten_percent() -> None:
    """Common practice: 12 V, 40 ft round trip, 45 A is size 8, by AWG areas only."""
    assert drop_volts(nominal_area_um2("8 AWG"), 40, 45, E11_COPPER_C) <= 1.2
    assert drop_volts(nominal_area_um2("8 AWG", "SAE"), 40, 45, E11_COPPER_C) > 1.2


def test_1000_amp_feet_where_ampacity_governs() -> None:
    """Common practice: 24 V, 3 %, 10 ft round trip, 100 A is size 6.

    8 AWG passes for drop, but carries 80 A at 105 C (33 CFR 183.425 Table 5); 6 AWG 120 A.
    """
    assert drop_volts(nominal_area_um2("8 AWG"), 10, 100, E11_COPPER_C) <= 0.72
    assert table_ma("8 AWG", 105, False) == 80_000
    assert table_ma("6 AWG", 105, False) == 120_000


def test_four_amperes_with_nec_table_8() -> None:
    """Common practice: 24 V, 4 A, 100 ft one way of 16 AWG at 4.99 ohm/1000 ft: 4.0 V.

    From the area alone (75 C, 2 % for the lay) it is the same within 0.6 %.
    """
    assert drop_volts_by_ohm_per_ft("0.00499", 200, 4) == pytest.approx(3.992, abs=0.001)
    assert drop_volts(nominal_area_um2("16 AWG"), 200, 4, 75, 20) == pytest.approx(3.992, rel=6e-3)


def test_thirty_amperes_at_230_volts() -> None:
    """30 A, 100 ft one way, 3 % of 230 V (6.9 V), K = 12.9: No. 8; No. 10 would drop 7.46 V.

    K = 12.9 is copper at 76 C with 2 % for the lay of the strands.
    """
    assert drop_volts(nominal_area_um2("10 AWG"), 200, 30, 76, 20) == pytest.approx(7.46, rel=2e-3)
    assert drop_volts(nominal_area_um2("8 AWG"), 200, 30, 76, 20) <= 6.9


def test_a_run_in_the_iso_form() -> None:
    """1.6 A, 22 m round trip, 1.5 mm2, constant 0.0164 (ISO 10133, from memory): 0.3849 V.

    With annealed copper at 20 C (0.01724) it is 0.4046 V.
    """
    iso_nohm_per_mm = ceil_div(16_400 * 10, 15)
    assert wire_uohm(iso_nohm_per_mm, 220_000) * 1.6 / 1e6 == pytest.approx(0.3849, abs=1e-4)
    annealed = wire_uohm(nohm_per_mm(1_500_000, 20, 0), 220_000) * 1.6 / 1e6
    assert annealed == pytest.approx(0.4046, abs=1e-4)
