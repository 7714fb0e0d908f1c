"""The rows of the four stock tables: their columns, and cells to values."""

from __future__ import annotations

from math import pi
from typing import cast, get_args

from lugwright.base.errors import OutsideTable
from lugwright.base.units import parse_tab_size, parse_thread, parse_wire_size
from lugwright.electrics.colours import canonical_colour
from lugwright.electrics.sizes import SIZE_STANDARDS, awg_size_for, nominal_area_um2
from lugwright.electrics.tables import ampacity_rows
from lugwright.stock.cells import Cells
from lugwright.stock.schema import (
    STUD_KINDS,
    Barrel,
    FittingKind,
    FittingType,
    FuseType,
    Hardware,
    Spool,
)
from lugwright.stock.table import Columns

KINDS: tuple[str, ...] = get_args(FittingKind)

CONDUCTOR_COLUMNS = Columns(
    required=(
        *("name", "wire_size", "colour", "size_standard", "insulation"),
        *("insulation_temp_c", "price_per_m", "spool_length"),
    ),
    optional=("area_cmil", "area_mm2", "source"),
)
FITTING_COLUMNS = Columns(
    required=("name", "kind", "colour", "sleeve", "barrel_length", "die", "price", "pack"),
    optional=(
        *("lined", "threads", "tab_size", "tongue", "barrel_angle_deg", "carries"),
        *("area_min_cmil", "area_max_cmil", "area_min_mm2", "area_max_mm2"),
        *("area2_min_cmil", "area2_max_cmil", "area2_min_mm2", "area2_max_mm2"),
        *("sleeve2", "barrel_length2", "source"),
    ),
)
HARDWARE_COLUMNS = Columns(
    required=(
        *("thread", "nut", "lock_washer", "pitch", "across_flats", "driver"),
        *("price", "pack"),
    ),
    optional=("source",),
)
FUSE_COLUMNS = Columns(required=("name", "rating", "colour", "price", "pack"), optional=("source",))

# Strand areas in trade lie from 10 % under to 17 % over the nominal one (SAE minimum areas;
# the 18 AWG row of FAA AC 43.13-1B Table 11-9): beyond half or double, the area is a slip.
_AREA_SLIP = 2


def spool(cells: Cells) -> Spool:
    """One kind of wire. Counts only when ``cells`` has no complaints."""
    wire_size = cells.spelled("wire_size", parse_wire_size)
    standard = cells.choice("size_standard", SIZE_STANDARDS)
    area_um2 = cells.area_um2("area")
    insulation_um = cells.length_um_up("insulation")
    temperatures = sorted({temperature for _, temperature in ampacity_rows()})
    insulation_temp = cells.choice("insulation_temp_c", [str(t) for t in temperatures])
    sound = not cells.complaints
    ampacity_size = _ampacity_size(cells, wire_size, standard, area_um2) if sound else ""
    if not cells.complaints and insulation_um**2 * pi / 4 <= area_um2:
        cells.complain("insulation", "the wire would be thinner than its own strands")
    return Spool(
        wire_size=wire_size,
        colour=cells.spelled("colour", canonical_colour),
        size_standard=standard,
        area_um2=area_um2,
        insulation_um=insulation_um,
        insulation_temp_c=int(insulation_temp) if sound else 0,
        ampacity_size=ampacity_size,
        price_micro_per_m=cells.price_micro("price_per_m"),
        spool_length_dmm=cells.length_dmm("spool_length"),
        name=cells.text("name"),
        source=cells.note("source"),
    )


def _ampacity_size(cells: Cells, wire_size: str, standard: str, area_um2: int) -> str:
    """The row of the ampacity table, once size, standard and area fit one another."""
    if wire_size.endswith("mm2") != (standard == "metric"):
        cells.complain("size_standard", f'"{standard}" is not the standard of {wire_size}')
        return ""
    column = "area_cmil" if cells.written("area_cmil") else "area_mm2"
    try:
        nominal_um2 = nominal_area_um2(wire_size, standard)
        size = awg_size_for(area_um2, standard)
    except OutsideTable as error:
        cells.complain(column, str(error))
        return ""
    if not nominal_um2 <= area_um2 * _AREA_SLIP <= nominal_um2 * _AREA_SLIP**2:
        cells.complain(column, f"{area_um2 / 1_000_000:.3f} mm2 is not the area of {wire_size}")
    elif (size, int(cells.written("insulation_temp_c"))) not in ampacity_rows():
        message = f"{size} has no row in 33 CFR 183.425 Table 5, whose smallest size is 18 AWG"
        cells.complain(column, message)
    return size


def fitting(cells: Cells) -> FittingType:
    """One fitting. Counts only when ``cells`` has no complaints."""
    kind = cells.choice("kind", KINDS)
    on_stud = kind in STUD_KINDS
    return FittingType(
        name=cells.text("name"),
        kind=cast(FittingKind, kind),
        colour=cells.text("colour"),
        barrels=_barrels(cells, kind),
        lined=cells.yes("lined") if cells.written("lined") else False,
        stud_threads=_threads(cells, kind),
        tab_size=_tab_size(cells, kind),
        tongue_dmm=cells.length_dmm_up("tongue") if on_stud else 0,
        barrel_angle_deg=cells.whole("barrel_angle_deg", 1, 360) if on_stud else 0,
        carries_ma=cells.limit_ma("carries"),
        die=cells.text("die"),
        price_micro=cells.price_micro("price"),
        pack=cells.whole("pack", 1),
        source=cells.note("source"),
    )


def _barrels(cells: Cells, kind: str) -> tuple[Barrel, ...]:
    """One barrel, or the two halves of a butt; halves are alike where the second is not given."""
    first = _barrel(cells, "")
    second = [f"area2_{end}_{unit}" for end in ("min", "max") for unit in ("cmil", "mm2")]
    given = [column for column in (*second, "sleeve2", "barrel_length2") if cells.written(column)]
    if kind != "butt":
        for column in given if kind in KINDS else ():
            cells.must_be_empty(column, "only a butt has a second barrel")
        return (first,)
    return (first, _barrel(cells, "2") if given else first)


def _barrel(cells: Cells, number: str) -> Barrel:
    before = len(cells.complaints)
    area_min_um2 = cells.area_um2(f"area{number}_min")
    area_max_um2 = cells.area_um2(f"area{number}_max")
    if area_min_um2 > area_max_um2 and len(cells.complaints) == before:
        unit = "cmil" if cells.written(f"area{number}_min_cmil") else "mm2"
        largest = cells.written(f"area{number}_max_cmil") or cells.written(f"area{number}_max_mm2")
        message = f"the smallest area is above the largest ({largest})"
        cells.complain(f"area{number}_min_{unit}", message)
    return Barrel(
        area_min_um2=area_min_um2,
        area_max_um2=area_max_um2,
        sleeve_um=cells.length_um(f"sleeve{number}"),
        length_dmm=cells.length_dmm_up(f"barrel_length{number}"),
    )


def _threads(cells: Cells, kind: str) -> tuple[str, ...]:
    """Threads a ring or spade fits, written with ``;`` between them, each once."""
    if kind not in KINDS:
        return ()  # what belongs to a kind that is not known cannot be judged
    if kind not in STUD_KINDS:
        cells.must_be_empty("threads", f"a {kind} goes on no stud")
        cells.must_be_empty("tongue", f"a {kind} has none")
        return ()
    threads = []
    for part in cells.written("threads").split(";"):
        try:
            threads.append(parse_thread(part.strip()))
        except ValueError as error:
            cells.complain("threads", str(error), "several threads: put ; between them")
    if len(set(threads)) != len(threads):
        cells.complain("threads", "the same thread stands here twice")
    return tuple(threads)


def _tab_size(cells: Cells, kind: str) -> str:
    if kind == "push-on":
        return cells.spelled("tab_size", parse_tab_size)
    if kind in KINDS:
        cells.must_be_empty("tab_size", f"a {kind} goes on no tab")
    return ""


def hardware(cells: Cells) -> Hardware:
    """Nut and washer of one thread. Counts only when ``cells`` has no complaints."""
    return Hardware(
        thread=cells.spelled("thread", parse_thread),
        nut_dmm=cells.length_dmm_up("nut"),
        lock_washer_dmm=cells.length_dmm_up("lock_washer", zero=True),
        pitch_um=cells.length_um_up("pitch"),
        across_flats_um=cells.length_um_up("across_flats"),
        driver=cells.text("driver"),
        price_micro=cells.price_micro("price"),
        pack=cells.whole("pack", 1),
        source=cells.note("source"),
    )


def fuse(cells: Cells) -> FuseType:
    """One fuse rating. Counts only when ``cells`` has no complaints."""
    if not cells.written("rating"):
        cells.complain("rating", "nothing is written")
    cells.note("source")
    return FuseType(
        rating_ma=cells.limit_ma("rating"),
        name=cells.text("name"),
        colour=cells.text("colour"),
        price_micro=cells.price_micro("price"),
        pack=cells.whole("pack", 1),
    )
