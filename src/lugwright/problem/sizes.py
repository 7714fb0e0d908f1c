"""Which wire sizes a circuit may be run in, from stock."""

from __future__ import annotations

from lugwright.base.errors import OutsideTable
from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.electrics.resistance import nohm_per_mm
from lugwright.limits.schema import Limits
from lugwright.problem.schema import WireChoice
from lugwright.scenario.console import Circuit, Console
from lugwright.stock.schema import Spool, Stock
from lugwright.trade.fuses import fuse_ahead, fuse_allowed_ma


def least_area_um2(limits: Limits, circuit: Circuit) -> int:
    """The smallest strand area a circuit's wire may have: the limit's, or its own if larger.

    Rule R17.
    """
    return max(limits.at("minimum_area_um2", circuit.name), circuit.minimum_area_um2)


def wire_choices(
    console: Console, limits: Limits, stock: Stock, circuit: Circuit
) -> tuple[WireChoice, ...]:
    """Spools of the circuit's colour, large enough and protected by its fuse, thinnest first.

    Rule R29.
    """
    fuse = fuse_ahead(console, circuit)
    found = []
    for spool in stock.spools_of_colour(circuit.colour):
        if spool.area_um2 < least_area_um2(limits, circuit):
            continue
        choice = _choice(console, limits, spool)
        if choice and fuse.ma <= fuse_allowed_ma(choice.table_ma, limits, fuse.circuit):
            found.append(choice)
    return tuple(found)


def _choice(console: Console, limits: Limits, spool: Spool) -> WireChoice | None:
    try:
        table = table_ma(spool.ampacity_size, spool.insulation_temp_c, console.engine_space)
    except OutsideTable:
        return None  # a wire the table does not hold is never chosen
    factor = bundle_factor_permille(limits.bundle_rule, limits.off_loom_conductors)
    return WireChoice(
        size=spool.wire_size,
        colour=spool.colour,
        end_type=spool.name,
        area_um2=spool.area_um2,
        nohm_per_mm=nohm_per_mm(spool.area_um2, limits.conductor_temp_c, limits.stranding_permille),
        table_ma=table,
        cap_ma=table * factor // 1000,
        price_micro_per_m=spool.price_micro_per_m,
    )
