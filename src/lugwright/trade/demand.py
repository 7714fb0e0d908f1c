"""Currents that follow from the loads alone: what every post draws or returns, worst case."""

from __future__ import annotations

from lugwright.scenario.console import Console


def demand_by_post(console: Console) -> dict[str, int]:
    """Current each post draws from its feed circuit, or returns to its ground circuit, in mA.

    Worst case: every load on. A sender's or load's current enters at ``drawn_from`` and
    comes back at ``returns_to``. What is taken from a circuit is not included. Rule R12.
    """
    demand: dict[str, int] = {post.id: 0 for post in console.posts}
    for load in console.loads:
        for post in (load.feed_post, load.ground_post):
            demand[post] = demand.get(post, 0) + load.current_ma
    for boat_block in console.boat_blocks:
        for post in (boat_block.drawn_from, boat_block.returns_to):
            if post:
                demand[post] = demand.get(post, 0) + boat_block.current_ma
    return demand


def boat_wires_by_post(console: Console) -> dict[str, int]:
    """What the boat wires on each post carry away from it, each its block's current, mA."""
    found: dict[str, int] = {}
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            found[wire.lands_on] = found.get(wire.lands_on, 0) + boat_block.current_ma
    return found


def circuit_totals(console: Console) -> dict[str, int]:
    """Total current of each circuit at its supply, taken circuits included, in mA. Rule R12."""
    demand = demand_by_post(console)
    own = {
        circuit.name: sum(demand[post] for post in circuit.posts) for circuit in console.circuits
    }
    totals = dict(own)
    for circuit in console.circuits:
        host = circuit.taken_from
        seen = {circuit.name}
        while host and host not in seen:
            seen.add(host)
            totals[host] = totals.get(host, 0) + own[circuit.name]
            host = console.circuit(host).taken_from
    return totals
