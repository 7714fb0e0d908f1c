"""Sums over a plan: wire, fittings, stacked lugs, minutes and money, exact."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lugwright.limits.schema import Limits
from lugwright.plans.schema import Crimp, Jumper, Splice, Stack, Totals
from lugwright.scenario.brief import Brief
from lugwright.stock.schema import FittingType
from lugwright.trade.money import labour_micro, wire_cost_micro
from lugwright.trade.objective import LEVELS, Quantity, level_values


@dataclass(frozen=True)
class Work:
    """Minutes of every single thing to do, in hundredths: cuts, fittings, landings."""

    items_cmin: tuple[int, ...]

    @property
    def minutes_cmin(self) -> int:
        """All minutes together."""
        return sum(self.items_cmin)

    def labour_micro(self, rate_micro_per_hour: int) -> int:
        """The whole time at the rate, rounded up once."""
        return labour_micro(self.minutes_cmin, rate_micro_per_hour)

    def compared_micro(self, rate_micro_per_hour: int) -> int:
        """Each item at the rate, rounded up item by item: what plans are compared by."""
        return sum(labour_micro(item, rate_micro_per_hour) for item in self.items_cmin)


def work_of(
    jumpers: Sequence[Jumper],
    rows: Iterable[FittingType],
    landings: Iterable[tuple[str, str]],
    limits: Limits,
) -> Work:
    """Minutes per cut, per fitting and per landing; ``landings`` are (kind, stage) pairs."""
    return Work(
        (
            *(limits.minutes_cut_cmin for _ in jumpers),
            *(limits.minutes_fitting_cmin[row.kind] for row in rows),
            *(limits.minutes_landing_cmin[kind][stage] for kind, stage in landings),
        )
    )


def landings_of(crimps: Sequence[Crimp], stacks: Sequence[Stack]) -> list[tuple[str, str]]:
    """Kind and stage of every lug and push-on put on a post; a ready-made one is a ring."""
    on_tabs = [(crimp.kind, crimp.stage) for crimp in crimps if crimp.kind == "push-on"]
    kinds = {crimp.number: crimp.kind for crimp in crimps}
    on_studs = [
        (kinds[lug.crimp] if lug.crimp else "ring", lug.stage)
        for stack in stacks
        for lug in stack.lugs
    ]
    return [*on_tabs, *on_studs]


def sum_totals(
    jumpers: Sequence[Jumper],
    crimps: Sequence[Crimp],
    stacks: Sequence[Stack],
    splices: Sequence[Splice],
    brief: Brief,
) -> Totals:
    """The totals of a plan. Caps, nuts and washers are not counted, ready-made lugs cost nothing.

    ``money_micro`` rounds labour item by item, ``labour_cost_micro`` once over the whole.
    """
    stock, limits = brief.stock, brief.limits
    rows = [stock.fitting(crimp.item) for crimp in crimps]
    price = {spool.name: spool.price_micro_per_m for spool in stock.spools}
    wire = sum(wire_cost_micro(item.length_dmm, price[item.spool]) for item in jumpers)
    fittings = sum(row.price_micro for row in rows)
    work = work_of(jumpers, rows, landings_of(crimps, stacks), limits)
    heights = [len(stack.lugs) for stack in stacks]
    return Totals(
        wire_dmm=sum(item.length_dmm for item in jumpers),
        jumpers=len(jumpers),
        fittings=len(crimps),
        stacked_lugs=sum(height - 1 for height in heights),
        tallest_stack=max(heights, default=0),
        splices=len(splices),
        wire_cost_micro=wire,
        fitting_cost_micro=fittings,
        minutes_cmin=work.minutes_cmin,
        labour_cost_micro=work.labour_micro(limits.rate_micro_per_hour),
        money_micro=wire + fittings + work.compared_micro(limits.rate_micro_per_hour),
    )


def objective_cost(totals: Totals, limits: Limits) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Names and values of what the objective compares, in order."""
    sums: dict[Quantity, int] = {
        "wire": totals.wire_dmm,
        "stacked": totals.stacked_lugs,
        "tallest": totals.tallest_stack,
        "fittings": totals.fittings,
        "money": totals.money_micro,
    }
    return LEVELS[limits.objective], level_values(limits, sums)
