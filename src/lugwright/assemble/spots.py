"""Where a meter's tip can stand, and what it must read there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from lugwright.assemble.built import Built
from lugwright.assemble.order import node_finder
from lugwright.electrics.resistance import nohm_per_mm, wire_uohm
from lugwright.scenario.console import Arrival, Circuit, Console

KEY_CIRCUIT = "ignition"  # switched plus; no other feed is known to be behind the key


@dataclass(frozen=True)
class Spot:
    """Two posts a meter stands between, and the drop up to there.

    ``drop_nv`` is worked out with everything on; ``allowed_nv`` is what the load's limit leaves
    up to there. ``before`` says what must be switched on first.
    """

    load: str
    plus: str
    minus: str
    drop_nv: int
    allowed_nv: int
    before: str = ""


def within_reach(console: Console, posts: Iterable[str]) -> list[str]:
    """Posts a tip can touch, one of each piece of metal: studs first, then tabs; never a lead.

    A lead's end lies inside an insulated joint.
    """
    node_of = node_finder(console)
    kinds = {post: console.post(post).kind for post in posts}
    found: dict[str, str] = {}
    for post in sorted(kinds, key=lambda post: (kinds[post] != "stud", post)):
        if kinds[post] != "lead":
            found.setdefault(node_of(post), post)
    return list(found.values())


def probe_words(console: Console, post: str) -> str:
    """A post as a tip reaches it: a tab is under its push-on, a lead in its joint."""
    return post if console.post(post).kind == "stud" else f"{post} (back-probe)"


def is_keyed(console: Console, circuit: Circuit) -> bool:
    """Whether a circuit is live only with the key on."""
    while circuit.rides_on:
        circuit = console.circuit(circuit.rides_on)
    return circuit.name == KEY_CIRCUIT


def load_spots(built: Built) -> list[Spot]:
    """Where each load inside an instrument is measured: reachable posts first, then by the share
    of its limit that a load uses up.
    """
    console = built.console
    drops = {drop.load: drop for drop in built.drops}
    spots = [
        Spot(
            load.name,
            load.feed_post,
            load.ground_post,
            drops[load.name].drop_nv,
            drops[load.name].limit_nv,
        )
        for load in console.loads
        if load.name in drops
    ]

    def rank(spot: Spot) -> tuple[bool, Fraction, str]:
        leads = any(console.post(post).kind == "lead" for post in (spot.plus, spot.minus))
        return (leads, -Fraction(spot.drop_nv, max(1, spot.allowed_nv)), spot.load)

    return sorted(spots, key=rank)


def consumer_spots(built: Built) -> list[Spot]:
    """Where each consumer aboard is measured at the panel, by name.

    Its own wires lie behind that spot, so their drop is no part of what the meter sees. A
    consumer that returns elsewhere is measured against the ground's landing.
    """
    drops = {drop.load: drop for drop in built.drops}
    spots = []
    for arrival in sorted(built.console.arrivals, key=lambda item: item.name):
        if arrival.is_sender or arrival.name not in drops or not arrival.drawn_from:
            continue
        minus = arrival.returns_to or _ground_landing(built)
        if not minus:
            continue
        at = built.post_drops_nv
        shared = at.get(minus, 0)
        before = at.get(arrival.drawn_from, 0) + shared
        allowed = drops[arrival.name].limit_nv - _own_nv(built, arrival)
        if not arrival.returns_to:
            allowed += shared
        switch = _switch(built.console, arrival)
        spots.append(
            Spot(arrival.name, arrival.drawn_from, minus, before, max(allowed, before), switch)
        )
    return spots


def _ground_landing(built: Built) -> str:
    sides = {circuit.name: circuit.side for circuit in built.console.circuits}
    grounds = sorted(item.post for item in built.landings if sides[item.circuit] == "ground")
    return grounds[0] if grounds else ""


def _own_nv(built: Built, arrival: Arrival) -> int:
    """Drop along a consumer's own wires and their extensions, nV."""
    total = 0
    limits = built.limits
    for wire in arrival.wires:
        per_mm = nohm_per_mm(wire.wire.area_um2, limits.conductor_temp_c, limits.stranding_permille)
        total += wire_uohm(per_mm, wire.one_way_dmm) * arrival.current_ma
        for jumper in built.cut.jumpers:
            if jumper.from_joint == f"join {wire.id}":
                total += (jumper.resistance_uohm + 2 * limits.crimp_uohm) * jumper.current_ma
    return total


def _switch(console: Console, arrival: Arrival) -> str:
    """The instrument that switches a consumer: its feed goes in there and comes out elsewhere."""
    feed = console.post(arrival.drawn_from)
    for wire in arrival.wires:
        out = console.post(wire.lands_on)
        if out.instrument == feed.instrument and out.id != feed.id and not out.circuit:
            return feed.instrument
    return ""


def source_words(built: Built, spot: Spot) -> str:
    """Where the nominal voltage is meant to stand: what lies before a pigtail may not be known."""
    console = built.console
    for post in (spot.plus, spot.minus):
        name = console.post(post).circuit
        if not name:
            continue
        circuit = console.circuit(name)
        while circuit.rides_on:
            circuit = console.circuit(circuit.rides_on)
        if circuit.pigtail is None or circuit.pigtail.to_source is None:
            return "where the pigtails begin"
    return "at the source"
