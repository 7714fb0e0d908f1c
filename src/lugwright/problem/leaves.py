"""How many ends the circuits' trees must have, so that no drop is too large: before any search.

A chain through all posts adds up drop as its length squared; every further leaf of the tree
shortens the longest chain. A tree with L leaves has L chains from the landing to a leaf, and they
cover all its nodes, so one of them holds at least n/L of them. Along a chain the k-th jumper from
its end carries at least the k smallest demands. At most L jumpers have the same number of nodes
below them on their longest chain, so the drops of all nodes together have a least sum, too; and
where feed and ground share a limit, the sums of both sides share the sum of the limits.

Which resistance meets which current is left open: by the rearrangement inequality (G. H. Hardy,
J. E. Littlewood, G. Pólya, "Inequalities", 1934, theorem 368) the sum is least where the largest
meet the least.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lugwright.base.scale import ceil_div
from lugwright.electrics.resistance import wire_uohm
from lugwright.problem.demand import circuit_totals
from lugwright.problem.schema import CircuitQuestion, DropPath, Problem

FAR = 1 << 40
MOST_WAYS = 12

Numbers = Mapping[str, int]
"""Leaves by circuit."""


@dataclass(frozen=True)
class Chain:
    """Nodes of a circuit that some loads hang on, as seen by a tree in one size.

    ``count`` of them have a way in; all lists are sorted, least first.
    """

    count: int
    drawn_ma: list[int]
    weights: list[int]
    into_uohm: list[int]

    def longest_nv(self, leaves: int) -> int:
        """The least drop, from the landing, at the end of the longest chain."""
        total = current = 0
        length = ceil_div(self.count, leaves)
        for place in range(length):
            current += self.drawn_ma[place]
            total += current * self.into_uohm[length - 1 - place]
        return total

    def together_nv(self, leaves: int) -> int:
        """The least sum over all nodes of weight · drop from the landing."""
        current = weight = 0
        per_uohm: list[int] = []
        for place in range(self.count):
            if place % leaves == 0:
                current += self.drawn_ma[place // leaves]
                weight += self.weights[place // leaves]
            per_uohm.append(current * weight)
        pairs = zip(reversed(per_uohm), self.into_uohm, strict=False)
        return sum(one * other for one, other in pairs)


@dataclass(frozen=True)
class Shared:
    """Loads that may drop no more than one of them: by circuit their nodes, and their room.

    ``room_nv`` is the sum over them of what the limits leave above the landings.
    """

    nodes: Mapping[str, Counter[str]]
    room_nv: int


class Leaves:
    """What the drop limits of a problem say of leaves, by circuit and size."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._caps = self._caps_of()
        self._known: dict[tuple[str, str, bool], dict[str, int]] = {}
        self._least: dict[tuple[str, str], int] = {}

    def least(self, circuit: str, size: str) -> int:
        """No tree of that circuit in that size with fewer leaves keeps the drop limits.

        At least 1. More than there are nodes where no tree keeps them.
        """
        if (circuit, size) not in self._least:
            question = self._problem.circuit(circuit)
            self._least[circuit, size] = self._least_of(question, size)
        return self._least[circuit, size]

    def ways(self, sizes: Mapping[str, str]) -> list[Numbers]:
        """Numbers of leaves, one of which every plan in these sizes has at least throughout.

        Empty where none keeps the limits.
        """
        start = {name: self.least(name, size) for name, size in sizes.items()}
        waiting, found, seen = [start], list[Numbers](), set[tuple[int, ...]]()
        chains = [
            ({c: self._chain(c, nodes, sizes[c]) for c, nodes in each.nodes.items()}, each.room_nv)
            for each in self._shared
        ]
        while waiting and len(waiting) + len(found) < MOST_WAYS:
            numbers = waiting.pop(0)
            if tuple(numbers.values()) in seen or not self._may_be(numbers):
                continue
            seen.add(tuple(numbers.values()))
            short = next((own for own, room in chains if _sum(own, numbers) > room), None)
            if short is None:
                found.append(numbers)
                continue
            waiting += [{**numbers, name: numbers[name] + 1} for name in short]
        return _least_of_them([*found, *waiting])

    # -- one circuit -------------------------------------------------------------------------

    def _may_be(self, numbers: Numbers) -> bool:
        return all(n <= len(self._problem.circuit(c).nodes) for c, n in numbers.items())

    def _joins_up(self, circuit: CircuitQuestion) -> bool:
        """Whether its jumpers are one tree, and not as many as there are take-offs."""
        return not (circuit.rides_on and self._problem.limits.lamp_take_off == "any")

    def _least_of(self, circuit: CircuitQuestion, size: str) -> int:
        """Every set of nodes that share a cap gives a number; the largest counts."""
        own = {node: cap for (name, node), cap in self._caps.items() if name == circuit.name}
        if not self._joins_up(circuit):
            return 1
        most = 1
        for cap in sorted(set(own.values())):
            within = Counter(node for node, other in own.items() if other <= cap)
            chain = self._chain(circuit.name, within, size)
            room = cap - self._base_nv[circuit.name]
            while most <= chain.count and chain.longest_nv(most) > room:
                most += 1
        return most

    def _chain(self, name: str, nodes: Counter[str], size: str) -> Chain:
        circuit = self._problem.circuit(name)
        into = self._into(circuit, size)
        drawn = {n.name: sum(circuit.demand_ma.get(j, 0) for j in n.joints) for n in circuit.nodes}
        # One of them may be where the supply lands.
        count = max(0, len(nodes) - (1 if circuit.supply else 0))
        if not self._joins_up(circuit):
            count = 0
        return Chain(
            count,
            sorted(drawn[node] for node in nodes),
            sorted(nodes.values()),
            sorted(into[node] for node in nodes),
        )

    # -- limits --------------------------------------------------------------------------------

    @cached_property
    def _base_nv(self) -> dict[str, int]:
        """By circuit the least drop where it starts: on its landing, or its host's."""
        problem = self._problem
        totals = circuit_totals(problem.console)
        found = {}
        for circuit in problem.circuits:
            owner = problem.circuit(circuit.rides_on) if circuit.rides_on else circuit
            least = min((choice.nohm_per_mm for choice in owner.choices), default=0)
            more = [
                wire_uohm(least, landing.extension_dmm) + 2 * problem.limits.crimp_uohm
                for landing in owner.landings
                if landing.extension_dmm
            ]
            more += [0 for landing in owner.landings if not landing.extension_dmm]
            given = owner.supply.given_uohm if owner.supply else 0
            found[circuit.name] = (given + min(more, default=0)) * totals[owner.name]
        return found

    def _sides(self, path: DropPath) -> list[tuple[str, str]]:
        """Circuit and node of a load's two ends."""
        ends = ((path.feed_circuit, path.feed_post), (path.ground_circuit, path.ground_post))
        return [(c, self._node[c, post]) for c, post in ends if c and post]

    @cached_property
    def _node(self) -> dict[tuple[str, str], str]:
        return {
            (c.name, joint): node.name
            for c in self._problem.circuits
            for node in c.nodes
            for joint in node.joints
        }

    def _caps_of(self) -> dict[tuple[str, str], int]:
        """What the limits leave to each side of every judged load's path, nV from the source."""
        caps: dict[tuple[str, str], int] = {}
        for path in self._problem.drops:
            sides = self._sides(path)
            least = sum(self._base_nv[circuit] for circuit, _ in sides)
            for side in sides:
                left = path.limit_nv - path.extra_nv - (least - self._base_nv[side[0]])
                caps[side] = min(left, caps.get(side, left))
        return caps

    @cached_property
    def _shared(self) -> list[Shared]:
        """For every limit, the loads with that or a lower one."""
        paths = sorted(self._problem.drops, key=lambda path: path.limit_nv - path.extra_nv)
        found: list[Shared] = []
        nodes: dict[str, Counter[str]] = {}
        room = 0
        for number, path in enumerate(paths):
            limit = path.limit_nv - path.extra_nv
            room += limit
            for circuit, node in self._sides(path):
                nodes.setdefault(circuit, Counter())[node] += 1
                room -= self._base_nv[circuit]
            following = paths[number + 1 : number + 2]
            if not following or following[0].limit_nv - following[0].extra_nv > limit:
                copied = {name: Counter(counted) for name, counted in nodes.items()}
                found.append(Shared(copied, room))
        return found

    # -- resistance ------------------------------------------------------------------------------

    def _into(self, circuit: CircuitQuestion, size: str) -> dict[str, int]:
        """Least resistance into every node from any other that is no splice point, µΩ.

        By way of splice points it may be less than any jumper's.
        """
        if self._problem.limits.wire_size_choice == "jumper":
            size = min(circuit.choices, key=lambda each: each.nohm_per_mm).size
        key = circuit.name, size, True
        if key not in self._known:
            self._known[key] = least_into(self._problem, circuit, size)
        return self._known[key]


def _sum(chains: Mapping[str, Chain], numbers: Numbers) -> int:
    return sum(chain.together_nv(numbers[name]) for name, chain in chains.items())


def _least_of_them(ways: list[Numbers]) -> list[Numbers]:
    """Those of which no other asks for less throughout."""
    kept: list[Numbers] = []
    for way in sorted(ways, key=lambda way: (sum(way.values()), tuple(way.values()))):
        if not any(all(other[name] <= way[name] for name in way) for other in kept):
            kept.append(way)
    return kept


def least_into(problem: Problem, circuit: CircuitQuestion, size: str) -> dict[str, int]:
    """Least resistance into every node but splice points from any other, µΩ, splices on the way.

    A take-off stud of the circuit ridden on counts as a node to come from.
    """
    nohm, crimps = circuit.choice(size).nohm_per_mm, 2 * problem.limits.crimp_uohm
    studs = sorted({edge.a for edge in circuit.take_off})
    stops = [node.name for node in circuit.nodes if not node.is_splice]
    names = [*stops, *studs, *(node.name for node in circuit.nodes if node.is_splice)]
    number = {name: index for index, name in enumerate(names)}
    at = {joint: number[node.name] for node in circuit.nodes for joint in node.joints}
    away: NDArray[np.int64] = np.full((len(names), len(names)), FAR, dtype=np.int64)
    for edge in (*circuit.edges, *circuit.take_off):
        one, other = at.get(edge.a, number.get(edge.a, 0)), at[edge.b]
        uohm = wire_uohm(nohm, edge.length_dmm) + crimps
        away[one, other] = away[other, one] = min(int(away[one, other]), uohm)
    first_splice = len(stops) + len(studs)
    for middle in range(first_splice, len(names)):  # R. W. Floyd, "Algorithm 97", CACM 5, 1962
        np.minimum(away, away[:, middle, None] + away[None, middle], out=away)
    np.fill_diagonal(away, FAR)
    least = away[:first_splice].min(axis=0)
    return {name: int(least[number[name]]) for name in stops}
