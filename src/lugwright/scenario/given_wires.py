"""Wires that are not cut from our stock: pigtails, leads, supply runs, boat wires."""

from __future__ import annotations

from dataclasses import replace

from lugwright.base.errors import Complaint, OutsideTable
from lugwright.base.toml import KeyPath
from lugwright.base.units import parse_length_mm
from lugwright.electrics.ampacity import table_ma
from lugwright.electrics.sizes import awg_size_for, nominal_area_um2
from lugwright.scenario.console import GivenWire
from lugwright.scenario.draft import Draft
from lugwright.scenario.pattern_schema import LeadPart
from lugwright.scenario.schema import BoatWirePart, PigtailPart

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
THIN_ALLOWED = (
    f"{SIZES_ALLOWED}; thinner, down to 24 AWG or 0.2 mm2, it states what its maker lets it carry "
    "(carries) and by which exemption it may be that thin (exempt: electronics under 1 A, inside "
    "a housing, pigtail under 7 in)"
)
THINNEST_UM2 = 200_000
SHORT_MM = parse_length_mm("7 in")
"""A pigtail shorter than this is exempt from Table 5 (33 CFR 183.425(g))."""

SuppliedPart = PigtailPart | BoatWirePart | LeadPart


def given_wire(
    wire_size: str, colour: str, size_standard: str, insulation_temp_c: int
) -> GivenWire:
    """The wire of a stated size. Its strand area is the nominal one of its size standard.

    Raises OutsideTable for a size the tables of strand areas do not hold, or under 0.2 mm2.
    """
    area_um2 = nominal_area_um2(wire_size, size_standard)
    return GivenWire(
        wire_size,
        colour,
        area_um2,
        _insulation_um(area_um2),
        insulation_temp_c,
        _row_for(area_um2, size_standard),
    )


def supplied_wire(part: SuppliedPart, usual_size: str = "") -> GivenWire:
    """A pigtail's, boat wire's or lead's own wire, with what its maker says of it.

    ``usual_size`` stands where the size may be left out and is. Raises OutsideTable as
    ``given_wire``.
    """
    size = part.wire_size or usual_size
    wire = given_wire(size, part.colour, part.size_standard, part.insulation)
    return replace(
        wire,
        carries_ma=part.carries or 0,
        fuse_up_to_ma=part.fuse_up_to or 0,
        exempt=part.exempt or "",
    )


def _row_for(area_um2: int, size_standard: str) -> str:
    """The size whose ampacity row applies; 24 AWG's, which has none, down to 0.2 mm2."""
    try:
        return awg_size_for(area_um2, size_standard)
    except OutsideTable:
        if size_standard == "SAE" or area_um2 < THINNEST_UM2:
            raise
        return "24 AWG"


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


def checked_supplied(
    draft: Draft, path: KeyPath, part: SuppliedPart, side: str = ""
) -> list[Complaint]:
    """Faults of a pigtail's, boat wire's or lead's own wire. ``path`` is its part's.

    One thinner than the ampacity table has states what it carries and by which exemption it may
    be that thin; one that has a row states no exemption. ``side`` is its circuit's, "" unknown.
    """
    size = (*path, "wire_size")
    try:
        wire = supplied_wire(part)
    except OutsideTable as error:
        return [draft.complain(size, str(error), SIZES_ALLOWED)]
    is_thin = not _has_row(wire)
    found = _thin_faults(draft, path, wire) if is_thin else []
    if not is_thin:
        found += checked_wire(draft, size, wire, draft.part.engine_space)
        if wire.exempt:
            message = f"{wire.wire_size} has a row in the ampacity table and needs no exemption"
            found.append(draft.complain((*path, "exempt"), message, "leave the key out"))
    if part.fuse_up_to is not None and side in ("ground", "stop"):
        message = "a ground has no fuse: it belongs in the feed"
        found.append(draft.complain((*path, "fuse_up_to"), message, "leave the key out"))
    return found + _too_long(draft, path, part)


def _has_row(wire: GivenWire) -> bool:
    """Whether the ampacity table has its size; its insulation is judged apart."""
    try:
        table_ma(wire.ampacity_size, 105, False)
    except OutsideTable:
        return False
    return True


def _thin_faults(draft: Draft, path: KeyPath, wire: GivenWire) -> list[Complaint]:
    """What a wire without a row in the ampacity table leaves unsaid."""
    absent = [] if wire.carries_ma else ["carries"]
    absent += [] if wire.exempt else ["exempt"]
    try:
        table_ma(wire.ampacity_size, wire.insulation_temp_c, draft.part.engine_space)
    except OutsideTable as error:
        if absent:
            message = f"{error}: {' and '.join(absent)} not stated"
            return [draft.complain((*path, "wire_size"), message, THIN_ALLOWED)]
    return []


def _too_long(draft: Draft, path: KeyPath, part: SuppliedPart) -> list[Complaint]:
    """A wire that is exempt as a short pigtail states a reach under 7 in; a lead has none."""
    if part.exempt != "pigtail under 7 in" or isinstance(part, LeadPart):
        return []
    if part.reach is not None and part.reach < SHORT_MM:
        return []
    message = "exempt says that it is under 7 in (177.8 mm), and its reach does not"
    hint = "leave it out of this plan, and wire it by its maker's diagram; or state its reach"
    return [draft.complain((*path, "exempt"), message, hint)]


def wire_or_reason(
    wire_size: str, colour: str, size_standard: str, insulation_temp_c: int
) -> GivenWire | str:
    """The wire, or the sentence that says why its size cannot be used."""
    try:
        return given_wire(wire_size, colour, size_standard, insulation_temp_c)
    except OutsideTable as error:
        return str(error)
