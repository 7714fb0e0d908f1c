"""Currents that follow from the loads alone: what every post draws or returns, worst case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from lugwright.scenario.console import BoatBlock, Console, Load
from lugwright.trade.states import LoadState, load_states


@dataclass(frozen=True)
class Demand:
    """What flows in one load state, mA: drawn or returned by each post, and each circuit's total.

    What is beyond a closed way is drawn from its near post. What is taken from a circuit is in
    its total and in no post of it. ``away`` is what boat wires lead away from a post, ``bench``
    what of it those do that lie among the bench wires there, ``live`` the circuits with supply.
    """

    posts: Mapping[str, int]
    totals: Mapping[str, int]
    away: Mapping[str, int]
    bench: Mapping[str, int]
    live: frozenset[str]

    def feeds(self, circuit: str) -> bool:
        """Whether a load that is fed by a circuit ("": by none here) is on."""
        return not circuit or circuit in self.live


def demands(console: Console) -> tuple[Demand, ...]:
    """The demand in every load state (``states.load_states``). Rule R12."""
    return tuple(demand_in(console, state) for state in load_states(console))


def demand_by_post(console: Console) -> dict[str, int]:
    """Current each post draws from its feed circuit, or returns to its ground circuit, in mA.

    Worst case: the largest over the load states. A sender's or load's current enters at
    ``drawn_from`` and comes back at ``returns_to``. What is taken from a circuit is not included.
    Rule R12.
    """
    return _largest([demand.posts for demand in demands(console)])


def circuit_totals(console: Console) -> dict[str, int]:
    """Total current of each circuit at its supply, in mA, the largest over the load states.

    Circuits taken from it and all beyond its ways are included. Rule R12.
    """
    return _largest([demand.totals for demand in demands(console)])


def continuous_totals(console: Console) -> dict[str, int]:
    """The same without loads that are on for moments only."""

    def steady(load: Load | BoatBlock) -> int:
        return 0 if load.duty == "momentary" else load.current_ma

    return _largest([demand_in(console, state, steady).totals for state in load_states(console)])


def _largest(tables: list[Mapping[str, int]]) -> dict[str, int]:
    return {key: max(table[key] for table in tables) for key in tables[0]}


def lead_currents(console: Console) -> dict[str, int]:
    """What flows in the wire of each lead, by post, the largest over the load states, mA.

    The lead that is a way's far post carries what its circuit draws but for what hangs inside; one
    on no circuit what the boat wire on it leads away.
    """
    far = {c.supplied_by: c.name for c in console.circuits if c.supplied_by}

    def in_state(demand: Demand) -> dict[str, int]:
        return {
            post.id: demand.totals[far[post.id]] - demand.posts[post.id]
            if post.id in far
            else demand.posts[post.id] + (0 if post.circuit else demand.away.get(post.id, 0))
            for post in console.posts
            if post.kind == "lead"
        }

    return _largest([in_state(demand) for demand in demands(console)])


def post_currents(console: Console) -> dict[str, int]:
    """What goes through each stud or tab however the wires are laid, the largest over the states.

    What its instrument takes goes through it, unless a link inside can bring it from another
    post; and so does all that boat wires lead away in lugs of their own: what a bench wire draws
    may pass inside a barrel. Through a far post goes what its circuit draws, but for what hangs
    inside on it.
    """
    far = {c.supplied_by: c.name for c in console.circuits if c.supplied_by}

    def in_state(demand: Demand) -> dict[str, int]:
        found: dict[str, int] = {}
        for post in console.posts:
            away, own = demand.away.get(post.id, 0), demand.posts[post.id]
            bench = demand.bench.get(post.id, 0)
            if post.id in far:
                own = demand.totals[far[post.id]] - own + away
            else:
                own, away = own - bench, away - bench
            found[post.id] = max(away, 0 if post.link or post.optional else own)
        return found

    return _largest([in_state(demand) for demand in demands(console)])


def boat_wires_by_post(console: Console) -> dict[str, int]:
    """What the boat wires on each post carry away from it, each its block's current, mA."""
    found: dict[str, int] = {}
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            found[wire.lands_on] = found.get(wire.lands_on, 0) + boat_block.current_ma
    return found


Weight = Callable[[Load | BoatBlock], int]
"""What a load counts as."""


def _current(load: Load | BoatBlock) -> int:
    return load.current_ma


def demand_in(console: Console, state: LoadState, weight: Weight = _current) -> Demand:
    """The demand in one load state; ``weight`` puts something else in place of a load's current."""
    own: dict[str, int] = {post.id: 0 for post in console.posts}
    for load, posts in _on(console, state):
        for post in posts:
            own[post] = own.get(post, 0) + weight(load)
    away: dict[str, int] = {}
    bench: dict[str, int] = {}
    for load, _ in _on(console, state):
        for wire in load.wires if isinstance(load, BoatBlock) else ():
            away[wire.lands_on] = away.get(wire.lands_on, 0) + load.current_ma
            if wire.stage == "bench":
                bench[wire.lands_on] = bench.get(wire.lands_on, 0) + load.current_ma
    return _Forest(console, state, own).demand(away, bench)


def _on(console: Console, state: LoadState) -> Iterator[tuple[Load | BoatBlock, list[str]]]:
    """Loads that are on, each with the posts it draws from and returns to."""
    off = {p for c in console.circuits if c.name not in state.live for p in c.posts}
    for load in console.loads:
        if load.feed_post not in off:
            yield load, [load.feed_post, load.ground_post]
    for block in console.boat_blocks:
        if block.drawn_from not in off:
            yield block, [post for post in (block.drawn_from, block.returns_to) if post]


class _Forest:
    """Circuits fed one from the other, summed up from the farthest to the pigtails."""

    def __init__(self, console: Console, state: LoadState, own: dict[str, int]) -> None:
        self._own, self._live = own, state.live
        self._circuits = console.circuits
        by_far = {c.supplied_by: c.name for c in console.circuits if c.supplied_by}
        self._beyond: dict[str, list[str]] = {}
        for way in console.ways:
            if way.far in by_far and way.far in state.closed:
                self._beyond.setdefault(way.near, []).append(by_far[way.far])
        for circuit in console.circuits:
            if circuit.returns_to:  # what its sender lets pass comes back there
                self._beyond.setdefault(circuit.returns_to, []).append(circuit.name)
        self._posts = {c.name: c.posts for c in console.circuits}
        self._totals: dict[str, int] = {}

    def demand(self, away: dict[str, int], bench: dict[str, int]) -> Demand:
        totals = {circuit.name: self._total(circuit.name) for circuit in self._circuits}
        posts = {post: self._drawn(post) for post in self._own}
        return Demand(posts, totals, away, bench, self._live)

    def _drawn(self, post: str) -> int:
        return self._own.get(post, 0) + sum(self._total(c) for c in self._beyond.get(post, ()))

    def _total(self, name: str) -> int:
        if name not in self._totals:
            self._totals[name] = 0  # a circle, which no file may have, ends here
            total = sum(self._drawn(post) for post in self._posts[name])
            total += sum(self._total(c.name) for c in self._circuits if c.taken_from == name)
            self._totals[name] = total
        return self._totals[name]
