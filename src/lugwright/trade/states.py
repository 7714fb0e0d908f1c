"""Load states: which loads may be on together, by the positions of the console's devices.

A device has one position at a time, a kill lanyard's two beside its own. What it closes in one
position and also in another says nothing new, so only positions that close what no other closes
are looked at. Devices move independently. Most consoles have one state: everything on.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import Protocol

from lugwright.base.positions import LANYARD
from lugwright.scenario.console import Console, Instrument, Way

MOST_STATES = 64


class _Circuit(Protocol):
    """What is asked of a circuit: its posts, and where its current comes from."""

    @property
    def name(self) -> str: ...
    @property
    def posts(self) -> Sequence[str]: ...
    @property
    def taken_from(self) -> str: ...
    @property
    def supplied_by(self) -> str: ...


class _Path(Protocol):
    """What is asked of a way: the posts it joins."""

    @property
    def near(self) -> str: ...
    @property
    def far(self) -> str: ...


class Wired(Protocol):
    """A console, or the panel of a plan: circuits, and the ways between them."""

    @property
    def circuits(self) -> Sequence[_Circuit]: ...
    @property
    def ways(self) -> Sequence[_Path]: ...


@dataclass(frozen=True)
class LoadState:
    """One position of every device that has some, what is closed then, and what has supply.

    ``closed`` are far posts, ``live`` circuits. A device with a lanyard stands in ``positions``
    with both, ``("key", "on, lanyard in")``.
    """

    positions: tuple[tuple[str, str], ...]
    closed: frozenset[str]
    live: frozenset[str]


def load_states(console: Console) -> tuple[LoadState, ...]:
    """Every load state of a console, at least one; devices and positions in the file's order.

    Raises ValueError where there are more than ``MOST_STATES``. Rule R12.
    """
    if number_of_states(console) > MOST_STATES:
        raise ValueError(f"more than {MOST_STATES} load states")
    always = frozenset(way.far for way in _feeding(console.ways) if not way.closed)
    devices = [device for device in console.instruments if len(_all_positions(device)) > 1]
    states = []
    for chosen in product(*(_worth_looking_at(console, device) for device in devices)):
        closed = always.union(*(each for _, each in chosen))
        places = tuple((d.name, name) for d, (name, _) in zip(devices, chosen, strict=True))
        states.append(LoadState(places, closed, circuits_live(console, closed)))
    return tuple(states)


def number_of_states(console: Console) -> int:
    """How many load states there are: the product over the devices, none of them listed."""
    return prod(len(_worth_looking_at(console, device)) for device in console.instruments)


def _feeding(ways: Iterable[Way]) -> list[Way]:
    """Ways that current can pass on its way to a load: no stop way, no empty holder."""
    return [way for way in ways if way.kind != "stop" and not way.is_empty]


def _all_positions(device: Instrument) -> list[tuple[str, ...]]:
    """Every position of a device, the lanyard's beside its own."""
    axes = [device.positions] if device.positions else []
    axes += [LANYARD] if device.lanyard else []
    return list(product(*axes))


def _worth_looking_at(console: Console, device: Instrument) -> list[tuple[str, frozenset[str]]]:
    """Positions, in words, that close what no other position closes, each with what it closes."""
    ways = [way for way in _feeding(console.ways) if way.instrument == device.name and way.closed]
    found: list[tuple[str, frozenset[str]]] = []
    for position in _all_positions(device):
        closed = frozenset(way.far for way in ways if {*way.closed} & {*position})
        if not any(closed <= other for _, other in found):
            found = [each for each in found if not each[1] <= closed]
            found.append((", ".join(position), closed))
    return found


def circuits_live(console: Wired, closed: frozenset[str]) -> frozenset[str]:
    """Circuits that have supply: all but those beyond an open way."""
    circuit_of = {post: c.name for c in console.circuits for post in c.posts}
    near = {way.far: circuit_of.get(way.near, "") for way in console.ways}
    live = {c.name for c in console.circuits if not (c.taken_from or c.supplied_by)}
    waiting = [circuit for circuit in console.circuits if circuit.name not in live]
    for _ in waiting:
        live |= {
            c.name
            for c in waiting
            if (c.taken_from or near.get(c.supplied_by, "")) in live
            and (not c.supplied_by or c.supplied_by in closed)
        }
    return frozenset(live)
