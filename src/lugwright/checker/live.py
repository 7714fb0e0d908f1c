"""What is live in which state, worked out from the file's devices alone."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.positions import LANYARD
from lugwright.checker.positions import (
    Closed,
    closed_at,
    feed_ways,
    pigtail_feeds,
    reached,
)
from lugwright.scenario.console import Console, Instrument

State = tuple[str, tuple[tuple[str, str], ...], tuple[str, ...]]
"""Its name, the devices that are not at rest with their positions, and the live circuits."""


def live_posts(console: Console) -> frozenset[str]:
    """Posts that are live with all switches, keys and relays at rest, fuses in; they get a boot.

    Stricter than 33 CFR 183.445(b), which accepts a fuse before them.
    """
    stated = {post.id for post in console.posts if post.live}
    if not console.ways:
        return frozenset(stated)
    live = _live(console, {})
    return frozenset(stated | {post.id for post in console.posts if post.circuit in live})


def _live(console: Console, positions: dict[str, frozenset[str]]) -> tuple[str, ...]:
    return tuple(sorted(reached(console, closed_at(console, positions), pigtail_feeds(console))))


def live_table(console: Console) -> Iterator[State]:
    """All off, then each position of each device with what feeds it switched on.

    Devices from the battery outwards, by name where they are equally far.
    """
    for words, chosen in _states(console):
        yield words, tuple(chosen.items()), _live(console, _settings(console, chosen))


def live_settings(console: Console) -> Iterator[tuple[str, Closed, tuple[str, ...]]]:
    """The same states by the ways that conduct in each: its name, their far posts, what is live."""
    for words, chosen in _states(console):
        settings = _settings(console, chosen)
        yield words, closed_at(console, settings), _live(console, settings)


def _states(console: Console) -> Iterator[tuple[str, dict[str, str]]]:
    """The name of each state, and the devices that are not at rest with their positions."""
    yield "all off", {}
    ordered = sorted(_devices(console), key=lambda one: (_depth(console, one), one.name))
    for device in ordered:
        on = _switched_on(console, device)
        for position in device.positions[1:]:
            among = {**on, device.name: position}
            chosen = {one.name: among[one.name] for one in ordered if one.name in among}
            yield ", ".join(f"{name} {where}" for name, where in chosen.items()), chosen


def _settings(console: Console, chosen: dict[str, str]) -> dict[str, frozenset[str]]:
    """Settings of devices in these positions; a lanyard that a device has besides stays in."""
    corded = {one.name for one in console.instruments if one.lanyard}
    return {
        name: frozenset({where, LANYARD[0]} if name in corded else {where})
        for name, where in chosen.items()
    }


def _devices(console: Console) -> list[Instrument]:
    """Devices with a way that opens and closes."""
    moving = {way.instrument for way in feed_ways(console) if way.closed}
    return [one for one in console.instruments if one.name in moving]


def _before(console: Console, circuit: str) -> str:
    """The circuit that feeds a circuit; "" where a pigtail does."""
    row = console.circuit(circuit)
    if not row.supplied_by:
        return row.taken_from
    near = next(way.near for way in console.ways if way.far == row.supplied_by)
    return console.post(near).circuit


def _chain(console: Console, circuit: str) -> list[str]:
    """A circuit and all before it, towards the battery."""
    found: list[str] = []
    while circuit and circuit not in found:
        found.append(circuit)
        circuit = _before(console, circuit)
    return found


def _near_circuits(console: Console, device: Instrument) -> list[str]:
    own = [way.near for way in feed_ways(console) if way.instrument == device.name]
    return [console.post(near).circuit for near in own]


def _depth(console: Console, device: Instrument) -> int:
    return min(len(_chain(console, name)) for name in _near_circuits(console, device))


def _switched_on(console: Console, device: Instrument) -> dict[str, str]:
    """Devices before this one that must leave rest, each in the first position that lets current
    on to it."""
    found: dict[str, str] = {}
    at_rest = closed_at(console, {})
    ways = {way.far: way for way in feed_ways(console) if way.far not in at_rest}
    for start in _near_circuits(console, device):
        for name in _chain(console, start):
            way = ways.get(console.circuit(name).supplied_by)
            if way and way.instrument != device.name:
                own = console.instrument(way.instrument).positions
                closing = [one for one in own if one in way.closed]
                if closing:
                    found.setdefault(way.instrument, closing[0])
    return found
