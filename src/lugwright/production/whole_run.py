"""Everything about one production run, gathered once for terminal, JSON and paper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from lugwright.checker.finding import Report
from lugwright.checker.run_counts import RunFacts, check_run
from lugwright.packing.question import Least
from lugwright.plans.schema import BuyLine
from lugwright.production.run import (
    CrimpBatch,
    CutBatch,
    Model,
    RunSums,
    buy_lines,
    crimp_batches,
    cut_batches,
    rate_micro_per_hour,
    run_sums,
)
from lugwright.production.spool_plan import SpoolPlan, spool_plans
from lugwright.production.times import TimeTable


@dataclass(frozen=True)
class WholeRun:
    """A run: its models, batches, spool plan, buy list and sums."""

    models: tuple[Model, ...]
    cuts: tuple[CutBatch, ...]
    crimps: tuple[CrimpBatch, ...]
    spools: tuple[SpoolPlan, ...]
    bought: tuple[BuyLine, ...]
    sums: RunSums
    times: TimeTable
    on_hand: Mapping[str, Sequence[int]]

    @property
    def proved(self) -> bool:
        """True when the spool plan of every wire is proved least."""
        return all(one.packing.proved(one.question.least) for one in self.spools)


def gather(
    models: Sequence[Model],
    *,
    times: TimeTable,
    on_hand: Mapping[str, Sequence[int]],
    keep_dmm: int,
    least: Least = "spools",
    time_limit_s: float | None = None,
) -> WholeRun:
    """Gather a run; new spools are those of the spool plan.

    Raises ValueError when two plans know one item in different packs or at other prices, or a
    piece is longer than its spool.
    """
    spools = spool_plans(models, on_hand, keep_dmm, least, time_limit_s=time_limit_s)
    bought = buy_lines(models, {one.spool: one.packing.spools for one in spools})
    return WholeRun(
        tuple(models),
        cut_batches(models),
        crimp_batches(models),
        spools,
        bought,
        run_sums(tuple(models), times, bought),
        times,
        on_hand,
    )


def check_gathered(run: WholeRun) -> Report:
    """The checker's report on a run: counted anew from the plans."""
    sums = run.sums
    return check_run(
        RunFacts(
            plans=[model.plan for model in run.models],
            boats=[model.boats for model in run.models],
            cut=_counted(((x.spool, x.length_dmm), x.count) for x in run.cuts),
            crimped=_counted((x.item, x.count) for x in run.crimps),
            spools={
                one.spool: [(x.stock_dmm, x.new, x.cuts) for x in one.packing.filled]
                for one in run.spools
            },
            on_hand=run.on_hand,
            bought=run.bought,
            piece_cmin=sums.piece_cmin,
            piece_money_micro=sums.piece_money_micro,
            set_up_cmin=sums.set_up_cmin,
            set_up_micro=sums.set_up_micro,
            rate_micro_per_hour=max(rate_micro_per_hour(model.plan) for model in run.models),
        )
    )


T = TypeVar("T", bound=Hashable)


def _counted(pairs: Iterable[tuple[T, int]]) -> Counter[T]:
    """Counts of like things added up."""
    found: Counter[T] = Counter()
    for name, count in pairs:
        found[name] += count
    return found
