"""Drops over given runs by the program's own resistance functions, in volts.

ABYC E-11's constant K = 10.75 ohm-circular-mil per ft (11.14.2.6, secondary source) means copper
at 29 C: K is 10.371 at 20 C and rises with (234.5 + T)/254.5 to 10.74 there.
"""

from fractions import Fraction

from lugwright.base.scale import ceil_div
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
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
