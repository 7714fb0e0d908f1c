"""How the devices of a panel stand while a line is measured, and what is closed and live then.

While ohms are measured and feeds are proved apart every fuse is out, every breaker open, and each
device in the position that closes least. With everything on each stands where it closes most; a
position that starts an engine is held only for what is live in no other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import product

from lugwright.base.positions import LANYARD
from lugwright.plans.panel import Panel, PanelInstrument, PanelWay
from lugwright.trade.states import circuits_live

START = "start"  # the position of a key that starts the engine
_PULLED = ("fuse", "breaker")

Setting = Mapping[str, tuple[str, ...]]
"""Positions by device: its own, and its lanyard's where it has one."""


@dataclass(frozen=True)
class Devices:
    """The devices of a panel and what their ways do in each setting."""

    panel: Panel

    @cached_property
    def with_positions(self) -> tuple[PanelInstrument, ...]:
        """Devices that can be moved, in the panel's order."""
        moved = {way.instrument for way in self.panel.ways if way.closed}
        return tuple(one for one in self.panel.instruments if one.name in moved)

    @cached_property
    def feed_ways(self) -> tuple[PanelWay, ...]:
        """The ways that lead to a circuit or could: no stop way, no empty holder."""
        return tuple(one for one in self.panel.ways if one.kind != "stop" and one.conducts)

    @cached_property
    def rest(self) -> Setting:
        """Every device at rest, its lanyard in."""
        return {one.name: next(self.positions(one)) for one in self.with_positions}

    @cached_property
    def parted(self) -> Setting:
        """Every device where it closes least; at rest where that closes no more."""
        return {one.name: self._most(one, most=False) for one in self.with_positions}

    @cached_property
    def working(self) -> Setting:
        """Every device where it closes most, but in no position that starts an engine."""
        return {one.name: self._most(one, most=True) for one in self.with_positions}

    def positions(self, device: PanelInstrument) -> Iterator[tuple[str, ...]]:
        """Its own positions, its lanyard in; then each again with it out."""
        axes: list[tuple[str, ...]] = [LANYARD] if device.lanyard else []
        axes += [device.positions] if device.positions else []
        return (tuple(reversed(place)) for place in product(*axes))

    def closed(self, setting: Setting, *, fuses: bool = True) -> frozenset[str]:
        """Far posts of the ways that conduct; without ``fuses`` these and breakers are open."""
        return frozenset(
            way.far
            for way in self.panel.ways
            if way.conducts and (fuses or way.kind not in _PULLED) and _closes(way, setting)
        )

    @cached_property
    def apart(self) -> frozenset[str]:
        """What cannot be opened: closed with fuses out and every device where it closes least."""
        return self.closed(self.parted, fuses=False)

    def live(self, setting: Setting) -> frozenset[str]:
        """Circuits that have supply with the fuses in."""
        return self.live_with(self.closed(setting))

    def live_with(self, closed: frozenset[str]) -> frozenset[str]:
        """Circuits that have supply through these ways."""
        return circuits_live(self.panel, closed)

    def setting_for(self, circuit: str) -> Setting | None:
        """The working setting, changed where this circuit is not live in it; None: it never is."""
        setting, name = dict(self.working), circuit
        while name:
            way = self.way_of(name)
            if way and not _closes(way, setting):
                setting[way.instrument] = self._closing(way)
            name = self.upstream(name)
        return setting if circuit in self.live(setting) else None

    def way_of(self, circuit: str) -> PanelWay | None:
        """The way that supplies a circuit."""
        far = next(one.supplied_by for one in self.panel.circuits if one.name == circuit)
        return next((way for way in self.panel.ways if far and way.far == far), None)

    def upstream(self, circuit: str) -> str:
        """The circuit that another gets its current from; "" where a pigtail supplies it."""
        way = self.way_of(circuit)
        if way:
            return next((one.name for one in self.panel.circuits if way.near in one.posts), "")
        return next(one.taken_from for one in self.panel.circuits if one.name == circuit)

    def changed(self, setting: Setting, base: Setting) -> str:
        """What must be set otherwise than in another setting: ``key start``; "" for nothing."""
        told = (
            f"{device} {position}"
            for device, places in setting.items()
            for position in places
            if position not in base[device]
        )
        return ", ".join(told)

    def _closing(self, way: PanelWay) -> tuple[str, ...]:
        device = next(one for one in self.with_positions if one.name == way.instrument)
        return next(place for place in self.positions(device) if {*place} & {*way.closed})

    def _most(self, device: PanelInstrument, *, most: bool) -> tuple[str, ...]:
        """The first of the positions that close the most, or the fewest, ways to feeds."""
        mine = [way for way in self.feed_ways if way.instrument == device.name]
        places = [one for one in self.positions(device) if not (most and START in one)]

        def count(place: tuple[str, ...]) -> int:
            return sum(_closes(way, {device.name: place}) for way in mine)

        wanted = (max if most else min)(map(count, places))
        return next(place for place in places if count(place) == wanted)


def _closes(way: PanelWay, setting: Setting) -> bool:
    """Whether a way's positions, if it has any, hold in a setting."""
    return not way.closed or not {*way.closed}.isdisjoint(setting[way.instrument])
