"""What each way of a device carries and loses in the worst case, beside what it may carry."""

from __future__ import annotations

from lugwright.limits.schema import Limits
from lugwright.plans.schema import WayRow
from lugwright.scenario.console import Console, Way
from lugwright.trade.ratings import WayLoad, way_loads


def way_rows(console: Console, limits: Limits) -> tuple[WayRow, ...]:
    """A row for each way, by far post; what supplies no circuit carries nothing."""
    loads = {(load.way.near, load.way.far): load for load in way_loads(console, limits)}
    ordered = sorted(console.ways, key=lambda way: (way.far, way.near))
    return tuple(_row(way, loads.get((way.near, way.far))) for way in ordered)


def _row(way: Way, load: WayLoad | None) -> WayRow:
    current = load.current_ma if load else 0
    return WayRow(
        far=way.far,
        near=way.near,
        kind=way.kind,
        circuit=load.circuit if load else "",
        current_ma=current,
        judged_ma=load.factored_ma if load else 0,
        carries_ma=way.carries_ma,
        fuse_ma=way.amperes_ma if way.is_fused else 0,
        lost_nv=way.contact_uohm * current,
    )
