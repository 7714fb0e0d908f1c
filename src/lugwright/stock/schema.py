"""What lies in stock: wire, fittings, hardware, fuses. Rows of the stock tables, resolved.

All values are integers on the scales of ``base.scale``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

FittingKind = Literal[
    "ring", "captive spade", "plain spade", "push-on", "butt", "closed end", "cap"
]
STUD_KINDS = ("ring", "captive spade", "plain spade")
SPLICE_KINDS = ("butt", "closed end")


@dataclass(frozen=True, order=True)
class Spool:
    """One kind of wire in stock: a wire size in one colour.

    ``area_um2`` is the stated strand area, ``insulation_um`` the outside diameter,
    ``ampacity_size`` the AWG row of the ampacity table that applies (the largest AWG size whose
    nominal area by the spool's own size standard is not above the stated one).
    """

    wire_size: str
    colour: str
    size_standard: str
    area_um2: int
    insulation_um: int
    insulation_temp_c: int
    ampacity_size: str
    price_micro_per_m: int
    spool_length_dmm: int
    name: str
    source: str = ""


@dataclass(frozen=True)
class Barrel:
    """One crimp barrel: the summed strand area it takes, and what its sleeve takes.

    ``sleeve_um`` is the sleeve's inside diameter; wires fit when the sum of their squared
    insulation diameters is at most its square (jacket cross-sections add).
    """

    area_min_um2: int
    area_max_um2: int
    sleeve_um: int
    length_dmm: int


@dataclass(frozen=True)
class FittingType:
    """One row of the fitting table.

    ``barrels`` has one entry, or two for a butt (the second is the other half).
    ``stud_threads`` are the threads a ring or spade fits; ``tab_size`` the tab a push-on fits.
    ``tongue_dmm`` is the tongue's thickness in 0.1 mm (stack height), ``barrel_angle_deg`` the
    room round the stud one barrel needs, ``carries_ma`` the fitting's own limit.
    """

    name: str
    kind: FittingKind
    colour: str
    barrels: tuple[Barrel, ...]
    lined: bool
    stud_threads: tuple[str, ...]
    tab_size: str
    tongue_dmm: int
    barrel_angle_deg: int
    carries_ma: int
    die: str
    price_micro: int
    pack: int
    source: str = ""


@dataclass(frozen=True)
class Hardware:
    """Nut and washer of one thread; thicknesses in 0.1 mm, ``pitch_um`` in micrometres."""

    thread: str
    nut_dmm: int
    lock_washer_dmm: int
    pitch_um: int
    across_flats_um: int
    driver: str
    price_micro: int
    pack: int
    source: str = ""


@dataclass(frozen=True)
class FuseType:
    """One fuse rating in stock."""

    rating_ma: int
    name: str
    colour: str
    price_micro: int
    pack: int


@dataclass(frozen=True)
class Stock:
    """The whole stock. ``digest`` is a SHA-256 over all its rows."""

    spools: tuple[Spool, ...]
    fittings: tuple[FittingType, ...]
    hardware: tuple[Hardware, ...]
    fuses: tuple[FuseType, ...]
    digest: str = ""
    files: tuple[str, ...] = ()

    def spool(self, wire_size: str, colour: str) -> Spool | None:
        """The spool of that size and colour, or None when the stock has none."""
        for spool in self.spools:
            if spool.wire_size == wire_size and spool.colour == colour:
                return spool
        return None

    def spools_of_colour(self, colour: str) -> tuple[Spool, ...]:
        """Every spool of a colour, thinnest first."""
        found = (spool for spool in self.spools if spool.colour == colour)
        return tuple(sorted(found, key=lambda spool: (spool.area_um2, spool.wire_size)))

    def fitting(self, name: str) -> FittingType:
        """The fitting row of that name. Raises KeyError when there is none."""
        for fitting in self.fittings:
            if fitting.name == name:
                return fitting
        raise KeyError(name)

    def hardware_for(self, thread: str) -> Hardware:
        """Nut and washer of a thread. Raises KeyError when the table has none."""
        for row in self.hardware:
            if row.thread == thread:
                return row
        raise KeyError(thread)
