"""What is live in each state, through the test lamp: all off first, then each position.

Fuses are in and breakers closed; what is aboard stays unplugged. One feed with a pigtail is
powered at a time, and the volts of every other feed are read.
"""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.plans.schema import LiveRow, Plan
from lugwright.readings import bands as b
from lugwright.readings.feeds import Feed, fed_circuits, feeds_of, inside
from lugwright.readings.first_power import MINUS_WORDS, least_mv
from lugwright.readings.schema import Line
from lugwright.readings.settings import Devices
from lugwright.readings.touch import Touch
from lugwright.readings.wiring import Wiring, post_node


def live_lines(plan: Plan, wiring: Wiring) -> Iterator[Line]:
    """Two lines for each state that changes what is live: the lowest live, the highest dead."""
    if not plan.live:
        return
    feeds = feeds_of(plan)
    for powered in (one for one in feeds if one.pigtail):
        seen: set[frozenset[str]] = set()
        for row in plan.live:
            closed = _closed(plan, row)
            live = fed_circuits(plan, powered.circuit, closed)
            if live not in seen:
                seen.add(live)
                yield from _State(plan, wiring, feeds, powered, closed, live).lines(row)


def _closed(plan: Plan, row: LiveRow) -> frozenset[str]:
    """The ways that are closed in a row: fuses in, lanyards in, others at rest."""
    devices, places = Devices(plan.panel), dict(row.set_to)
    setting = {
        name: (places.get(name, own[0]), *own[1:]) for name, own in devices.rest.items()
    }
    return devices.closed(setting)


class _State:
    """The lines of one state with one feed powered."""

    def __init__(
        self,
        plan: Plan,
        wiring: Wiring,
        feeds: list[Feed],
        powered: Feed,
        closed: frozenset[str],
        live: frozenset[str],
    ) -> None:
        self.plan, self.wiring, self.powered, self.closed = plan, wiring, powered, closed
        self.touch = Touch({post.id: post for post in plan.panel.posts})
        self.live = [one for one in feeds if one.circuit in live]
        self.dead = [one for one in feeds if one.circuit not in live]

    def lines(self, row: LiveRow) -> Iterator[Line]:
        """The lowest of what is live, then the highest of what is not."""
        told = f"{row.state}, {self.powered.source} powered"
        loads = inside(self.plan, self.wiring, self.powered.circuit, self.closed)
        yield self._line(
            "live", self.live, least_mv(self.plan, loads), None, f"{told}; the lowest of these"
        )
        if self.dead:
            yield self._line(
                "not live", self.dead, None, b.DEAD_MV - 1, f"{told}; the highest of these"
            )

    def _line(
        self, part: str, feeds: list[Feed], low: int | None, high: int | None, what: str
    ) -> Line:
        return Line(
            "", "live" if part == "live" else "not live", self.powered.circuit, MINUS_WORDS,
            post_node(feeds[0].post), MINUS_WORDS, self.touch.feeds(feeds), "V", low, high,
            what=what, closed=self.closed,
        )  # fmt: skip
