"""One CSV per kind of row, safe to open in a spreadsheet, the same bytes for the same plan."""

from __future__ import annotations

from typing import Any

from lugwright.outputs import rows_bench, rows_sums, rows_ways
from lugwright.outputs.csv_text import csv_text
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.rows import Rows
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.table_files import TABLE_FILES

_KINDS: dict[str, type[Any]] = {
    "buy": rows_sums.BuyRow,
    "caps": rows_bench.CapRow,
    "cautions": rows_sums.CautionRow,
    "circuits": rows_sums.CircuitRow,
    "crimps": rows_bench.CrimpRow,
    "cut": rows_bench.CutRow,
    "drops": rows_sums.DropRow,
    "fuses": rows_sums.FuseRow,
    "given": rows_sums.GivenRow,
    "landings": rows_sums.LandingRow,
    "limits": rows_sums.LimitRow,
    "live": rows_ways.LiveStateRow,
    "loose_nuts": rows_bench.LooseNutRow,
    "splices": rows_bench.SpliceRow,
    "stacks": rows_bench.StackRow,
    "steps": rows_bench.StepRow,
    "studs": rows_bench.StudRow,
    "ties": rows_sums.TieRow,
    "totals": rows_sums.TotalRow,
    "waivers": rows_sums.WaiverRow,
    "ways": rows_ways.DeviceRow,
}
# file name, the field of Rows it shows, and the kind of row (for the heading of an empty table)
TABLES: tuple[tuple[str, str, type[Any]], ...] = tuple(
    (name, part, _KINDS[part]) for name, part in TABLE_FILES.items()
)


def csv_tables(rows: Rows) -> dict[str, str]:
    """File name to CSV text, for every table of a plan."""
    return {name: csv_text(kind, getattr(rows, part)) for name, part, kind in TABLES}


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """Every table as a file; a table knows no paper size."""
    return {name: text.encode() for name, text in csv_tables(shown.rows).items()}
