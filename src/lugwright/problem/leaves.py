"""How many ends the circuits' trees must have, so that no drop is too large: before any search.

A chain through all posts adds up drop as its length squared; every further leaf of the tree
shortens the longest chain. A tree with L leaves has L chains from the landing to a leaf, and they
cover all its nodes, so one of them holds at least n/L of them. Along a chain the k-th jumper from
its end carries at least the k smallest demands.

Which resistance meets which current is left open: by the rearrangement inequality (G. H. Hardy,
J. E. Littlewood, G. Pólya, "Inequalities", 1934, theorem 368) the sum is least where the largest
meet the least.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lugwright.base.scale import ceil_div
from lugwright.electrics.resistance import wire_uohm
from lugwright.problem.schema import CircuitQuestion, DropPath, Problem

FAR = 1 << 40


@dataclass(frozen=True)
class Chain:
    """Nodes of a circuit that some loads hang on, as seen by a tree in one size.

    ``count`` of them have a way in; both lists are sorted, least first.
    """

    count: int
    drawn_ma: list[int]
    into_uohm: list[int]

    def longest_nv(self, leaves: int) -> int:
        """The least drop, from the landing, at the end of the longest chain."""
        total = current = 0
        length = ceil_div(self.count, leaves)
        for place in range(length):
            current += self.drawn_ma[place]
            total += current * self.into_uohm[length - 1 - place]
        return total


class Leaves:
    """What the drop limits of a problem say of leaves, by circuit and size."""

    def __init__(self, problem: Problem) -> None:
        """Looked at in the first load state: what holds in all of them holds in that."""
        self.problem, self._demand = problem, problem.demands[0]
        self._known: dict[tuple[str, str], dict[str, int]] = {}
        self._least: dict[tuple[str, str], int] = {}

    def least(self, circuit: str, size: str) -> int:
        """No tree of that circuit in that size with fewer leaves keeps the drop limits.

        At least 1. More than there are nodes where no tree keeps them.
        """
        if (circuit, size) not in self._least:
            question = self.problem.circuit(circuit)
            self._least[circuit, size] = self._least_of(question, size)
        return self._least[circuit, size]

    # -- one circuit -------------------------------------------------------------------------

    def _joins_up(self, circuit: CircuitQuestion) -> bool:
        """Whether its jumpers are one tree, and not as many as there are take-offs."""
        return not (circuit.taken_from and self.problem.limits.lamp_take_off == "any")

    def _least_of(self, circuit: CircuitQuestion, size: str) -> int:
        """Every set of nodes that share a cap gives a number; the largest counts."""
        own = {node: cap for (name, node), cap in self._caps.items() if name == circuit.name}
        if not self._joins_up(circuit):
            return 1
        most = 1
        for cap in sorted(set(own.values())):
            within = [node for node, other in own.items() if other <= cap]
            chain = self._chain(circuit, within, size)
            room = cap - self._base_nv[circuit.name]
            while most <= chain.count and chain.longest_nv(most) > room:
                most += 1
        return most

    def _chain(self, circuit: CircuitQuestion, nodes: list[str], size: str) -> Chain:
        into = self._into(circuit, size)
        drawn = {n.name: sum(circuit.demand_ma.get(j, 0) for j in n.joints) for n in circuit.nodes}
        # One of them may be where the supply lands, or the root.
        count = max(0, len(nodes) - (1 if circuit.supply or circuit.root else 0))
        return Chain(
            count, sorted(drawn[node] for node in nodes), sorted(into[node] for node in nodes)
        )

    # -- limits --------------------------------------------------------------------------------

    @cached_property
    def _base_nv(self) -> dict[str, int]:
        """By circuit the least drop where it starts: on its landing or root, or its host's."""
        totals = self._demand.totals
        found: dict[str, int] = {}
        for circuit in self.problem.outward:
            before = found.get(circuit.fed_by, 0)
            own = circuit.contact_uohm + self._supply_uohm(circuit)
            found[circuit.name] = before + own * totals[circuit.name]
        return found

    def _supply_uohm(self, circuit: CircuitQuestion) -> int:
        """The least of a circuit's own supply: run, pigtail, an extension where all want one."""
        if circuit.supply is None:
            return 0
        own = (circuit.own_extension,) if circuit.own_extension else circuit.choices
        least = min((choice.nohm_per_mm for choice in own), default=0)
        more = [
            wire_uohm(least, landing.extension_dmm) + 2 * self.problem.limits.crimp_uohm
            for landing in circuit.landings
            if landing.extension_dmm
        ]
        more += [0 for landing in circuit.landings if not landing.extension_dmm]
        return circuit.supply.given_uohm + min(more, default=0)

    def _sides(self, path: DropPath) -> list[tuple[str, str]]:
        """Circuit and node of a load's two ends."""
        ends = ((path.feed_circuit, path.feed_post), (path.ground_circuit, path.ground_post))
        return [(c, self._node[c, post]) for c, post in ends if c and post]

    @cached_property
    def _node(self) -> dict[tuple[str, str], str]:
        return {
            (c.name, joint): node.name
            for c in self.problem.circuits
            for node in c.nodes
            for joint in node.joints
        }

    @cached_property
    def _caps(self) -> dict[tuple[str, str], int]:
        """What the limits leave to each side of every judged load's path, nV from the source."""
        caps: dict[tuple[str, str], int] = {}
        for path in self.problem.drops:
            if not self._demand.feeds(path.feed_circuit):
                continue
            sides = self._sides(path)
            least = sum(self._base_nv[circuit] for circuit, _ in sides)
            for side in sides:
                left = path.limit_nv - path.extra_nv - (least - self._base_nv[side[0]])
                caps[side] = min(left, caps.get(side, left))
        return caps

    # -- resistance ------------------------------------------------------------------------------

    def _into(self, circuit: CircuitQuestion, size: str) -> dict[str, int]:
        """Least resistance into every node from any other that is no splice point, µΩ.

        By way of splice points it may be less than any jumper's.
        """
        if self.problem.limits.wire_size_choice == "jumper":
            size = min(circuit.choices, key=lambda each: each.nohm_per_mm).size
        key = circuit.name, size
        if key not in self._known:
            self._known[key] = least_into(self.problem, circuit, size)
        return self._known[key]


def least_into(problem: Problem, circuit: CircuitQuestion, size: str) -> dict[str, int]:
    """Least resistance into every node but splice points from any other, µΩ, splices on the way.

    A take-off stud of the circuit taken from counts as a node to come from.
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
