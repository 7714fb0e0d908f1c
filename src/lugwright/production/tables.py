"""Rows of a production run, ready for CSV: fields that end in a unit hold a plain decimal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lugwright.base.scale import mm_text, money_text
from lugwright.outputs.csv_text import csv_text
from lugwright.outputs.words import one_line
from lugwright.packing.kerf_and_scrap import scrap_dmm
from lugwright.packing.question import Filled
from lugwright.plans.schema import BuyLine
from lugwright.production.run import CrimpBatch, CutBatch, Model
from lugwright.production.spool_plan import SpoolPlan


@dataclass(frozen=True)
class KitRow:
    """One thing in one boat's kit. ``per_boat`` in pieces, or in mm for wire."""

    model: str
    item: str
    what: str
    per_boat: str
    unit: str
    boats: int


@dataclass(frozen=True)
class CutBatchRow:
    """Like pieces of wire, cut at one setting; labels with the number of their model."""

    spool: str
    length_mm: str
    strip_one_mm: str
    strip_other_mm: str
    pieces: int
    labels: str


@dataclass(frozen=True)
class CrimpBatchRow:
    """Like fittings, crimped with one die."""

    stage: str
    die: str
    fitting: str
    kind: str
    pieces: int


@dataclass(frozen=True)
class RunBuyRow:
    """One line of the run's buy list."""

    item: str
    need: int
    unit: str
    pack: int
    packs: int
    cost: str


@dataclass(frozen=True)
class SpoolRow:
    """One length of wire and what is cut from it, longest first."""

    spool: str
    number: int
    stock_mm: str
    new: str
    cuts: str
    rest_mm: str
    rest_is: str


def kit_rows(models: Iterable[Model]) -> tuple[KitRow, ...]:
    """What goes into one bag, model by model: cut pieces, then everything bought by the piece."""
    rows = []
    for model in models:
        title, boats = one_line(model.plan.title), model.boats
        for piece in model.plan.jumpers:
            length = mm_text(piece.length_dmm)
            what = f"{piece.spool}, {piece.from_joint} to {piece.to_joint}"
            rows.append(KitRow(title, piece.label, what, length, "mm", boats))
        for line in model.plan.buy:
            if line.unit == "piece":
                rows.append(KitRow(title, line.item, "", str(line.need), "piece", boats))
    return tuple(rows)


def cut_rows(batches: Iterable[CutBatch]) -> tuple[CutBatchRow, ...]:
    """The cutting batches."""
    return tuple(
        CutBatchRow(
            batch.spool,
            mm_text(batch.length_dmm),
            mm_text(batch.strip_least_dmm),
            mm_text(batch.strip_most_dmm),
            batch.count,
            "; ".join(batch.labels),
        )
        for batch in batches
    )


def crimp_rows(batches: Iterable[CrimpBatch]) -> tuple[CrimpBatchRow, ...]:
    """The crimping batches."""
    return tuple(CrimpBatchRow(b.stage, b.die, b.item, b.kind, b.count) for b in batches)


def buy_rows(lines: Iterable[BuyLine]) -> tuple[RunBuyRow, ...]:
    """The buy list."""
    return tuple(
        RunBuyRow(x.item, x.need, x.unit, x.pack, x.packs, money_text(x.cost_micro)) for x in lines
    )


def spool_rows(plans: Iterable[SpoolPlan]) -> tuple[SpoolRow, ...]:
    """Every spool and offcut that is cut into; the number counts within its kind of wire."""
    return tuple(
        _spool_row(plan, number, one)
        for plan in plans
        for number, one in enumerate(plan.packing.filled, 1)
    )


def _spool_row(plan: SpoolPlan, number: int, one: Filled) -> SpoolRow:
    scrap = scrap_dmm(one.rest_dmm, plan.question.keep_dmm)
    rest_is = "scrap" if scrap else "kept" if one.rest_dmm else "none"
    cuts = ", ".join(f"{count} × {mm_text(length)}" for length, count in one.cuts)
    new = "new spool" if one.new else "on hand"
    return SpoolRow(
        plan.spool, number, mm_text(one.stock_dmm), new, cuts, mm_text(one.rest_dmm), rest_is
    )


def spool_row_runs(rows: Sequence[SpoolRow]) -> list[tuple[str, SpoolRow]]:
    """Like spools told together: ``3 to 7`` with the row they share."""
    runs: list[list[SpoolRow]] = []
    for row in rows:
        if runs and _alike(runs[-1][-1]) == _alike(row):
            runs[-1].append(row)
        else:
            runs.append([row])
    return [
        (str(run[0].number) if len(run) == 1 else f"{run[0].number} to {run[-1].number}", run[0])
        for run in runs
    ]


def _alike(row: SpoolRow) -> tuple[str, ...]:
    return (row.spool, row.stock_mm, row.new, row.cuts)


def run_tables(
    models: Sequence[Model],
    cuts: Sequence[CutBatch],
    crimps: Sequence[CrimpBatch],
    bought: Sequence[BuyLine],
    spools: Sequence[SpoolPlan],
) -> dict[str, str]:
    """File name to CSV, for everything a run's folder holds as tables."""
    return {
        "kits.csv": csv_text(KitRow, kit_rows(models)),
        "cut-batches.csv": csv_text(CutBatchRow, cut_rows(cuts)),
        "crimp-batches.csv": csv_text(CrimpBatchRow, crimp_rows(crimps)),
        "run-buy-list.csv": csv_text(RunBuyRow, buy_rows(bought)),
        "spool-plan.csv": csv_text(SpoolRow, spool_rows(spools)),
    }


def offcuts_csv(plans: Iterable[SpoolPlan], on_hand: dict[str, list[int]]) -> str:
    """What is on hand after the run, in the form the next run reads."""
    lines = ["spool,length"]
    for plan in plans:
        used = Counter(one.stock_dmm for one in plan.packing.filled if not one.new)
        left = Counter(on_hand.get(plan.spool, ())) - used
        kept = [x.rest_dmm for x in plan.packing.filled if x.rest_dmm >= plan.question.keep_dmm]
        for length in sorted([*left.elements(), *(rest for rest in kept if rest)]):
            lines.append(f"{plan.spool},{mm_text(length)} mm")
    return "\n".join(lines) + "\n"
