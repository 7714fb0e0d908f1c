"""A production run: so many boats of one model or of a mix, gathered into kits and batches.

Everything is counted from the plans alone; a run of N boats needs N times what one boat needs,
and saves what whole packs and shared set-ups save.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lugwright.base.scale import ceil_div
from lugwright.base.units import parse_money_micro
from lugwright.plans.schema import BuyLine, Plan
from lugwright.production.times import TimeTable
from lugwright.trade.money import labour_micro


@dataclass(frozen=True)
class Model:
    """One model of the run: its plan, how many boats, and the serial number of the first."""

    plan: Plan
    boats: int
    first_serial: str = ""

    def serials(self) -> Iterator[str]:
        """Serial numbers in order: the digits at the end count up, keeping their width."""
        head, digits = _serial_parts(self.first_serial or "1")
        for number in range(int(digits), int(digits) + self.boats):
            yield f"{head}{number:0{len(digits)}}"


def _serial_parts(serial: str) -> tuple[str, str]:
    match = re.search(r"[0-9]+$", serial)
    return (serial[: match.start()], match.group()) if match else (f"{serial} ", "1")


@dataclass(frozen=True)
class CutBatch:
    """Like pieces, cut and stripped at one setting. Lengths in 0.1 mm; ``labels`` name them.

    ``strip_least_dmm`` at one end and ``strip_most_dmm`` at the other; the label says which.
    """

    spool: str
    length_dmm: int
    strip_least_dmm: int
    strip_most_dmm: int
    count: int
    labels: tuple[str, ...]


@dataclass(frozen=True)
class CrimpBatch:
    """Like fittings, crimped with one die."""

    die: str
    item: str
    kind: str
    stage: str
    count: int


@dataclass(frozen=True)
class RunSums:
    """The run in numbers. Pieces' minutes and money are exactly those of the boats together.

    ``buy_micro`` is for whole packs, ``buy_alone_micro`` what the same packs would cost were
    every boat bought for by itself.
    """

    boats: int
    piece_cmin: int
    set_up_cmin: int
    piece_money_micro: int
    set_up_micro: int
    buy_micro: int
    buy_alone_micro: int

    @property
    def minutes_cmin(self) -> int:
        """All working time of the run."""
        return self.piece_cmin + self.set_up_cmin


def cut_batches(models: Iterable[Model]) -> tuple[CutBatch, ...]:
    """Batches by spool, the longest pieces first (a spool's end then still serves short ones)."""
    counts: Counter[tuple[str, int, int, int]] = Counter()
    labels: dict[tuple[str, int, int, int], list[str]] = {}
    for number, model in enumerate(models, 1):
        for piece in model.plan.jumpers:
            # the cutter strips either end; a piece turned round is the same piece
            least, most = sorted((piece.strip_a_dmm, piece.strip_b_dmm))
            key = (piece.spool, -piece.length_dmm, least, most)
            counts[key] += model.boats
            labels.setdefault(key, []).append(f"{number}: {piece.label}")
    return tuple(
        CutBatch(
            spool, -length, a, b, counts[spool, length, a, b], tuple(labels[spool, length, a, b])
        )
        for spool, length, a, b in sorted(counts)
    )


def crimp_batches(models: Iterable[Model]) -> tuple[CrimpBatch, ...]:
    """Batches by die, then fitting; bench work before what is crimped aboard."""
    counts: Counter[tuple[str, str, str, str]] = Counter()
    for model in models:
        for crimp in model.plan.crimps:
            stage = "1 bench" if crimp.stage == "bench" else "2 aboard"
            counts[stage, crimp.die, crimp.item, crimp.kind] += model.boats
    return tuple(
        CrimpBatch(die, item, kind, stage[2:], counts[stage, die, item, kind])
        for stage, die, item, kind in sorted(counts)
    )


def wire_needs(models: Iterable[Model]) -> dict[str, Counter[int]]:
    """For each spool: cut length (0.1 mm) and how many of it the whole run takes."""
    needs: dict[str, Counter[int]] = {}
    for model in models:
        for piece in model.plan.jumpers:
            needs.setdefault(piece.spool, Counter())[piece.length_dmm] += model.boats
    return dict(sorted(needs.items()))


def buy_lines(models: Iterable[Model], spools: dict[str, int] | None = None) -> tuple[BuyLine, ...]:
    """The buy list of the run in whole packs. ``spools``: new spools by a spool plan.

    Raises ValueError when two plans know one item in different packs or prices.
    """
    needs: Counter[str] = Counter()
    known: dict[str, tuple[str, int, int]] = {}
    for model in models:
        for line in model.plan.buy:
            own = (str(line.unit), line.pack, line.cost_micro // line.packs)
            if known.setdefault(line.item, own) != own:
                raise ValueError(
                    f"the plans know {line.item} in different packs or at other prices"
                )
            needs[line.item] += line.need * model.boats
    lines = []
    for item in known:
        unit, pack, price = known[item]
        number = ceil_div(needs[item], pack)

        if spools and unit == "mm" and item in spools:
            number = spools[item]
        lines.append(
            BuyLine.model_validate(
                {
                    "item": item,
                    "unit": unit,
                    "need": needs[item],
                    "pack": pack,
                    "packs": number,
                    "cost_micro": number * price,
                }
            )
        )
    return tuple(sorted(lines, key=lambda line: (line.unit, line.item)))


def rate_micro_per_hour(plan: Plan) -> int:
    """The shop's rate as the plan's limits state it. Raises KeyError where they do not."""
    stated = {limit.name: limit.value for limit in plan.limits}
    return parse_money_micro(stated["rate"].partition(" ")[0])


def run_sums(models: tuple[Model, ...], times: TimeTable, bought: Iterable[BuyLine]) -> RunSums:
    """Minutes and money of the run.

    Set-up: every spool hung once, every batch set once, every die changed once, a kit gathered
    for every boat; at the dearest rate of the plans, rounded up once.
    """
    boats = sum(model.boats for model in models)
    cuts, crimps = cut_batches(models), crimp_batches(models)
    set_up = (
        times.set_up_spool_cmin * len({batch.spool for batch in cuts})
        + times.set_up_length_cmin * len(cuts)
        + times.set_up_die_cmin * len({(batch.stage, batch.die) for batch in crimps})
        + times.kit_boat_cmin * boats
    )
    rate = max(rate_micro_per_hour(model.plan) for model in models)
    return RunSums(
        boats=boats,
        piece_cmin=sum(model.plan.totals.minutes_cmin * model.boats for model in models),
        set_up_cmin=set_up,
        piece_money_micro=sum(model.plan.totals.money_micro * model.boats for model in models),
        set_up_micro=labour_micro(set_up, rate),
        buy_micro=sum(line.cost_micro for line in bought),
        buy_alone_micro=sum(
            line.cost_micro * model.boats for model in models for line in model.plan.buy
        ),
    )
