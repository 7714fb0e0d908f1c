"""Feeds as the tests see them: which posts, loads and fuses belong to which supply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lugwright.plans.schema import Landing, Plan
from lugwright.readings.settings import Devices
from lugwright.readings.wiring import Load, Wiring, far_node, path_of, post_node
from lugwright.trade.names import circuit_of_pigtail, is_lead, is_pigtail, post_of_lead

KEY_CIRCUIT = "ignition"  # switched plus; no other feed is known to be behind the key


@dataclass(frozen=True)
class Feed:
    """What can be powered by itself: a circuit with a pigtail, or one behind a way that opens.

    ``post`` is where its volts are read. It is powered at its ``pigtail``, or else at ``far``,
    the far post of its way.
    """

    circuit: str
    post: str
    pigtail: str
    far: str

    @property
    def powered_at(self) -> str:
        """The node the lamp is in series with."""
        return far_node(self.pigtail) if self.pigtail else post_node(self.far)

    @property
    def source(self) -> str:
        """Where it is powered, in words."""
        return self.pigtail or self.far


def landed(plan: Plan, side: str) -> list[Landing]:
    """The landings of every pigtail on one side, in the plan's order."""
    sides = {circuit.name: circuit.side for circuit in plan.panel.circuits}
    return [one for one in plan.landings if one.pigtail and sides[one.circuit] == side]


def feeds_of(plan: Plan) -> list[Feed]:
    """Every feed: those with a pigtail in the plan's order, then those behind ways."""
    devices = Devices(plan.panel)
    landing = {one.circuit: one.post for one in plan.landings}
    return [
        *(Feed(one.circuit, one.post, one.pigtail, "") for one in landed(plan, "feed")),
        *(
            Feed(one.name, landing.get(one.name, one.supplied_by), "", one.supplied_by)
            for one in plan.panel.circuits
            if one.supplied_by
            and one.supplied_by not in devices.apart
            and one.name in devices.live_with(_all_ways(devices))
        ),
    ]


def _all_ways(devices: Devices) -> frozenset[str]:
    return frozenset(way.far for way in devices.feed_ways)


def is_keyed(plan: Plan, feed: str) -> bool:
    """Whether a feed with a pigtail is live only with the key on, a key that is elsewhere."""
    return feed == KEY_CIRCUIT and any(one.circuit == feed for one in landed(plan, "feed"))


def fed_circuits(plan: Plan, feed: str, closed: frozenset[str] | None = None) -> frozenset[str]:
    """A feed and what hangs on it through these ways; without them: those that cannot be opened."""
    devices = Devices(plan.panel)
    passing = devices.apart if closed is None else closed
    found = {feed}
    for _ in plan.panel.circuits:
        for circuit in plan.panel.circuits:
            way = devices.way_of(circuit.name)
            if devices.upstream(circuit.name) in found and (way is None or way.far in passing):
                found.add(circuit.name)
    return frozenset(found)


def fed_posts(plan: Plan, feed: str, closed: frozenset[str] | None = None) -> frozenset[str]:
    """The posts of a feed and of what hangs on it, as for ``fed_circuits``."""
    names = fed_circuits(plan, feed, closed)
    return frozenset(
        post for circuit in plan.panel.circuits if circuit.name in names for post in circuit.posts
    )


def loads_of(
    plan: Plan, wiring: Wiring, feed: str, closed: frozenset[str] | None = None
) -> Iterator[Load]:
    """What draws from a feed; a dial in series with its sender is not counted again."""
    yield from loads_at(plan, wiring, fed_posts(plan, feed, closed))


def loads_at(plan: Plan, wiring: Wiring, posts: frozenset[str]) -> Iterator[Load]:
    """What draws from these posts; a dial in series with its sender is not counted again."""
    drawn = {one.name: one.drawn_from for one in plan.panel.boat_blocks}
    nodes = {post_node(post) for post in posts}
    for load in wiring.loads:
        if load.outside:
            if drawn.get(load.name) in posts:
                yield load
        elif load.a in nodes and load.share == 1:
            yield load


def working_loads(plan: Plan, wiring: Wiring, closed: frozenset[str]) -> list[Load]:
    """Everything that has supply through these ways."""
    live = Devices(plan.panel).live_with(closed)
    posts = (post for one in plan.panel.circuits if one.name in live for post in one.posts)
    return list(loads_at(plan, wiring, frozenset(posts)))


def inside(
    plan: Plan, wiring: Wiring, feed: str, closed: frozenset[str] | None = None
) -> list[Load]:
    """The loads of a feed that stay connected while what is aboard is unplugged."""
    out = lead_fuses(plan)
    return [
        load
        for load in loads_of(plan, wiring, feed, closed)
        if not load.outside and load.current_ma and load.a.removeprefix("post ") not in out
    ]


def lead_fuses(plan: Plan) -> dict[str, int]:
    """Posts whose lead has a fuse of its own, with its rating, mA."""
    return {
        post_of_lead(fuse.wire): fuse.fuse_ma for fuse in plan.panel.fuses if is_lead(fuse.wire)
    }


def behind_fuse(plan: Plan, wiring: Wiring, wire: str, closed: frozenset[str]) -> list[Load]:
    """What dies with a fuse: of a pigtail, a lead, a boat wire, or a way by its far post."""
    if is_pigtail(wire):
        return list(loads_of(plan, wiring, circuit_of_pigtail(wire), closed))
    if is_lead(wire):
        node = post_node(post_of_lead(wire))
        return [load for load in wiring.loads if load.a == node and load.share == 1]
    if wire in closed:
        without = working_loads(plan, wiring, closed - {wire})
        return [one for one in working_loads(plan, wiring, closed) if one not in without]
    posts = {post.id: post for post in plan.panel.posts}
    mine = {one.name for one in plan.panel.boat_blocks if path_of(one, posts).out_wire == wire}
    return [load for load in wiring.loads if load.outside and load.name in mine]
