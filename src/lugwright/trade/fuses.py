"""Fuses: which one stands before a wire, and the largest that the smallest conductor allows.

A *section* is what one fuse protects: from its pigtail or its way's far post on, through unfused
ways in any position and taken circuits, up to and including the near posts of the next fused ways.
It protects every conductor there, so the smallest of them decides: each is asked in turn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lugwright.limits.schema import Limits
from lugwright.scenario.console import Circuit, Console, Way


@dataclass(frozen=True)
class Fuse:
    """The fuse of a section: ``ma``, 0 where its pigtail has none, and where it is.

    ``circuit`` is the first circuit behind it, by whose name its limits may be waived; ``way`` the
    far post where it is a device's, else "".
    """

    ma: int
    circuit: str
    way: str = ""


NO_FUSE = Fuse(0, "")


def protects(way: Way) -> bool:
    """Whether a way protects what is beyond: a fuse, or a breaker that is trip-free.

    A breaker counts only if it is (33 CFR 183.455(a)). Rule R16.
    """
    return way.is_fused and (way.kind != "breaker" or way.trip_free)


def fuse_ahead(console: Console, circuit: Circuit) -> Fuse:
    """The fuse of the section a circuit belongs to. Rule R16."""
    circuit_of = {post: c for c in console.circuits for post in c.posts}
    seen = set()
    while circuit.pigtail is None and circuit.name not in seen:
        seen.add(circuit.name)
        if circuit.taken_from:
            circuit = console.circuit(circuit.taken_from)
        elif circuit.supplied_by:
            way = console.way_to(circuit.supplied_by)
            if protects(way):
                return Fuse(way.amperes_ma, circuit.name, way.far)
            circuit = circuit_of.get(way.near, circuit)
    if circuit.pigtail is None or circuit.side != "feed":
        return NO_FUSE
    return Fuse(circuit.pigtail.fuse_ma, circuit.name)


def fuse_allowed_ma(ampacity_ma: int, limits: Limits, fused: str) -> int:
    """The largest fuse over a conductor of that table ampacity, in mA.

    ``fused`` is the first circuit behind the fuse, "" for an in-line fuse in a lead or boat wire.
    Rule R16.
    """
    return ampacity_ma * limits.at("fuse_permille", fused) // 1000


def fuse_before(own_ma: int, section: Fuse) -> Fuse:
    """The fuse before a wire: its own, in mA, else that of its section."""
    return Fuse(own_ma, "") if own_ma else section


def fused_above(console: Console) -> Iterator[tuple[Way, Fuse]]:
    """Ways with a larger fuse than the one ahead of them: that one goes first. Told, no fault."""
    circuit_of = {post: c for c in console.circuits for post in c.posts}
    for way in console.ways:
        if protects(way) and way.near in circuit_of:
            ahead = fuse_ahead(console, circuit_of[way.near])
            if 0 < ahead.ma < way.amperes_ma:
                yield way, ahead
