"""Strand areas of wire sizes.

An AWG number means two areas in trade: the ASTM B258 area of the solid wire, and the smaller
minimum area of the SAE tables, about 10 % less. A spool therefore states its own strand area
and its size standard; here the size is found whose ampacity row applies to that area.
"""

from __future__ import annotations

from fractions import Fraction

from lugwright.base.errors import OutsideTable
from lugwright.base.units import parse_wire_size
from lugwright.electrics.tables import SizeRow, size_rows

# Metric wire has no table of its own in 33 CFR 183.425: its area is judged by ASTM B258.
SIZE_STANDARDS = ("AWG", "SAE", "metric")

# Printed areas are rounded: NEC Chapter 9 Table 8 gives 18 AWG as 1620 circular mils against
# 1624.3 of ASTM B258, 0.27 % less, and it is the same wire.
PRINTED_ROUNDING_PERMILLE = 3

_UM2_PER_MM2 = 1_000_000


def _nominal_um2(row: SizeRow, size_standard: str) -> int:
    return row.sae_um2 if size_standard == "SAE" else row.b258_um2


def _check_standard(size_standard: str) -> None:
    if size_standard not in SIZE_STANDARDS:
        allowed = ", ".join(SIZE_STANDARDS)
        raise ValueError(f'size standard must be one of {allowed} (got "{size_standard}")')


def nominal_area_um2(wire_size: str, size_standard: str = "AWG") -> int:
    """Nominal strand area of a wire size, in square micrometres, to the nearest.

    ``1.5 mm2`` is its own area; an AWG size has its ASTM B258 area, or the SAE minimum area
    with ``size_standard`` SAE. Raises ValueError for a size or standard that is none, and
    OutsideTable for an AWG size the SAE table does not hold.
    """
    _check_standard(size_standard)
    canonical = parse_wire_size(wire_size)
    number, unit = canonical.split(" ")
    if unit == "mm2":
        return round(Fraction(number) * _UM2_PER_MM2)
    area_um2 = next(
        _nominal_um2(row, size_standard) for row in size_rows() if row.size == canonical
    )
    if area_um2 == 0:
        raise OutsideTable(f"the SAE table of minimum areas has no {canonical}")
    return area_um2


def awg_size_for(area_um2: int, size_standard: str) -> str:
    """The wire size whose ampacity row applies to a stated strand area, ``16 AWG``.

    It is the largest AWG size whose nominal area by that standard is not above the area, the
    area being allowed 0.3 % for rounding in print. AWG and metric wire are judged by ASTM B258,
    SAE wire by the SAE minimum areas. Raises OutsideTable below the smallest size of the table,
    ValueError for a standard that is none.
    """
    _check_standard(size_standard)
    found = ""
    smallest = ""
    for row in size_rows():
        nominal_um2 = _nominal_um2(row, size_standard)
        if nominal_um2 == 0:
            continue
        smallest = smallest or row.size
        if area_um2 * 1000 >= nominal_um2 * (1000 - PRINTED_ROUNDING_PERMILLE):
            found = row.size
    if not found:
        area_mm2 = f"{area_um2 / _UM2_PER_MM2:.3f}"
        raise OutsideTable(
            f"{area_mm2} mm2 is less than {smallest}, the smallest size of the table"
        )
    return found
