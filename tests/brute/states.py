"""What may be on together: every device of a console in each of its positions.

Worst case (by the rules of consoles with devices): for each figure separately, every device
stands in the position that makes that figure largest, and positions of one device never add. So
every position vector is listed, with what is on in it. A figure judged here is a sum of currents
of what is on, none of them less than nought: a vector in which less is on than in another can
make no figure larger and may be left out (``every=True`` keeps it).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from lugwright.base.positions import LANYARD
from lugwright.scenario.console import Circuit, Console, LoadKind, Way

Amps = tuple[int, ...]  # one current in each state, mA
Held = frozenset[tuple[str, str]]  # device and the position it stands in


def added(one: Amps, other: Amps) -> Amps:
    """Both currents together, state by state."""
    return tuple(a + b for a, b in zip(one, other, strict=True))


def minus(current: Amps) -> Amps:
    """The same current the other way."""
    return tuple(-each for each in current)


@dataclass(frozen=True)
class Consumer:
    """Something that draws current at ``feed`` and gives it back at ``ground`` ("": elsewhere)."""

    name: str
    feed: str
    ground: str
    current_ma: int
    kind: LoadKind
    is_momentary: bool


def consumers(console: Console) -> tuple[Consumer, ...]:
    """Every load of the panel's instruments, then every block of boat wires."""
    found = []
    for load in console.loads:
        momentary = load.duty == "momentary"
        draws, gives, current = load.feed_post, load.ground_post, load.current_ma
        found.append(Consumer(load.name, draws, gives, current, load.kind, momentary))
    for block in console.boat_blocks:
        momentary = block.duty == "momentary"
        draws, gives, current = block.drawn_from, block.returns_to, block.current_ma
        found.append(Consumer(block.name, draws, gives, current, block.load_kind, momentary))
    return tuple(found)


def ways_above(console: Console, circuit: Circuit) -> tuple[Way, ...]:
    """The ways between a circuit and the pigtail it lives on, nearest first.

    Raises ValueError where they lead in a circle.
    """
    found: list[Way] = []
    here = console.circuit(circuit.taken_from) if circuit.taken_from else circuit
    while here.supplied_by:
        way = console.way_to(here.supplied_by)
        if way in found:
            raise ValueError(f"circuit {circuit.name} is fed in a circle")
        found.append(way)
        here = console.circuit(console.post(way.near).circuit)
        here = console.circuit(here.taken_from) if here.taken_from else here
    return tuple(found)


def position_vectors(console: Console) -> Iterator[Held]:
    """Every way the devices can stand, as pairs of device and position held."""
    choices = []
    for device in console.instruments:
        own = [(device.name, position) for position in device.positions]
        choices.append(own or [(device.name, "")])
        if device.lanyard:
            choices.append([(device.name, position) for position in LANYARD])
    yield from map(frozenset, product(*choices))


def conducts(way: Way, held: Held) -> bool:
    """Whether a way brings current on where its device stands so; an empty holder never does."""
    if way.is_empty or way.kind == "stop":
        return False
    return not way.closed or any((way.instrument, position) in held for position in way.closed)


def _on(console: Console, drawing: tuple[Consumer, ...], held: Held) -> set[int]:
    on = set()
    for index, one in enumerate(drawing):
        circuit = console.post(one.feed).circuit if one.feed else ""
        above = ways_above(console, console.circuit(circuit)) if circuit else ()
        if all(conducts(way, held) for way in above):
            on.add(index)
    return on


def states(console: Console, every: bool = False) -> tuple[frozenset[int], ...]:
    """What may be on together, as places in ``consumers``; the fullest states alone, or all."""
    drawing = consumers(console)
    found = {frozenset(_on(console, drawing, held)) for held in position_vectors(console)}
    if not every:
        found = {state for state in found if not any(state < other for other in found)}
    return tuple(sorted(found, key=sorted))
