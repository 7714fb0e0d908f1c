"""Which wire: the least size of a circuit, and what lengthens a boat wire."""

from __future__ import annotations

from lugwright.limits.schema import Limits
from lugwright.scenario.console import Circuit
from lugwright.stock.schema import Spool, Stock


def least_area_um2(limits: Limits, circuit: Circuit) -> int:
    """The smallest strand area a circuit's wire may have: the limit's, or its own if larger.

    Rule R17.
    """
    return max(limits.at("minimum_area_um2", circuit.name), circuit.minimum_area_um2)


def spool_to_lengthen(stock: Stock, wire_size: str, colour: str) -> Spool | None:
    """Wire to lengthen a boat wire: its own colour, else black, else the first by name.

    Rule R11.
    """
    same = (spool for spool in stock.spools if spool.wire_size == wire_size)
    order = sorted(same, key=lambda s: (s.colour != colour, s.colour != "black", s.name))
    return order[0] if order else None
