"""What each way of a device carries and loses in the worst case, beside what it may carry."""

from __future__ import annotations

from lugwright.assemble.currents import Flow
from lugwright.limits.schema import Limits
from lugwright.plans.schema import WayRow
from lugwright.scenario.console import Console, Way
from lugwright.trade.ratings import judged_ma


def way_rows(console: Console, limits: Limits, currents: Flow) -> tuple[WayRow, ...]:
    """A row for each way, by far post."""
    supplies = {one.supplied_by: one.name for one in console.circuits if one.supplied_by}
    ordered = sorted(console.ways, key=lambda way: (way.far, way.near))
    return tuple(_row(console, limits, way, supplies.get(way.far, ""), currents) for way in ordered)


def _row(console: Console, limits: Limits, way: Way, circuit: str, currents: Flow) -> WayRow:
    current = currents.totals_ma[circuit] if circuit else 0
    return WayRow(
        far=way.far,
        near=way.near,
        kind=way.kind,
        circuit=circuit,
        current_ma=current,
        judged_ma=judged_ma(console, limits, way) if circuit else 0,
        carries_ma=way.carries_ma,
        fuse_ma=way.amperes_ma if way.is_fused else 0,
        lost_nv=way.contact_uohm * current,
    )
