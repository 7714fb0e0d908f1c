"""One CSV per kind of row, safe to open in a spreadsheet, the same bytes for the same plan."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import astuple, fields
from typing import Any

from defusedcsv import csv

from lugwright.outputs import rows_bench, rows_sums
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows import Rows, rows_of
from lugwright.outputs.words import one_line
from lugwright.plan.schema import Plan

# file name, the field of Rows it shows, and the kind of row (for the heading of an empty table)
TABLES: tuple[tuple[str, str, type[Any]], ...] = (
    ("buy-list.csv", "buy", rows_sums.BuyRow),
    ("cap-off.csv", "caps", rows_bench.CapRow),
    ("cautions.csv", "cautions", rows_sums.CautionRow),
    ("circuits.csv", "circuits", rows_sums.CircuitRow),
    ("crimp-list.csv", "crimps", rows_bench.CrimpRow),
    ("cut-list.csv", "cut", rows_bench.CutRow),
    ("drops.csv", "drops", rows_sums.DropRow),
    ("fuses.csv", "fuses", rows_sums.FuseRow),
    ("given-wires.csv", "given", rows_sums.GivenRow),
    ("landings.csv", "landings", rows_sums.LandingRow),
    ("limits.csv", "limits", rows_sums.LimitRow),
    ("loose-nuts.csv", "loose_nuts", rows_bench.LooseNutRow),
    ("splices.csv", "splices", rows_bench.SpliceRow),
    ("stacks.csv", "stacks", rows_bench.StackRow),
    ("steps.csv", "steps", rows_bench.StepRow),
    ("studs.csv", "studs", rows_bench.StudRow),
    ("ties.csv", "ties", rows_sums.TieRow),
    ("totals.csv", "totals", rows_sums.TotalRow),
    ("waivers.csv", "waivers", rows_sums.WaiverRow),
)


def csv_text(kind: type[Any], rows: Sequence[Any]) -> str:
    """One table: field names as heading, then the rows. Lines end in LF.

    A cell that a spreadsheet would take for a formula gets an apostrophe in front; control
    characters are taken out first, since a leading tab would hide a formula from that guard.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([field.name for field in fields(kind)])
    writer.writerows([_cell(value) for value in astuple(row)] for row in rows)
    return out.getvalue()


def _cell(value: object) -> object:
    """A cell's value with text made clean."""
    return one_line(value) if isinstance(value, str) else value


def csv_tables(plan: Plan) -> dict[str, str]:
    """File name to CSV text, for every table of a plan, empty ones included."""
    rows: Rows = rows_of(plan)
    return {name: csv_text(kind, getattr(rows, part)) for name, part, kind in TABLES}


def sheet_files(plan: Plan, paper: Paper) -> dict[str, bytes]:
    """Every table as a file; a table knows no paper size."""
    return {name: text.encode() for name, text in csv_tables(plan).items()}
