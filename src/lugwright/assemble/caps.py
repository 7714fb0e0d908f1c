"""Unused pigtails: each insulated by itself, tied back and left long; live ones first."""

from __future__ import annotations

from lugwright.assemble.ends import BarrelWire, given
from lugwright.assemble.wires import code_of
from lugwright.limits.schema import Limits
from lugwright.plans.schema import Cap
from lugwright.scenario.console import Console, GivenWire
from lugwright.stock.schema import Stock
from lugwright.trade.barrels import area_and_sleeve_fit


def cap_for(wire: GivenWire, limits: Limits, stock: Stock) -> str:
    """The cheapest cap in stock whose barrel takes the wire, by name; "" when there is none."""
    end = BarrelWire(given("unused"), wire.area_um2, wire.insulation_um, 0, "bench", "", ())
    caps = sorted(
        (row for row in stock.fittings if row.kind == "cap"),
        key=lambda row: (row.price_micro, row.name),
    )
    for folded in (False, True) if limits.fold_back else (False,):
        for row in caps:
            if area_and_sleeve_fit(row.barrels[0], [end], folded):
                return row.name
    return ""


def build_caps(console: Console, limits: Limits, stock: Stock) -> tuple[Cap, ...]:
    """A cap for every unused pigtail, live ones first, then by label."""
    unused = sorted(console.unused_pigtails, key=lambda item: (not item.live, item.label))
    return tuple(
        Cap(
            pigtail=item.label,
            colour=item.wire.colour,
            live=item.live,
            item=cap_for(item.wire, limits, stock),
            colour_code=code_of(console, item.wire.colour),
        )
        for item in unused
    )
