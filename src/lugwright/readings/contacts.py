"""The ways of the panel's devices on ohms: closed and open in each position; stop circuits.

The battery is off, every fuse out, every other device where it closes least. A dimmer is not
measured: its electronics read anything; what it feeds is seen in the table of what is live.
"""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.base.positions import LANYARD
from lugwright.plans.panel import PanelWay
from lugwright.plans.schema import Landing, Plan
from lugwright.readings.bands import Bands
from lugwright.readings.feeds import feeds_of, landed
from lugwright.readings.schema import Line
from lugwright.readings.settings import Devices, Setting
from lugwright.readings.touch import Touch
from lugwright.readings.wiring import Wiring, post_node


def contact_lines(plan: Plan, wiring: Wiring, bands: Bands) -> Iterator[Line]:
    """Every way open and closed, then every stop circuit against ground and all feeds."""
    maker = _Contacts(plan, wiring, bands)
    for way in plan.panel.ways:
        if way.kind not in ("dimmer", "stop"):
            yield from maker.way(way)
    for stop in landed(plan, "stop"):
        yield from maker.stop(stop)


class _Contacts:
    """Lines of one plan."""

    def __init__(self, plan: Plan, wiring: Wiring, bands: Bands) -> None:
        self.plan, self.wiring, self.bands = plan, wiring, bands
        self.posts = {post.id: post for post in plan.panel.posts}
        self.touch = Touch(self.posts)
        self.devices = Devices(plan.panel)
        self.loads = [load for load in wiring.loads if not load.outside]

    def way(self, way: PanelWay) -> Iterator[Line]:
        """A way in each of its states."""
        for closed, told in self._states(way, self.devices.parted):
            line = self._line(way, way.near, way.far, closed, told)
            if line:
                yield line

    def _states(self, way: PanelWay, others: Setting) -> Iterator[tuple[frozenset[str], str]]:
        """What is closed in each state of a way, and the state in words."""
        if way.kind in ("fuse", "breaker") and not way.closed:
            shut = ("fuse in", "fuse out") if way.kind == "fuse" else ("closed", "opened")
            if way.conducts:
                yield self.devices.apart | {way.far}, f"{way.far} {shut[0]}"
            yield self.devices.apart, f"{way.far} {shut[1]}" if way.conducts else "empty holder"
            return
        for place in self._places(way) if way.closed else ():
            setting = {**others, way.instrument: place}
            minded = [at for at in place if at not in LANYARD or {*way.closed} & {*LANYARD}]
            told = f"{way.instrument} {', '.join(minded)}"
            yield self.devices.closed(setting, fuses=False), told

    def _places(self, way: PanelWay) -> list[tuple[str, ...]]:
        """Its device's positions; the lanyard out where the way minds it and is open with it in."""
        device = next(one for one in self.plan.panel.instruments if one.name == way.instrument)
        places = list(self.devices.positions(device))
        cord_in = [one for one in places if LANYARD[1] not in one]
        if {*way.closed}.isdisjoint(LANYARD):
            return cord_in
        other = [one for one in cord_in if {*one}.isdisjoint({*way.closed} - {*LANYARD})][:1]
        return cord_in + [tuple(LANYARD[1] if at in LANYARD else at for at in one) for one in other]

    def _stops_open(self) -> Setting:
        """Every device where it closes least, but where its stop ways are open."""
        found = dict(self.devices.parted)
        for device in self.devices.with_positions:
            mine = {
                place
                for way in self.plan.panel.ways
                if way.kind == "stop" and way.instrument == device.name
                for place in way.closed
            }
            free = [one for one in self.devices.positions(device) if mine.isdisjoint(one)]
            if mine and free:
                found[device.name] = free[0]
        return found

    def _line(
        self, way: PanelWay, start: str, end: str, closed: frozenset[str], told: str
    ) -> Line | None:
        """Closed: at most so much. Open: at least so much, where that tells it from closed."""
        a, b = post_node(start), post_node(end)
        shut = self.bands.path_mohm(a, b, closed | {way.far})
        if shut is None:
            return None
        if way.far in closed:
            low, high = 0, shut
        else:
            low, high = self.bands.rest_mohm(a, b, self.loads, closed), None
        if high is None and low <= shut:
            return None
        return Line(
            "", "way open" if high is None else "way closed", "", a, b, self.touch.words(start),
            self.touch.words(end), "ohm", low, high, what=told, closed=closed,
        )  # fmt: skip

    def stop(self, stop: Landing) -> Iterator[Line]:
        """A stop circuit to ground in each position, and apart from every feed."""
        stops = [way for way in self.plan.panel.ways if way.kind == "stop"]
        ways = [way for way in stops if self._is_on(way, stop)]
        for way in ways:
            for ground in landed(self.plan, "ground")[:1]:
                for closed, told in self._states(way, self._stops_open()):
                    line = self._line(way, stop.post, ground.post, closed, told)
                    if line:
                        yield line
        yield from self._apart(stop, ways)

    def _is_on(self, way: PanelWay, stop: Landing) -> bool:
        circuit = next(one for one in self.plan.panel.circuits if one.name == stop.circuit)
        return way.near in circuit.posts

    def _apart(self, stop: Landing, ways: list[PanelWay]) -> Iterator[Line]:
        """Stop to each feed, with the stop not at ground."""
        feeds, setting = feeds_of(self.plan), self._stops_open()
        closed = self.devices.closed(setting, fuses=False)
        if not feeds or any(way.far in closed for way in ways):
            return
        a = post_node(stop.post)
        ends = [post_node(one.post) for one in feeds]
        low = min(self.bands.rest_mohm(a, end, self.loads, closed) for end in ends)
        devices = dict.fromkeys(way.instrument for way in ways)
        told = "; ".join(f"{one} {', '.join(setting[one])}" for one in devices)
        yield Line(
            "", "stop apart", stop.circuit, a, ends[0], self.touch.words(stop.post),
            self.touch.feeds(feeds), "ohm", low, None, closed=closed,
            what=f"{told}; the lowest of these" if told else "the lowest of these",
        )  # fmt: skip
