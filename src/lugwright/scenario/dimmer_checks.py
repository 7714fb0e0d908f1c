"""A dimmer and its lamps: what is beyond it must be lamps of a kind it is made for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from lugwright.base.errors import Complaint
from lugwright.base.toml import KeyPath
from lugwright.scenario.console import LoadKind
from lugwright.scenario.devices import FittedWay, all_ways
from lugwright.scenario.draft import PIGTAILS, Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.landings import Landed
from lugwright.scenario.pigtail_checks import is_used
from lugwright.scenario.supplies import Supply
from lugwright.scenario.way_supplies import before

LAMPS = {"bulb", "led"}
_Beyond = tuple[KeyPath, str, str, LoadKind | None]


def dimmer_faults(
    draft: Draft, fitted: list[Fitted], supplies: Mapping[str, Supply], landed: list[Landed]
) -> list[Complaint]:
    """Every load behind a dimmer that is no lamp it suits, or does not say what it is."""
    ways = all_ways(fitted)
    loads = [*_of_instruments(draft, fitted), *_of_boat_wires(draft, landed, fitted)]
    loads += _of_pigtails(draft)
    return [
        complaint
        for way in ways.values()
        if way.part.kind == "dimmer" and way.part.suits and set(way.part.suits) <= LAMPS
        for path, name, circuit, kind in loads
        if _is_beyond(circuit, way, ways, supplies)
        for complaint in _fault(draft, way, path, name, kind)
    ]


def _fault(
    draft: Draft, way: FittedWay, path: KeyPath, name: str, kind: LoadKind | None
) -> Iterator[Complaint]:
    dimmer, suits = way.instrument.name, " and ".join(sorted(way.part.suits))
    if kind is None:
        message = f'is "{name}" a bulb or a LED? It hangs on dimmer "{dimmer}", for {suits}'
        hint = 'load_kind = "bulb" or "led"; what is no lamp is not dimmed'
        yield draft.complain(path, message, hint)
    elif kind not in way.part.suits:
        message = f'dimmer "{dimmer}" suits {suits}, and "{name}" is {kind}'
        yield draft.complain(path, message, "another dimmer, or a circuit that is not dimmed")


def _is_beyond(
    circuit: str, way: FittedWay, ways: Mapping[str, FittedWay], supplies: Mapping[str, Supply]
) -> bool:
    """True where a circuit gets its current by that way, at whatever remove."""
    seen: set[str] = set()
    while circuit in supplies and circuit not in seen:
        if supplies[circuit].supplied_by == way.far_id:
            return True
        seen.add(circuit)
        circuit = before(supplies[circuit], ways)
    return False


def _of_instruments(draft: Draft, fitted: list[Fitted]) -> Iterator[_Beyond]:
    for instrument in fitted:
        for number, load in enumerate(instrument.pattern.loads):
            path = draft.path(INSTRUMENTS, instrument.index, "name")
            if instrument.part.geometry is not None:
                path = draft.path(INSTRUMENTS, instrument.index, "geometry", "loads", number)
            circuit = instrument.posts[load.feed].circuit
            yield path, instrument.post_id(load.name), circuit, load.load_kind


def _of_boat_wires(draft: Draft, landed: list[Landed], fitted: list[Fitted]) -> Iterator[_Beyond]:
    circuits: dict[str, str] = {
        one.post_id(post.name): post.circuit for one in fitted for post in one.posts.values()
    }
    for block in landed:
        if block.drawn_from and not block.is_sender:
            path = draft.path(("boat_wires",), block.index, "name")
            yield path, block.part.name, circuits[block.drawn_from], block.part.load_kind


def _of_pigtails(draft: Draft) -> Iterator[_Beyond]:
    for index, part in enumerate(draft.pigtails):
        if part.role == "load" and is_used(part):
            path = draft.path(PIGTAILS, index)
            yield path, part.label or part.circuit or "", part.circuit or "", part.load_kind
