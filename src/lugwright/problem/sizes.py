"""Which wire sizes a circuit may be run in, from stock."""

from __future__ import annotations

from lugwright.base.errors import OutsideTable
from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.problem.schema import WireChoice
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Circuit, GivenWire
from lugwright.stock.schema import Spool
from lugwright.trade.drops import wire_rate_nohm_per_mm
from lugwright.trade.fuses import fuse_ahead, fuse_allowed_ma
from lugwright.trade.wire_sizes import least_area_um2, spool_to_lengthen


def wire_choices(brief: Brief, circuit: Circuit) -> tuple[WireChoice, ...]:
    """Spools of the circuit's colour, large enough and protected by its fuse, thinnest first.

    Rule R29.
    """
    limits = brief.limits
    fuse = fuse_ahead(brief.console, circuit)
    found = []
    for spool in brief.stock.spools_of_colour(circuit.colour):
        if spool.area_um2 < least_area_um2(limits, circuit):
            continue
        choice = _choice(brief, spool)
        if choice and fuse.ma <= fuse_allowed_ma(choice.table_ma, limits, fuse.circuit):
            found.append(choice)
    return tuple(found)


def choice_to_lengthen(brief: Brief, wire: GivenWire) -> WireChoice | None:
    """What lengthens a boat wire: wire of its own size; None where there is none in stock, or none
    in the table of ampacity. Rule R11."""
    spool = spool_to_lengthen(brief.stock, wire.wire_size, wire.colour)
    return _choice(brief, spool) if spool else None


def _choice(brief: Brief, spool: Spool) -> WireChoice | None:
    limits, engine_space = brief.limits, brief.console.engine_space
    try:
        table = table_ma(spool.ampacity_size, spool.insulation_temp_c, engine_space)
    except OutsideTable:
        return None  # a wire the table does not hold is never chosen
    factor = bundle_factor_permille(limits.bundle_rule, limits.off_loom_conductors)
    return WireChoice(
        size=spool.wire_size,
        colour=spool.colour,
        end_type=spool.name,
        area_um2=spool.area_um2,
        nohm_per_mm=wire_rate_nohm_per_mm(spool.area_um2, limits),
        table_ma=table,
        cap_ma=table * factor // 1000,
        price_micro_per_m=spool.price_micro_per_m,
    )
