"""What a wire that is not cut here may carry, and the largest fuse that may stand before it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.limits.schema import Limits
from lugwright.scenario.console import Circuit, Console, GivenWire
from lugwright.trade.fuses import fuse_ahead, fuse_allowed_ma, fuse_before
from lugwright.trade.names import lead_wire, pigtail_wire

ELECTRONICS_BELOW_MA = 1000
"""Electronics under 1 A are exempt from Table 5 (33 CFR 183.425(g))."""


def given_ma(console: Console, wire: GivenWire) -> int:
    """What it carries alone, in mA: its row of the ampacity table, else its own limit. Rule R15."""
    if wire.exempt:
        return wire.carries_ma
    return table_ma(wire.ampacity_size, wire.insulation_temp_c, console.engine_space)


def stands_ma(console: Console, limits: Limits, wire: GivenWire, conductors: int) -> int:
    """The most it may carry beside so many conductors, itself counted, in mA. Rule R15.

    Its own limit is not derated beside its row; in place of the row it is.
    """
    factor = bundle_factor_permille(limits.bundle_rule, conductors)
    most = given_ma(console, wire) * factor // 1000
    if wire.carries_ma:
        most = min(most, wire.carries_ma)
    if wire.exempt == "electronics under 1 A":
        most = min(most, ELECTRONICS_BELOW_MA - 1)
    return most


def fuse_over_ma(console: Console, limits: Limits, wire: GivenWire, fused: str) -> int:
    """The largest fuse that may stand before it, in mA; ``fused`` as in ``fuse_allowed_ma``.

    What its maker allows replaces the share of its ampacity. Rule R16.
    """
    return wire.fuse_up_to_ma or fuse_allowed_ma(given_ma(console, wire), limits, fused)


def fed_wires(console: Console) -> Iterator[tuple[str, GivenWire, int, Circuit]]:
    """Name, wire, own fuse in mA (0: none) and circuit of every wire that a fuse protects.

    Pigtails and leads of feeds, boat wires that draw from one. Rule R16.
    """
    by_name = {circuit.name: circuit for circuit in console.circuits}
    for circuit in console.circuits:
        if circuit.side == "feed" and circuit.pigtail:
            yield pigtail_wire(circuit.name), circuit.pigtail.wire, 0, circuit
    for post in console.posts:
        owner = by_name.get(post.circuit)
        if post.lead and owner and owner.side == "feed":
            yield lead_wire(post.id), post.lead, post.lead_fuse_ma, owner
    for block in console.boat_blocks:
        owner = by_name.get(console.post(block.drawn_from).circuit) if block.drawn_from else None
        for wire in block.wires:
            is_load = console.post(wire.lands_on).function == "load"
            if owner and (is_load or wire.lands_on == block.drawn_from):
                yield wire.id, wire.wire, wire.fuse_ma, owner


def fused_by_maker(console: Console) -> dict[str, tuple[str, ...]]:
    """By the wire (of a device: far post) a fuse is in, the wires it protects as their maker says.

    That is practice, not law; sheets say so. Rule R16.
    """
    found: defaultdict[str, list[str]] = defaultdict(list)
    for name, wire, own_ma, circuit in fed_wires(console):
        fuse = fuse_before(own_ma, fuse_ahead(console, circuit))
        if wire.fuse_up_to_ma and fuse.ma:
            place = fuse.way or (pigtail_wire(fuse.circuit) if fuse.circuit else name)
            found[place].append(name)
    return {place: tuple(sorted(names)) for place, names in found.items()}


def thin_wires(console: Console) -> Iterator[tuple[str, GivenWire]]:
    """Every wire that is exempt from the table of sizes, with its name, sorted by it."""
    wires = [(pigtail_wire(c.name), c.pigtail.wire) for c in console.circuits if c.pigtail]
    wires += [(lead_wire(post.id), post.lead) for post in console.posts if post.lead]
    wires += [(wire.id, wire.wire) for block in console.boat_blocks for wire in block.wires]
    return ((name, wire) for name, wire in sorted(wires, key=lambda one: one[0]) if wire.exempt)
