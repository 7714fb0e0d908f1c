"""Wires that are not cut from our stock: pigtails, leads, supply runs, boat wires."""

from __future__ import annotations

from lugwright.base.errors import Complaint, OutsideTable
from lugwright.base.toml import KeyPath
from lugwright.electrics.ampacity import table_ma
from lugwright.electrics.sizes import awg_size_for, nominal_area_um2
from lugwright.scenario.console import GivenWire
from lugwright.scenario.draft import Draft

# Outside diameter of boat cable with stranded conductor and thin PVC insulation, in
# micrometres; makers differ by some 10 %. Common practice, no source.
INSULATION_UM = {
    "24 AWG": 1600,
    "22 AWG": 1800,
    "20 AWG": 2100,
    "18 AWG": 2400,
    "16 AWG": 2700,
    "14 AWG": 3100,
    "12 AWG": 3700,
    "10 AWG": 4600,
    "8 AWG": 6200,
    "6 AWG": 7600,
    "4 AWG": 9200,
    "3 AWG": 10200,
    "2 AWG": 11200,
    "1 AWG": 12900,
    "1/0 AWG": 14200,
    "2/0 AWG": 15600,
    "3/0 AWG": 17200,
    "4/0 AWG": 19000,
}

# What carries current needs a row in the ampacity table: 18 AWG is its thinnest.
SIZES_ALLOWED = (
    "leave it out of this plan, and wire it by its maker's diagram; wire that is planned: "
    '"18 AWG" or "0.83 mm2" and more, up to "4/0 AWG" or "107 mm2"'
)


def given_wire(
    wire_size: str, colour: str, size_standard: str, insulation_temp_c: int
) -> GivenWire:
    """The wire of a stated size. Its strand area is the nominal one of its size standard.

    Raises OutsideTable for a size the tables of strand areas do not hold.
    """
    area_um2 = nominal_area_um2(wire_size, size_standard)
    return GivenWire(
        wire_size,
        colour,
        area_um2,
        _insulation_um(area_um2),
        insulation_temp_c,
        awg_size_for(area_um2, size_standard),
    )


def _insulation_um(area_um2: int) -> int:
    """The diameter of the smallest AWG size that is not thinner: the safe side in a sleeve."""
    for size, diameter_um in INSULATION_UM.items():
        if nominal_area_um2(size) >= area_um2:
            return diameter_um
    raise OutsideTable(f"{area_um2 / 1_000_000:.1f} mm2 is more than 4/0 AWG, the largest size")


def checked_wire(
    draft: Draft, path: KeyPath, wire: GivenWire | str, engine_space: bool
) -> list[Complaint]:
    """A complaint where a wire that carries current has no row in the ampacity table.

    ``wire`` is the wire, or why there is none.
    """
    if isinstance(wire, str):
        return [draft.complain(path, wire, SIZES_ALLOWED)]
    try:
        table_ma(wire.ampacity_size, wire.insulation_temp_c, engine_space)
    except OutsideTable as error:
        return [draft.complain(path, str(error), SIZES_ALLOWED)]
    return []


def wire_or_reason(
    wire_size: str, colour: str, size_standard: str, insulation_temp_c: int
) -> GivenWire | str:
    """The wire, or the sentence that says why its size cannot be used."""
    try:
        return given_wire(wire_size, colour, size_standard, insulation_temp_c)
    except OutsideTable as error:
        return str(error)
