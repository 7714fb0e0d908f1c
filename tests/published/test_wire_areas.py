"""Strand areas and resistances against published tables.

Sources: ASTM B258 formula d = 0.005 in x 92^((36-n)/39); NEC Chapter 9 Table 8 (circular mils,
ohm per 1000 ft at 75 C); NBS Handbook 100 (annealed copper, ohm per 1000 ft at 20 C).
"""

import math

import pytest

from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.electrics.sizes import nominal_area_um2

DMM_PER_1000_FT = 3_048_000

# Resistance per length is rounded up to a whole nano-ohm per millimetre.
ROUNDED_UP_OHM = 0.0003048

# size, n of the B258 formula, NEC circular mils (None: not seen), NBS ohm per 1000 ft at 20 C,
# NEC ohm per 1000 ft at 75 C: solid bare and stranded bare
SIZES = [
    ("24 AWG", 24, None, 25.67, None, None),
    ("22 AWG", 22, None, 16.14, None, None),
    ("20 AWG", 20, None, 10.15, None, None),
    ("18 AWG", 18, 1620, 6.385, 7.77, 7.95),
    ("16 AWG", 16, 2580, 4.016, 4.89, 4.99),
    ("14 AWG", 14, 4110, 2.525, 3.07, 3.14),
    ("12 AWG", 12, 6530, 1.588, 1.93, 1.98),
    ("10 AWG", 10, 10380, 0.9989, 1.21, 1.24),
    ("8 AWG", 8, 16510, 0.6282, 0.764, 0.778),
    ("6 AWG", 6, 26240, 0.3951, None, 0.491),
    ("4 AWG", 4, 41740, 0.2485, None, 0.308),
    ("3 AWG", 3, 52620, 0.197, None, 0.245),
    ("2 AWG", 2, 66360, 0.1563, None, 0.194),
    ("1 AWG", 1, 83690, 0.124, None, 0.154),
    ("1/0 AWG", 0, 105600, 0.0983, None, 0.122),
    ("2/0 AWG", -1, 133100, 0.078, None, 0.0967),
    ("3/0 AWG", -2, 167800, 0.0618, None, 0.0766),
    ("4/0 AWG", -3, 211600, 0.049, None, 0.0608),
]


def ohm_per_1000_ft(size: str, temp_c: int, stranding_permille: int) -> float:
    """What the program's own functions give for 1000 ft of a size."""
    per_mm = nohm_per_mm(nominal_area_um2(size), temp_c, stranding_permille)
    return wire_uohm(per_mm, DMM_PER_1000_FT) / 1_000_000


@pytest.mark.parametrize(("size", "n"), [(row[0], row[1]) for row in SIZES])
def test_areas_follow_the_astm_b258_formula(size: str, n: int) -> None:
    """ASTM B258: the area of the diameter of the formula, to 0.01 %."""
    diameter_um = 0.005 * 92 ** ((36 - n) / 39) * 25_400
    assert nominal_area_um2(size) == pytest.approx(math.pi / 4 * diameter_um**2, rel=1e-4)


@pytest.mark.parametrize(("size", "cmil"), [(row[0], row[2]) for row in SIZES if row[2]])
def test_areas_agree_with_nec_table_8(size: str, cmil: int) -> None:
    """NEC Chapter 9 Table 8 circular mils, which it rounds: within 0.3 %."""
    area_um2 = cmil * math.pi / 4 * 25.4**2
    assert nominal_area_um2(size) == pytest.approx(area_um2, rel=3e-3)


@pytest.mark.parametrize(("size", "ohm"), [(row[0], row[3]) for row in SIZES])
def test_resistance_at_20_c_agrees_with_the_handbook(size: str, ohm: float) -> None:
    """NBS Handbook 100, annealed copper at 20 C: within 0.1 % or half its last place."""
    slack = max(1e-3 * ohm, 5e-5)
    assert -slack <= ohm_per_1000_ft(size, 20, 0) - ohm <= slack + ROUNDED_UP_OHM


@pytest.mark.parametrize(("size", "ohm"), [(row[0], row[4]) for row in SIZES if row[4]])
def test_resistance_at_75_c_agrees_with_nec_solid(size: str, ohm: float) -> None:
    """NEC Chapter 9 Table 8, solid bare copper at 75 C: within 0.4 %."""
    assert abs(ohm_per_1000_ft(size, 75, 0) - ohm) <= 4e-3 * ohm + ROUNDED_UP_OHM


@pytest.mark.parametrize(("size", "ohm"), [(row[0], row[5]) for row in SIZES if row[5]])
def test_resistance_at_75_c_agrees_with_nec_stranded(size: str, ohm: float) -> None:
    """NEC Chapter 9 Table 8, stranded bare copper at 75 C, with 2 % for the lay: within 0.5 %."""
    assert abs(ohm_per_1000_ft(size, 75, 20) - ohm) <= 5e-3 * ohm + ROUNDED_UP_OHM


@pytest.mark.parametrize(("size", "ohm_per_km"), [("0.5 mm2", 36.0), ("0.75 mm2", 24.5)])
def test_thin_metric_wire_agrees_with_iec_60228(size: str, ohm_per_km: float) -> None:
    """IEC 60228 Table A.2, class 2 plain copper: most ohms per km at 20 C.

    With 2 % for stranding the nominal area gives no more than that, and no less than 5 % under it.
    """
    per_mm = nohm_per_mm(nominal_area_um2(size), 20, 20)
    own = wire_uohm(per_mm, 10_000_000) / 1_000_000
    assert 0.95 * ohm_per_km <= own <= ohm_per_km
