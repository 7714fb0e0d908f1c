"""Unused pigtails: each insulated by itself, tied back and left long; live ones first."""

from __future__ import annotations

from lugwright.assemble.ends import BarrelWire, given
from lugwright.assemble.wires import code_of
from lugwright.base.identity import NO_WIRE
from lugwright.plans.schema import Cap
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import GivenWire
from lugwright.trade.barrels import area_and_sleeve_fit


def cap_for(wire: GivenWire, brief: Brief) -> str:
    """The cheapest cap in stock whose barrel takes the wire, by name; "" when there is none."""
    end = BarrelWire(given(NO_WIRE), wire.area_um2, wire.insulation_um, 0, "bench", "", ())
    caps = sorted(
        (row for row in brief.stock.fittings if row.kind == "cap"),
        key=lambda row: (row.price_micro, row.name),
    )
    for folded in (False, True) if brief.limits.fold_back else (False,):
        for row in caps:
            if area_and_sleeve_fit(row.barrels[0], [end], folded):
                return row.name
    return ""


def build_caps(brief: Brief) -> tuple[Cap, ...]:
    """A cap for every unused pigtail, live ones first, then by label."""
    unused = sorted(brief.console.unused_pigtails, key=lambda item: (not item.live, item.label))
    return tuple(
        Cap(
            pigtail=item.label,
            colour=item.wire.colour,
            live=item.live,
            item=cap_for(item.wire, brief),
            colour_code=code_of(brief.console, item.wire.colour),
        )
        for item in unused
    )
