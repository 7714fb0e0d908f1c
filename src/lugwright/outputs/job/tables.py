"""Cells of the job sheet's plain tables; every number and word is that of the rows."""

from __future__ import annotations

from lugwright.outputs.pages.inline import soft_name
from lugwright.outputs.rows import Rows
from lugwright.outputs.rows_bench import LooseNutRow, StackRow, StudRow
from lugwright.outputs.rows_sums import DropRow
from lugwright.outputs.rows_ways import device_cells, live_cells

Line = tuple[str | int, ...]
Cells = list[Line]


def plain_tables(rows: Rows) -> dict[str, Cells]:
    """The tables by the name the template has for them."""
    return {
        "caps": [(x.pigtail, x.order, x.colour, x.live, x.cap) for x in rows.caps],
        "loose_nuts": [_loose_nut(x) for x in rows.loose_nuts],
        "ties": [(soft_name(x.where), x.count) for x in rows.ties],
        "stud_table": [_stud(x) for x in rows.studs],
        "stack_table": [_lug(x) for x in rows.stacks],
        "drops": [_drop(x) for x in rows.drops],
        "ways": list(device_cells(rows.ways)),
        "live": list(live_cells(rows.live)),
        "fuses": [(x.fuse,) for x in rows.fuses],
        "totals": [(x.total, x.value, x.unit) for x in rows.totals],
        "limits": [(x.name, x.value, x.origin, x.source) for x in rows.limits if x.differs],
    }


def _loose_nut(x: LooseNutRow) -> Line:
    waits = soft_name(x.waits) or "-"
    return (soft_name(x.post), x.thread, x.driver, x.on_at_bench, waits, soft_name(x.comes_aboard))


def _stud(x: StudRow) -> Line:
    under_over = ", ".join(filter(None, (x.washer, x.boot)))
    lugs, thread = f"{x.lugs}, {x.bench_lugs} at the bench", f"{x.used_mm} of {x.free_mm}"
    return (
        *(soft_name(x.post), x.thread, x.driver, under_over, x.nut_at_bench, lugs, x.reserved),
        f"{thread}, {x.left_mm} left",
    )


def _lug(x: StackRow) -> Line:
    return (
        *(soft_name(x.post), x.order, soft_name(x.lug), soft_name(x.wires)),
        *(x.circuit or "-", x.stage, x.clock, x.amps),
    )


def _drop(x: DropRow) -> Line:
    return (
        *(soft_name(x.load), x.amps, x.feed_mv, x.ground_mv),
        *(x.drop_mv, x.limit_mv, x.margin_mv),
    )
