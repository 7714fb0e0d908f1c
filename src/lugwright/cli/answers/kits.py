"""What ``lugwright kits`` answers: sums, batches, what to buy."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from lugwright.cli import options
from lugwright.cli.exits import Exit
from lugwright.cli.table import table
from lugwright.production.run_text import sums_lines
from lugwright.production.tables import buy_rows, crimp_rows, cut_rows
from lugwright.production.whole_run import WholeRun


def write_run(run: WholeRun, out: Path) -> tuple[str, ...]:
    """The run's folder; the names of its files."""
    from lugwright.production import run_folder  # reportlab

    return run_folder.write_run(run, out, tell=options.tell)


def as_data(run: WholeRun, code: Exit, files: tuple[str, ...]) -> dict[str, Any]:
    """The run as data."""
    return {
        "exit": int(code),
        "models": [
            {"title": model.plan.title, "boats": model.boats, "hub": model.plan.hub}
            for model in run.models
        ],
        "sums": asdict(run.sums) | {"minutes_cmin": run.sums.minutes_cmin},
        "cut_batches": [asdict(batch) for batch in run.cuts],
        "crimp_batches": [asdict(batch) for batch in run.crimps],
        "buy": [line.model_dump() for line in run.bought],
        "spools": [
            {"spool": one.spool, "new": one.packing.spools, "scrap_dmm": one.packing.scrap_dmm}
            for one in run.spools
        ],
        "files": list(files),
    }


def as_lines(run: WholeRun) -> list[str]:
    """The run in sentences and tables."""
    return [
        *sums_lines(run),
        *("", "Cut in batches", _cut_table(run)),
        *("", "Crimp in batches", _crimp_table(run)),
        *("", "Buy", _buy_table(run)),
    ]


def _cut_table(run: WholeRun) -> str:
    rows = [
        (x.spool, x.length_mm, x.strip_one_mm, x.strip_other_mm, str(x.pieces), x.labels)
        for x in cut_rows(run.cuts)
    ]
    head = ("spool", "length mm", "strip mm", "other end mm", "pieces", "labels (model: label)")
    return table(head, rows, right=(1, 2, 3, 4))


def _crimp_table(run: WholeRun) -> str:
    rows = [(x.stage, x.die, x.fitting, str(x.pieces)) for x in crimp_rows(run.crimps)]
    return table(("stage", "die", "fitting", "pieces"), rows, right=(3,))


def _buy_table(run: WholeRun) -> str:
    rows = [
        (x.item, str(x.need), x.unit, str(x.pack), str(x.packs), x.cost)
        for x in buy_rows(run.bought)
    ]
    return table(("item", "need", "unit", "pack", "packs", "cost"), rows, right=(1, 3, 4, 5))
