"""Published voltage-drop examples against the program's own resistance functions.

Where an example states a resistance per foot, that is what ``wire_uohm`` is given. Where it
states the constant K = 10.75 ohm-circular-mil per ft (ABYC E-11 11.14.2.6), copper at 29 C is
meant: K is 10.371 at 20 C and rises with (234.5 + T)/254.5 to 10.74 there.
"""

from fractions import Fraction

import pytest

from lugwright.base.scale import ceil_div
from lugwright.electrics.ampacity import table_ma
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.electrics.sizes import nominal_area_um2
from lugwright.electrics.tables import cmil_to_um2

E11_COPPER_C = 29

# SAE minimum areas in circular mils, as reprinted with ABYC E-11's conductor-size table.
SAE = {16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360, 2: 62450}
# AWG column of the same table.
E11_AWG = {16: 2600, 14: 4100, 12: 6500, 10: 10500, 8: 16800, 6: 26600, 4: 42000, 2: 66500}


def dmm(feet: float) -> int:
    """Feet to 0.1 mm."""
    return round(feet * 3048)


def drop_volts_by_ohm_per_ft(ohm_per_ft: str, feet: float, amps: int) -> float:
    """Drop over a run whose resistance per foot is given, in volts."""
    exact = Fraction(ohm_per_ft) * 10**9 / Fraction(3048, 10)
    per_mm = ceil_div(exact.numerator, exact.denominator)
    return wire_uohm(per_mm, dmm(feet)) * amps * 1000 / 1e9


def drop_volts(area_um2: int, feet: float, amps: float, temp_c: int, stranding: int = 0) -> float:
    """Drop over a run of copper of a strand area at a temperature, in volts."""
    return wire_uohm(nohm_per_mm(area_um2, temp_c, stranding), dmm(feet)) * amps / 1e6


def e11_drop(cmil: float, feet: float, amps: float) -> float:
    """Drop at the copper temperature that ABYC E-11's constant means."""
    return drop_volts(cmil_to_um2(str(cmil)), feet, amps, E11_COPPER_C)


@pytest.mark.parametrize(
    ("ohm_per_ft", "feet", "published_volts"),
    [
        ("0.00044", 107, 0.942),  # AC 43.13-1B CHG 1, Table 11-7 row 1
        ("0.00028", 90, 0.504),  # Table 11-7 row 2
        ("0.00306", 100, 6.12),  # Table 11-7 row 4
        ("0.00126", 39, 0.98),  # Table 11-8 row 1
        ("0.00126", 156, 3.93),  # Table 11-8 row 3
        ("0.00126", 273, 6.88),  # Table 11-8 row 4
    ],
)
def test_aircraft_charts(ohm_per_ft: str, feet: int, published_volts: float) -> None:
    """FAA AC 43.13-1B Tables 11-7 and 11-8 at 20 A, to the digits printed."""
    assert drop_volts_by_ohm_per_ft(ohm_per_ft, feet, 20) == pytest.approx(
        published_volts, abs=0.005
    )


def test_aircraft_misprint_is_not_followed() -> None:
    """Table 11-8 row 2 prints .366 V for 19.5 ft; half of row 1's run is 0.491 V."""
    assert drop_volts_by_ohm_per_ft("0.00126", 19.5, 20) == pytest.approx(0.4914, abs=0.0005)


def test_aircraft_example_1() -> None:
    """AC 43.13-1B 11-70 Example 1: 50 ft, 20 A, limit 1 V. No. 10 fails, No. 8 passes."""
    assert drop_volts_by_ohm_per_ft("0.00126", 50, 20) == pytest.approx(1.26, abs=0.001)
    assert drop_volts_by_ohm_per_ft("0.00070", 50, 20) == pytest.approx(0.70, abs=0.001)


def test_bilge_pump_at_12_volts() -> None:
    """Trade articles quoting E-11: 10 A, 21 ft, 0.36 V needs 6271 circular mils.

    AWG 12 (6500) passes, SAE 12 (5833) does not, SAE 10 does.
    """
    assert e11_drop(6271, 21, 10) == pytest.approx(0.36, rel=2e-3)
    assert e11_drop(E11_AWG[12], 21, 10) <= 0.36
    assert e11_drop(SAE[12], 21, 10) > 0.36
    assert e11_drop(SAE[10], 21, 10) <= 0.36


def test_bilge_pump_at_32_volts() -> None:
    """Same article: 0.96 V needs 2352 circular mils. AWG 16 (2580) passes, SAE 16 does not."""
    assert e11_drop(2352, 21, 10) == pytest.approx(0.96, rel=2e-3)
    assert e11_drop(2580, 21, 10) <= 0.96
    assert e11_drop(SAE[16], 21, 10) > 0.96
    assert e11_drop(SAE[14], 21, 10) <= 0.96


def test_bilge_pump_at_ten_percent() -> None:
    """A chandler's 10 % chart: 16 AWG at 12 V; 18 (1537 by SAE, 1624 by AWG) does not do."""
    assert e11_drop(SAE[16], 21, 10) <= 1.2
    assert e11_drop(1537, 21, 10) > 1.2
    assert e11_drop(1624, 21, 10) > 1.2


def test_1800_amp_feet_at_ten_percent() -> None:
    """A marine installer's page: 12 V, 40 ft round trip, 45 A is size 8, by AWG areas only."""
    assert drop_volts(nominal_area_um2("8 AWG"), 40, 45, E11_COPPER_C) <= 1.2
    assert drop_volts(nominal_area_um2("8 AWG", "SAE"), 40, 45, E11_COPPER_C) > 1.2


def test_1000_amp_feet_where_ampacity_governs() -> None:
    """Same page: 24 V, 3 %, 10 ft round trip, 100 A is size 6.

    8 AWG passes for drop, but carries 80 A at 105 C (33 CFR 183.425 Table 5); 6 AWG 120 A.
    """
    assert drop_volts(nominal_area_um2("8 AWG"), 10, 100, E11_COPPER_C) <= 0.72
    assert table_ma("8 AWG", 105, False) == 80_000
    assert table_ma("6 AWG", 105, False) == 120_000


def test_course_example_with_nec_table_8() -> None:
    """An electrical course page: 24 V, 4 A, 100 ft one way of 16 AWG at 4.99 ohm/1000 ft: 4.0 V.

    From the area alone (75 C, 2 % for the lay) it is the same within 0.6 %.
    """
    assert drop_volts_by_ohm_per_ft("0.00499", 200, 4) == pytest.approx(3.992, abs=0.001)
    assert drop_volts(nominal_area_um2("16 AWG"), 200, 4, 75, 20) == pytest.approx(3.992, rel=6e-3)


def test_examination_question_at_230_volts() -> None:
    """30 A, 100 ft one way, 3 % of 230 V (6.9 V), K = 12.9: No. 8; No. 10 would drop 7.46 V.

    K = 12.9 is copper at 76 C with 2 % for the lay of the strands.
    """
    assert drop_volts(nominal_area_um2("10 AWG"), 200, 30, 76, 20) == pytest.approx(7.46, rel=2e-3)
    assert drop_volts(nominal_area_um2("8 AWG"), 200, 30, 76, 20) <= 6.9


def test_boat_owners_note_in_the_iso_form() -> None:
    """1.6 A, 22 m round trip, 1.5 mm2, constant 0.0164: 0.38 V printed, 0.3849 computed.

    With annealed copper at 20 C (0.01724) it is 0.4046 V.
    """
    iso_nohm_per_mm = ceil_div(16_400 * 10, 15)
    assert wire_uohm(iso_nohm_per_mm, 220_000) * 1.6 / 1e6 == pytest.approx(0.3849, abs=1e-4)
    annealed = wire_uohm(nohm_per_mm(1_500_000, 20, 0), 220_000) * 1.6 / 1e6
    assert annealed == pytest.approx(0.4046, abs=1e-4)


CHART_AMPS = (5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100)


@pytest.mark.parametrize(
    ("areas", "chart"),
    [
        (SAE, (14, 10, 10, 8, 6, 6, 6, 4, 4, 2, 2, 2, 2)),
        (E11_AWG, (14, 12, 10, 8, 8, 6, 6, 4, 4, 4, 2, 2, 2)),
    ],
    ids=["chandler's chart, SAE areas", "another reprint, AWG areas"],
)
def test_two_printings_of_the_three_percent_chart(
    areas: dict[int, int], chart: tuple[int, ...]
) -> None:
    """Two printings of E-11's 3 % chart (12 V, 20 ft round trip) differ by their area column."""
    found = tuple(
        next(size for size, cmil in areas.items() if e11_drop(cmil, 20, amps) <= 0.36)
        for amps in CHART_AMPS
    )
    assert found == chart
