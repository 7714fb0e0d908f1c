"""Resistance of copper wire, in exact integers, rounded up.

Resistivity of annealed copper at 20 C: 0.017241 ohm mm2/m (IEC 60028; NBS Handbook 100).
Temperature: R(T) = R20 * (234.5 + T) / (234.5 + 20), for copper (FAA AC 43.13-1B 11-66; IEC 60028).
"""

from __future__ import annotations

from lugwright.base.scale import DMM_PER_MM, ceil_div

COPPER_NOHM_MM2_PER_MM = 17_241

_UM2_PER_MM2 = 1_000_000
_INFERRED_ZERO_DC = 2_345  # 234.5 C, in tenths of a degree
_REFERENCE_DC = 2_545  # 234.5 + 20 C
_NOHM_PER_UOHM = 1_000


def nohm_per_mm(area_um2: int, temp_c: int, stranding_permille: int) -> int:
    """Resistance per length in nano-ohm per millimetre (= µΩ/m), rounded up.

    ``stranding_permille`` is what the lay of the strands adds. Raises ValueError for an area
    that is not above zero, a temperature at or below -234.5 C, or a negative allowance. Rule R13.
    """
    if area_um2 <= 0:
        raise ValueError(f"strand area must be above zero (got {area_um2} µm²)")
    heat_dc = _INFERRED_ZERO_DC + 10 * temp_c
    if heat_dc <= 0 or stranding_permille < 0:
        raise ValueError(
            f"copper at {temp_c} C with a stranding allowance of {stranding_permille} ‰ "
            "is outside the formula"
        )
    numerator = COPPER_NOHM_MM2_PER_MM * _UM2_PER_MM2 * (1000 + stranding_permille) * heat_dc
    return ceil_div(numerator, area_um2 * 1000 * _REFERENCE_DC)


def wire_uohm(nohm_per_mm: int, length_dmm: int) -> int:
    """Resistance in micro-ohm, rounded up, of a wire of a length in 0.1 mm."""
    return ceil_div(nohm_per_mm * length_dmm, DMM_PER_MM * _NOHM_PER_UOHM)
