"""What ``lugwright spools`` answers: what is cut from which length."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from lugwright.base.scale import mm_text
from lugwright.cli.table import table
from lugwright.production.spool_plan import SpoolPlan
from lugwright.production.tables import spool_row_runs, spool_rows


def as_data(one: SpoolPlan) -> dict[str, Any]:
    """One kind of wire as data."""
    packing = one.packing
    return {
        "spool": one.spool,
        "least": one.question.least,
        "proved": packing.proved(one.question.least),
        "need_dmm": one.question.total_dmm,
        "new_spools": packing.spools,
        "new_spools_bound": packing.spools_bound,
        "scrap_dmm": packing.scrap_dmm,
        "scrap_bound_dmm": packing.scrap_bound_dmm,
        "filled": [asdict(filled) | {"rest_dmm": filled.rest_dmm} for filled in packing.filled],
    }


def as_lines(found: tuple[SpoolPlan, ...]) -> list[str]:
    """Every kind of wire as a sentence and a table, and the sums."""
    lines: list[str] = []
    for one in found:
        lines += ["", _sentence(one)] if lines else [_sentence(one)]
        rows = [
            (number, row.stock_mm, row.new, row.cuts, row.rest_mm, row.rest_is)
            for number, row in spool_row_runs(spool_rows((one,)))
        ]
        head = ("spool", "length mm", "from", "cut, mm", "rest mm", "rest is")
        lines.append(table(head, rows, right=(1, 4)))
    total = sum(one.packing.scrap_dmm for one in found)
    news = sum(one.packing.spools for one in found)
    return [*lines, "", f"New spools {news}; scrap {mm_text(total)} mm."]


def _sentence(one: SpoolPlan) -> str:
    packing = one.packing
    if packing.proved(one.question.least):
        known = "proved least"
    else:
        known = (
            f"not proved: at least {packing.spools_bound} new spools and "
            f"{mm_text(packing.scrap_bound_dmm)} mm of scrap"
        )
    return (
        f"{one.spool}: {mm_text(one.question.total_dmm)} mm wanted, {packing.spools} new spools, "
        f"scrap {mm_text(packing.scrap_dmm)} mm; {known}."
    )
