"""What is seen at fuses, switches and the key: ratings, what each feeds and what each turns off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from lugwright.base.positions import LANYARD
from lugwright.base.scale import amps_text
from lugwright.plans.schema import Plan
from lugwright.readings.feeds import behind_fuse, is_keyed, landed, loads_of, working_loads
from lugwright.readings.schema import Line, Part
from lugwright.readings.settings import START, Devices, Setting
from lugwright.readings.wiring import Load, Wiring


def before_lines(plan: Plan) -> Iterator[Line]:
    """The rating of each fuse, read from the fuse itself."""
    for where, rated_ma, what in protectors(plan):
        told = f"its {what} says {amps_text(rated_ma)} A: read aloud from the {what} itself"
        yield _seen("fuse", where, told)


def protectors(plan: Plan) -> Iterator[tuple[str, int, str]]:
    """Every fuse and breaker: where it is, its rating in mA, and what it is called."""
    breakers = {
        way.far: way.amperes_ma
        for way in plan.panel.ways
        if way.kind == "breaker" and way.conducts
    }
    for fuse in plan.panel.fuses:
        yield fuse.wire, fuse.fuse_ma, "breaker" if fuse.wire in breakers else "fuse"
    named = {fuse.wire for fuse in plan.panel.fuses}
    for far, rated_ma in breakers.items():
        if far not in named:
            yield far, rated_ma, "breaker"


def switched_lines(plan: Plan, wiring: Wiring) -> Iterator[Line]:
    """Fuses and devices one by one; the key; and what is seen with the engine running."""
    maker = _Switched(plan, wiring)
    yield from maker.alone()
    yield from maker.pulled()
    yield from maker.off()
    yield from maker.engine()


class _Switched:
    """Lines of one plan."""

    def __init__(self, plan: Plan, wiring: Wiring) -> None:
        self.plan, self.wiring = plan, wiring
        self.devices = Devices(plan.panel)
        self.closed = self.devices.closed(self.devices.working)
        self.keyed = [one.circuit for one in landed(plan, "feed") if is_keyed(plan, one.circuit)]

    def alone(self) -> Iterator[Line]:
        """Each position of each device, all others as they feed it: only its own works."""
        for row in self.plan.live[1:]:
            places = dict(row.set_to)
            if START in places.values():
                continue
            setting = {
                name: (places.get(name, own[0]), *own[1:])
                for name, own in self.devices.rest.items()
            }
            on = working_loads(self.plan, self.wiring, self.devices.closed(setting))
            told = self._names(on, "on then", [])
            yield _seen("alone", row.state, f"all else at rest; {told or 'nothing works'}")

    def pulled(self) -> Iterator[Line]:
        """Each fuse by itself."""
        for where, _, what in protectors(self.plan):
            for setting in self._settings(where):
                closed = self.devices.closed(setting)
                dead = behind_fuse(self.plan, self.wiring, where, closed)
                told = self._dying(dead, closed)
                if told:
                    stands = self.devices.changed(setting, self.devices.working)
                    before = f"{stands}: " if stands else ""
                    out = "its fuse pulled" if what == "fuse" else "its breaker opened"
                    yield _seen("pulled", where, f"{before}{out}, all others in; {told}")
                    break

    def _settings(self, wire: str) -> Iterator[Setting]:
        """Everything on; then, for the fuse of a way, with what it feeds switched on."""
        yield self.devices.working
        for circuit in self.plan.panel.circuits:
            if wire and circuit.supplied_by == wire:
                yield self.devices.setting_for(circuit.name) or self.devices.working

    def off(self) -> Iterator[Line]:
        """The key that is elsewhere, then each device of the panel put at rest by itself."""
        for feed in self.keyed:
            dead = loads_of(self.plan, self.wiring, feed, self.closed)
            told = self._dying(dead, self.closed)
            yield _seen("key off", "key off", told or f"nothing of {feed} is live")
        on = working_loads(self.plan, self.wiring, self.closed)
        for device in self.devices.with_positions:
            rest = self.devices.rest[device.name]
            closed = self.devices.closed({**self.devices.working, device.name: rest})
            left = working_loads(self.plan, self.wiring, closed)
            told = self._dying([load for load in on if load not in left], self.closed)
            if told:
                yield _seen("key off", f"{device.name} {rest[0]}", told)

    def engine(self) -> Iterator[Line]:
        """What a qualified person sees: each way to stop it, and that nothing stays live."""
        stops = self._stops()
        for how in stops[:-1]:
            yield _seen("engine", "the engine", f"started, then {how}: it stops")
        if stops or self.keyed:
            how = stops[-1] if stops else "key off"
            yield _seen(
                "engine", "the engine",
                f"started, then {how}: it stops; nothing stays live after {how}{self._still()}",
            )  # fmt: skip

    def _stops(self) -> list[str]:
        """The positions that stop an engine, the lanyard's first; a key's own last."""
        found: list[str] = []
        for way in self.plan.panel.ways:
            if way.kind == "stop":
                found += [f"{way.instrument} {place}" for place in way.closed]
        return sorted(dict.fromkeys(found), key=lambda how: not how.endswith(LANYARD[1]))

    def _still(self) -> str:
        """Feeds that the key does not switch."""
        key = "the key" if self.keyed and not self.plan.live else "no key"
        if self.plan.live:
            others = [name for name in self.plan.live[0].live if name not in self.keyed]
            told = "which no key or switch turns off"
        else:
            others = [
                one.circuit for one in landed(self.plan, "feed") if one.circuit not in self.keyed
            ]
            told = f"which {key} does not switch"
        return f" but {', '.join(others)}, {told}" if others else ""

    def _dying(self, loads: Iterable[Load], closed: frozenset[str]) -> str:
        on = working_loads(self.plan, self.wiring, closed)
        return self._names(loads, "dead then", on)

    def _names(self, loads: Iterable[Load], words: str, on: Sequence[Load]) -> str:
        """What is dead or on, and that nothing else is, of those that are ``on``: a whole
        instrument by its name, else load by load. The words fit one name and many.
        """
        instruments = {post.id: post.instrument for post in self.plan.panel.posts}
        senders = {one.name for one in self.plan.panel.boat_blocks if one.is_sender}

        def home(load: Load) -> str:
            return load.name if load.outside else instruments[load.a.removeprefix("post ")]

        all_on = on or self.wiring.loads
        real = [one for one in all_on if one.current_ma and one.share == 1]
        gone = {load.name for load in loads} - senders
        lives = {home(load) for load in real if load.name not in gone}
        told = sorted({
            load.name if home(load) in lives else home(load) for load in real if load.name in gone
        })  # fmt: skip
        if not told:
            return ""
        listed = told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"
        return f"{words}: {listed}, nothing else"


def _seen(part: Part, at: str, what: str) -> Line:
    return Line("", part, "", "", "", "", at, "yes or no", what=what)
