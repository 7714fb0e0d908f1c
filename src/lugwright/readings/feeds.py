"""Feeds as the tests see them: which posts, loads and fuses belong to which supply."""

from __future__ import annotations

from collections.abc import Iterator

from lugwright.plans.schema import Landing, Plan
from lugwright.readings.wiring import Load, Wiring, path_of, post_node
from lugwright.trade.names import circuit_of_pigtail, is_lead, is_pigtail, post_of_lead

KEY_CIRCUIT = "ignition"  # switched plus; no other feed is known to be behind the key


def landed(plan: Plan, side: str) -> list[Landing]:
    """The landings of every pigtail on one side, in the plan's order."""
    sides = {circuit.name: circuit.side for circuit in plan.panel.circuits}
    return [one for one in plan.landings if one.pigtail and sides[one.circuit] == side]


def is_keyed(plan: Plan, feed: str) -> bool:
    """Whether a feed is live only with the key on."""
    return feed == KEY_CIRCUIT


def fed_posts(plan: Plan, feed: str) -> frozenset[str]:
    """The posts of a feed and of what is taken from it."""
    return frozenset(
        post
        for circuit in plan.panel.circuits
        if feed in (circuit.name, circuit.taken_from)
        for post in circuit.posts
    )


def loads_of(plan: Plan, wiring: Wiring, feed: str) -> Iterator[Load]:
    """What draws from a feed; a dial in series with its sender is not counted again."""
    posts = fed_posts(plan, feed)
    drawn = {one.name: one.drawn_from for one in plan.panel.boat_blocks}
    nodes = {post_node(post) for post in posts}
    for load in wiring.loads:
        if load.outside:
            if drawn.get(load.name) in posts:
                yield load
        elif load.a in nodes and load.share == 1:
            yield load


def inside(plan: Plan, wiring: Wiring, feed: str) -> list[Load]:
    """The loads of a feed that stay connected while what is aboard is unplugged."""
    out = lead_fuses(plan)
    return [
        load
        for load in loads_of(plan, wiring, feed)
        if not load.outside and load.current_ma and load.a.removeprefix("post ") not in out
    ]


def lead_fuses(plan: Plan) -> dict[str, int]:
    """Posts whose lead has a fuse of its own, with its rating, mA."""
    return {
        post_of_lead(fuse.wire): fuse.fuse_ma for fuse in plan.panel.fuses if is_lead(fuse.wire)
    }


def behind_fuse(plan: Plan, wiring: Wiring, wire: str) -> list[Load]:
    """What dies with the fuse of a wire: a pigtail, a lead, or a wire that came aboard."""
    if is_pigtail(wire):
        return list(loads_of(plan, wiring, circuit_of_pigtail(wire)))
    if is_lead(wire):
        node = post_node(post_of_lead(wire))
        return [load for load in wiring.loads if load.a == node and load.share == 1]
    posts = {post.id: post for post in plan.panel.posts}
    mine = {one.name for one in plan.panel.boat_blocks if path_of(one, posts).out_wire == wire}
    return [load for load in wiring.loads if load.outside and load.name in mine]
