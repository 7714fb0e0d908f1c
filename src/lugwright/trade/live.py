"""What is live in which state: circuits that current reaches, with devices in given positions.

A feed with a pigtail is live; so is what is taken from a live circuit, and what a closed way
leads to from one. Loads conduct nothing here. Real positions are told one after the other: all at
rest, then each position of each device, with what feeds that device switched on.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass

from lugwright.base.positions import LANYARD
from lugwright.scenario.console import Console, Instrument, Way

ALL_OFF = "all off"


@dataclass(frozen=True)
class LiveState:
    """Feed circuits that are live in one state; ``set_to`` are devices not at rest."""

    name: str
    set_to: tuple[tuple[str, str], ...]
    live: tuple[str, ...]


def live_states(console: Console) -> tuple[LiveState, ...]:
    """The live table: ``all off`` first, then each position, devices in the order of their feed.

    Empty for a panel without ways. Devices that only go to ground (stop ways) have no row.
    """
    if not console.ways:
        return ()
    found = [_state(console, ALL_OFF, {})]
    ordered = devices_in_order(console)
    for device in ordered:
        if not any(way.closed for way in _feed_ways(console, device)):
            continue
        before = _what_feeds(console, device)
        for position in device.positions[1:]:
            among = {**before, device.name: position}
            set_to = {one.name: among[one.name] for one in ordered if one.name in among}
            found.append(_state(console, _name(set_to), set_to))
    return tuple(found)


def live_posts(console: Console) -> tuple[str, ...]:
    """Posts that are live with every switch and key at rest: as the file says, and by the table."""
    at_rest = live_states(console)[0].live if console.ways else ()
    return tuple(
        sorted(post.id for post in console.posts if post.live or post.circuit in at_rest)
    )


def bare_live_studs(console: Console, stacked: Container[str]) -> tuple[str, ...]:
    """Studs that are live with everything at rest and have no lug on them: metal all the same."""
    studs = {post.id for post in console.posts if post.kind == "stud"}
    return tuple(p for p in live_posts(console) if p in studs and p not in stacked)


def feeding_circuit(console: Console, name: str) -> str:
    """The circuit a circuit gets its current from, through a way or taken off; "": a pigtail.

    Of a signal circuit it is the ground by which its sender's current comes back here.
    """
    circuit = console.circuit(name)
    if circuit.supplied_by:
        return console.post(console.way_to(circuit.supplied_by).near).circuit
    if circuit.returns_to:
        return console.post(circuit.returns_to).circuit
    return circuit.taken_from


def devices_in_order(console: Console) -> tuple[Instrument, ...]:
    """Instruments with ways, nearest the supply first, then by name."""
    depth: dict[str, int] = {}
    for way in console.ways:
        steps, name = 0, console.post(way.near).circuit
        while name and steps <= len(console.circuits):
            steps, name = steps + 1, feeding_circuit(console, name)
        depth[way.instrument] = min(steps, depth.get(way.instrument, steps))
    return tuple(
        sorted(
            (one for one in console.instruments if one.name in depth),
            key=lambda one: (depth[one.name], one.name),
        )
    )


def conducts(console: Console, way: Way, set_to: Mapping[str, str]) -> bool:
    """Whether a way conducts with some devices in given positions and all others at rest.

    Fuses are in, breakers closed, the lanyard is in.
    """
    device = console.instrument(way.instrument)
    positions = {set_to.get(device.name, "".join(device.positions[:1]))}
    if device.lanyard:
        positions.add(LANYARD[0])
    return not way.is_empty and (not way.closed or not positions.isdisjoint(way.closed))


def _feed_ways(console: Console, device: Instrument) -> Iterator[Way]:
    """The ways of a device on the feed side."""
    for way in console.ways:
        if way.instrument == device.name and way.kind != "stop":
            yield way


def _what_feeds(console: Console, device: Instrument) -> dict[str, str]:
    """Devices upstream with the first position in which they feed this one."""
    found: dict[str, str] = {}
    waiting = [console.post(way.near).circuit for way in _feed_ways(console, device)]
    while waiting:
        name = waiting.pop()
        if not name:
            continue
        circuit = console.circuit(name)
        if circuit.supplied_by:
            way = console.way_to(circuit.supplied_by)
            closing = _closing(console, way)
            if closing and way.instrument != device.name and not conducts(console, way, {}):
                found.setdefault(way.instrument, closing)
        waiting.append(feeding_circuit(console, name))
    return found


def _closing(console: Console, way: Way) -> str:
    """The first position that closes a way; "" where none of the device's own does."""
    own = console.instrument(way.instrument).positions
    return next((position for position in own if position in way.closed), "")


def _name(set_to: Mapping[str, str]) -> str:
    """A state in words: ``key on, light on``."""
    return ", ".join(f"{device} {position}" for device, position in set_to.items())


def _state(console: Console, name: str, set_to: Mapping[str, str]) -> LiveState:
    live = {one.name for one in console.circuits if one.side == "feed" and one.pigtail}
    grown = True
    while grown:
        grown = False
        for circuit in console.circuits:
            if circuit.name in live or feeding_circuit(console, circuit.name) not in live:
                continue
            if circuit.supplied_by:
                way = console.way_to(circuit.supplied_by)
                if not conducts(console, way, set_to):
                    continue
            live.add(circuit.name)
            grown = True
    return LiveState(name, tuple(set_to.items()), tuple(sorted(live)))
