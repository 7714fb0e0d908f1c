"""The orders a plan is told in: circuits, posts, and which posts are one piece of metal.

All orders go by names and places, never by the order of a file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from lugwright.scenario.console import Circuit, Console
from lugwright.trade.live import feeding_circuit


def node_finder(console: Console) -> Callable[[str], str]:
    """A function from joint to node: posts with one link are one node, a splice its own."""
    nodes: dict[str, str] = {post.id: post.node for post in console.posts}
    return lambda joint: nodes.get(joint, joint)


def circuits_in_order(console: Console) -> tuple[Circuit, ...]:
    """Feed circuits by name, each followed by what it feeds; then the ground side."""
    takers: dict[str, list[Circuit]] = {}
    last = ("ground", "signal")
    for circuit in sorted(console.circuits, key=lambda item: (item.side in last, item.name)):
        takers.setdefault(feeding_circuit(console, circuit.name), []).append(circuit)

    def from_base(base: str) -> Iterable[Circuit]:
        for circuit in takers.get(base, ()):
            yield circuit
            yield from from_base(circuit.name)

    return tuple(from_base(""))


def post_ranks(console: Console, hubs: Iterable[str]) -> dict[str, int]:
    """Rank of every post: the hub first, then instruments from left to right seen from the back.

    Posts of one instrument go by name.
    """
    first = set(hubs)
    place = {item.name: (item.centre.x_dmm, item.centre.y_dmm) for item in console.instruments}
    ordered = sorted(
        console.posts,
        key=lambda post: (
            post.instrument not in first,
            place.get(post.instrument, (0, 0)),
            post.instrument,
            post.id,
        ),
    )
    return {post.id: rank for rank, post in enumerate(ordered)}
