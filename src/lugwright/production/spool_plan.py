"""The spool plan of a run: which piece is cut from which spool or offcut."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from lugwright.base.csv_marks import mark_of, with_point
from lugwright.base.errors import BadInput, Complaint
from lugwright.base.files import read_file, refused
from lugwright.base.units import parse_length_mm, to_dmm
from lugwright.packing.question import Least, Packing, PackingQuestion
from lugwright.production.run import Model, wire_needs

COLUMNS = ("spool", "length")
MOST_BYTES = 1_000_000


@dataclass(frozen=True)
class SpoolPlan:
    """How one kind of wire is cut for the run."""

    spool: str
    question: PackingQuestion
    packing: Packing


def spool_plans(
    models: Sequence[Model],
    on_hand: Mapping[str, Sequence[int]],
    keep_dmm: int,
    least: Least = "spools",
    *,
    time_limit_s: float | None = None,
) -> tuple[SpoolPlan, ...]:
    """Cut every kind of wire of the run from what is on hand and from new spools.

    ``time_limit_s`` is shared out evenly. Raises ValueError when a piece is longer than a spool.
    """
    from lugwright.packing.model import best_packing

    lengths = spool_lengths_dmm(models)
    needs = wire_needs(models)
    share = None if time_limit_s is None else time_limit_s / max(1, len(needs))
    found = []
    for spool, pieces in needs.items():
        hand = tuple(sorted(on_hand.get(spool, ())))
        question = PackingQuestion(pieces, hand, lengths[spool], keep_dmm, least)
        found.append(SpoolPlan(spool, question, best_packing(question, time_limit_s=share)))
    return tuple(found)


def spool_lengths_dmm(models: Iterable[Model]) -> dict[str, int]:
    """Length of a new spool of each wire, as the plans' buy lists have it."""
    return {
        line.item: line.pack * 10
        for model in models
        for line in model.plan.buy
        if line.unit == "mm"
    }


def read_on_hand(path: Path, known: Iterable[str]) -> dict[str, list[int]]:
    """Offcuts and begun spools from a CSV with the columns ``spool,length``: ``12.5 m`` or so.

    Raises BadInput, with every complaint, for a file that cannot be read, a spool that is not
    one of ``known``, or a length that is none.
    """
    try:
        text = read_file(path, MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refused(path, "is not text in UTF-8") from error
    names, faults = set(known), []
    found: dict[str, list[int]] = {}
    mark = mark_of(text)
    reader = csv.reader(StringIO(text, newline=""), delimiter=mark)
    try:
        rows = [(row, reader.line_num) for row in reader]
    except csv.Error as error:
        message = f"is not CSV: {error}"
        raise BadInput(Complaint(str(path), reader.line_num, 1, "", message)) from None
    if not rows or tuple(cell.strip() for cell in rows[0][0]) != COLUMNS:
        raise refused(path, f"the first line must be {','.join(COLUMNS)}")
    for row, line in rows[1:]:
        cells = [cell.strip() for cell in row]
        if not any(cells) or cells[0].startswith("#"):
            continue
        cells[1:] = [with_point(cell, mark) for cell in cells[1:]]
        fault = _row(cells, names, found)
        if fault:
            faults.append(Complaint(str(path), line, 1, *fault))
    if faults:
        raise BadInput(*faults)
    return found


def _row(
    cells: Sequence[str], names: set[str], found: dict[str, list[int]]
) -> tuple[str, str, str] | None:
    """Read one row; what is wrong with it as field, message and hint."""
    if len(cells) != len(COLUMNS):
        return "", f"has {len(cells)} cells", f"write {','.join(COLUMNS)}"
    spool, length = cells
    if spool not in names:
        return (
            "spool",
            f"{spool!r} is not cut in this run",
            f"there are: {', '.join(sorted(names))}",
        )
    try:
        length_dmm = to_dmm(parse_length_mm(length))
    except ValueError as error:
        return "length", str(error), ""
    if length_dmm <= 0:
        return "length", "must be above 0", ""
    found.setdefault(spool, []).append(length_dmm)
    return None
