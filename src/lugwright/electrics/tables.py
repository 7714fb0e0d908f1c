"""The published tables, read from ``tables/*.csv`` once, when first asked for.

Every row of every file has a ``source`` column: the published source, how the value was
obtained, and whether it is from memory. The rows here are values; the formulas are beside them
in the files that use them. Areas are given in circular mils and held in square micrometres.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from lugwright.base.scale import CMIL_TO_UM2

_FOLDER = Path(__file__).with_name("tables")
STRIPED = " with "
"""Between a wire's colour and that of its stripe, written out."""


@dataclass(frozen=True)
class SizeRow:
    """Strand areas of one wire size; ``sae_um2`` 0 where SAE has no such size.

    ``b258_um2`` is the nominal area of ASTM B258, ``sae_um2`` the SAE minimum area.
    """

    size: str
    b258_um2: int
    sae_um2: int
    source: str


@dataclass(frozen=True)
class AmpacityRow:
    """One row of 33 CFR 183.425 Table 5, with its Note 1 factor for engine spaces."""

    size: str
    insulation_temp_c: int
    current_ma: int
    engine_space_permille: int
    source: str


@dataclass(frozen=True)
class BundleRow:
    """The factor of one rule set for a range of conductors; ``conductors_to`` None: no end."""

    rule: str
    conductors_from: int
    conductors_to: int | None
    factor_permille: int
    what_is_counted: str
    source: str


@dataclass(frozen=True)
class TabRow:
    """Largest current of one tab size (UL 310, with the largest wire listed there)."""

    tab_size: str
    current_ma: int
    largest_listed_wire: str
    source: str


@dataclass(frozen=True)
class ColourUse:
    """What a conductor colour stands for; ``alternative`` "" when there is none."""

    function: str
    colour: str
    alternative: str
    role: str
    source: str


def cmil_to_um2(area_cmil: str) -> int:
    """Circular mils as written, to square micrometres, to the nearest."""
    return round(float(area_cmil) * CMIL_TO_UM2)


def striped_colour(base: str, stripe: str) -> str:
    """A colour with a stripe as it is written out: ``brown with yellow stripe``."""
    return f"{base}{STRIPED}{stripe} stripe"


def _rows(name: str) -> list[dict[str, str]]:
    with (_FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _milli(decimal: str) -> int:
    return int(Fraction(decimal) * 1000)


@cache
def size_rows() -> tuple[SizeRow, ...]:
    """Strand areas, thinnest first."""
    rows = (
        SizeRow(
            row["size"],
            cmil_to_um2(row["b258_circular_mils"]),
            cmil_to_um2(row["sae_minimum_circular_mils"] or "0"),
            row["source"],
        )
        for row in _rows("strand_areas.csv")
    )
    return tuple(sorted(rows, key=lambda row: row.b258_um2))


@cache
def ampacity_rows() -> dict[tuple[str, int], AmpacityRow]:
    """33 CFR 183.425 Table 5 by wire size and insulation temperature in degrees Celsius."""
    rows = (
        AmpacityRow(
            row["size"],
            int(row["insulation_temp_c"]),
            _milli(row["amps"]),
            int(row["engine_space_permille"]),
            row["source"],
        )
        for row in _rows("ampacity.csv")
    )
    return {(row.size, row.insulation_temp_c): row for row in rows}


@cache
def bundle_rows() -> dict[str, tuple[BundleRow, ...]]:
    """Bundle factors by the name of the rule set, each from one conductor up."""
    found: dict[str, list[BundleRow]] = {}
    for row in _rows("bundle_factors.csv"):
        upto = row["conductors_to"]
        found.setdefault(row["rule"], []).append(
            BundleRow(
                row["rule"],
                int(row["conductors_from"]),
                int(upto) if upto else None,
                int(row["factor_permille"]),
                row["what_is_counted"],
                row["source"],
            )
        )
    return {rule: tuple(rows) for rule, rows in found.items()}


@cache
def tab_rows() -> dict[str, TabRow]:
    """Tab currents by tab size."""
    rows = (
        TabRow(row["tab_size"], _milli(row["amps"]), row["largest_listed_wire"], row["source"])
        for row in _rows("tab_currents.csv")
    )
    return {row.tab_size: row for row in rows}


@cache
def colour_uses() -> tuple[ColourUse, ...]:
    """The closed list of standard conductor colours with their functions."""
    return tuple(
        ColourUse(row["function"], row["colour"], row["alternative"], row["role"], row["source"])
        for row in _rows("conductor_colours.csv")
    )


@cache
def listed_colour_codes() -> dict[str, str]:
    """Short code of each colour of the table, plain colours and the stripes it lists."""
    return {row["colour"]: row["code"] for row in _rows("colour_codes.csv")}


@cache
def colour_codes() -> dict[str, str]:
    """Short code by colour: the table's, and any plain colour with a stripe of any other.

    A striped colour's code is the two codes one after the other, base colour first, as the table
    has it for the stripes it lists.
    """
    listed = listed_colour_codes()
    plain = [colour for colour in listed if STRIPED not in colour]
    striped = {
        striped_colour(base, stripe): listed[base] + listed[stripe]
        for base in plain
        for stripe in plain
        if base != stripe
    }
    return {**striped, **listed}
