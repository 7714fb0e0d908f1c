"""Published voltage-drop examples against the program's own resistance functions.

Where an example states a resistance per foot, that is what ``wire_uohm`` is given. Where it
states the constant K = 10.75 ohm-circular-mil per ft (ABYC E-11 11.14.2.6), copper at 29 C is
meant: K is 10.371 at 20 C and rises with (234.5 + T)/254.5 to 10.74 there.
"""

import pytest
from support.drops import E11_AWG, SAE, drop_volts_by_ohm_per_ft, e11_drop


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
    """ABYC E-11 (secondary source): 10 A, 21 ft, 0.36 V needs 6271 circular mils.

    AWG 12 (6500) passes, SAE 12 (5833) does not, SAE 10 does.
    """
    assert e11_drop(6271, 21, 10) == pytest.approx(0.36, rel=2e-3)
    assert e11_drop(E11_AWG[12], 21, 10) <= 0.36
    assert e11_drop(SAE[12], 21, 10) > 0.36
    assert e11_drop(SAE[10], 21, 10) <= 0.36


def test_bilge_pump_at_32_volts() -> None:
    """The same at 32 V: 0.96 V needs 2352 circular mils. AWG 16 (2580) passes, SAE 16 does not."""
    assert e11_drop(2352, 21, 10) == pytest.approx(0.96, rel=2e-3)
    assert e11_drop(2580, 21, 10) <= 0.96
    assert e11_drop(SAE[16], 21, 10) > 0.96
    assert e11_drop(SAE[14], 21, 10) <= 0.96


CHART_AMPS = (5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100)


@pytest.mark.parametrize(
    ("areas", "chart"),
    [
        (SAE, (14, 10, 10, 8, 6, 6, 6, 4, 4, 2, 2, 2, 2)),
        (E11_AWG, (14, 12, 10, 8, 8, 6, 6, 4, 4, 4, 2, 2, 2)),
    ],
    ids=["SAE areas", "AWG areas"],
)
def test_the_three_percent_chart(
    areas: dict[int, int], chart: tuple[int, ...]
) -> None:
    """E-11's 3 % chart (12 V, 20 ft round trip; secondary source) by either area column."""
    found = tuple(
        next(size for size, cmil in areas.items() if e11_drop(cmil, 20, amps) <= 0.36)
        for amps in CHART_AMPS
    )
    assert found == chart
