"""What ``lugwright hubs`` asks: every hub, then frontiers and tight spots in the time left."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from lugwright.base import stop
from lugwright.model.variants.trade import TRADES
from lugwright.outputs.hubs_table import HubRow, in_order
from lugwright.plans.progress import Listener
from lugwright.problem.schema import Problem
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.studies.frontier import TradeOff, trade_off
from lugwright.studies.hubs import HubTable, compare_hubs
from lugwright.studies.tight_spots import TightSpots, tight_spots


@dataclass(frozen=True)
class Told:
    """Everything there is to tell: rows in order, and what else was asked for (None: not)."""

    rows: Sequence[HubRow]
    table: HubTable
    frontiers: Sequence[TradeOff] = ()
    spots: TightSpots | None = None

    def sorted_by(self, column: str, *, backwards: bool) -> Told:
        """The same with the rows in order of a column."""
        return replace(self, rows=in_order(self.table.rows, column, backwards=backwards))


def told_of(
    brief: Brief,
    posed: tuple[Problem, Routes],
    trades: Iterable[str],
    *,
    tight: bool,
    until_s: float | None,
    progress: Listener | None,
) -> Told:
    """The question asked for every hub and for what else is wanted, until a stop.

    ``until_s``: when time is up by ``time.monotonic``, None where it has no end.
    """

    def left_s() -> float | None:
        """Seconds left of the time given."""
        return None if until_s is None else max(0.0, until_s - time.monotonic())

    table = compare_hubs(brief, time_limit_s=left_s(), progress=progress, posed=posed)
    stopped, found, spots = table.interrupted, list[TradeOff](), None
    with contextlib.suppress(KeyboardInterrupt), stop.raised():
        for name in trades:
            if stopped:
                break
            found.append(
                trade_off(
                    *(brief, TRADES[name]), time_limit_s=left_s(), progress=progress, posed=posed
                )
            )
            stopped = found[-1].interrupted
        if tight and not stopped:
            spots = tight_spots(brief, time_limit_s=left_s(), progress=progress, posed=posed)
    return Told(table.rows, table, tuple(found), spots)
