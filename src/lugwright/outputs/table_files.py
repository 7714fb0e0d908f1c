"""The tables of a plan folder by name. Help pages list them, so nothing is loaded for it."""

from __future__ import annotations

# file name: the field of ``rows.Rows`` it shows
TABLE_FILES: dict[str, str] = {
    "buy-list.csv": "buy",
    "cap-off.csv": "caps",
    "cautions.csv": "cautions",
    "circuits.csv": "circuits",
    "crimp-list.csv": "crimps",
    "cut-list.csv": "cut",
    "drops.csv": "drops",
    "fuses.csv": "fuses",
    "given-wires.csv": "given",
    "landings.csv": "landings",
    "limits.csv": "limits",
    "live.csv": "live",
    "loose-nuts.csv": "loose_nuts",
    "splices.csv": "splices",
    "stacks.csv": "stacks",
    "steps.csv": "steps",
    "studs.csv": "studs",
    "ties.csv": "ties",
    "totals.csv": "totals",
    "waivers.csv": "waivers",
    "ways.csv": "ways",
}
