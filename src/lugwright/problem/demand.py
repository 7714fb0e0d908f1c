"""Currents that follow from the loads alone: what every post draws or returns, worst case."""

from __future__ import annotations

from lugwright.scenario.console import Console


def demand_by_post(console: Console) -> dict[str, int]:
    """Current each post draws from its feed circuit, or returns to its ground circuit, in mA.

    Worst case: every load on. A sender's or consumer's current enters at ``drawn_from`` and
    comes back at ``returns_to``. What rides on a circuit is not included.
    """
    demand = {post.id: 0 for post in console.posts}
    for load in console.loads:
        for post in (load.feed_post, load.ground_post):
            demand[post] = demand.get(post, 0) + load.current_ma
    for arrival in console.arrivals:
        for post in (arrival.drawn_from, arrival.returns_to):
            if post:
                demand[post] = demand.get(post, 0) + arrival.current_ma
    return demand


def arriving_by_post(console: Console) -> dict[str, int]:
    """What the arriving wires on each post carry away from it, each its arrival's current, mA."""
    found: dict[str, int] = {}
    for arrival in console.arrivals:
        for wire in arrival.wires:
            found[wire.lands_on] = found.get(wire.lands_on, 0) + arrival.current_ma
    return found


def circuit_totals(console: Console) -> dict[str, int]:
    """Total current of each circuit at its supply, riding circuits included, in mA."""
    demand = demand_by_post(console)
    own = {
        circuit.name: sum(demand[post] for post in circuit.posts) for circuit in console.circuits
    }
    totals = dict(own)
    for circuit in console.circuits:
        host = circuit.rides_on
        seen = {circuit.name}
        while host and host not in seen:
            seen.add(host)
            totals[host] = totals.get(host, 0) + own[circuit.name]
            host = console.circuit(host).rides_on
    return totals
