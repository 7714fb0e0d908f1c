"""One circuit's jumpers as a net of arcs in arrays, for cuts to be looked for in."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from lugwright.model.bounds.rows import Real, Whole
from lugwright.model.bounds.separation import ENOUGH, SHORT, Network, Weighted
from lugwright.model.formulation.variables import Variables
from lugwright.problem.schema import CircuitQuestion
from lugwright.trade.demand import circuit_totals

Flags = NDArray[np.bool_]


@dataclass
class Net:
    """One circuit's arcs as arrays: node numbers (0: the supply, or the root) and columns.

    ``cap_ma`` is what each arc may carry, ``drawn_ma`` what each node draws; ``units`` are those
    in which ways are counted, none where every wire carries all there is.
    """

    circuit: CircuitQuestion
    names: list[str]
    start: Whole
    end: Whole
    column: Whole
    used: dict[int, int]
    cap_ma: Whole
    drawn_ma: Whole
    units: tuple[int, ...]
    known: set[tuple[frozenset[int], int]] = field(default_factory=set)

    def broken(self, values: Real) -> list[tuple[frozenset[int], int]]:
        """Sets of nodes too little leads into, each with the node that wants more."""
        weighted = self.weighted(values, np.ones(len(self.column)))
        network = Network(len(self.names), weighted)
        found: dict[frozenset[int], int] = {}
        for node in range(1, len(self.names)):
            wanted = float(values[self.used[node]]) if node in self.used else 1.0
            if wanted > SHORT:
                for cut in network.cut(node, wanted):
                    found.setdefault(cut, node)
        return list(found.items())

    def matrix_of(self, much: Real) -> Real:
        """Something of every arc, as a table from node to node."""
        matrix: Real = np.zeros((len(self.names), len(self.names)))
        np.add.at(matrix, (self.start, self.end), much)
        return matrix

    def flags(self, members: frozenset[int]) -> Flags:
        """Which nodes are of a set."""
        inside = np.zeros(len(self.names), dtype=bool)
        inside[list(members)] = True
        return inside

    def ways(self, unit: int) -> Whole:
        """How many ways each arc counts as."""
        return -(-self.cap_ma // unit) if unit else np.ones(len(self.cap_ma), dtype=np.int64)

    def weighted(self, values: Real, weight: Real) -> list[Weighted]:
        """The arcs there is something of, each as much as it is there, times a weight."""
        there = values[self.column]
        flowing = np.nonzero(there > ENOUGH)[0].tolist()
        much = there * weight
        return [(int(self.start[i]), int(self.end[i]), float(much[i])) for i in flowing]


def net_of(v: Variables, circuit: CircuitQuestion, *, caps: bool) -> Net:
    """The net of a circuit; ``caps``: what its wires may carry counts."""
    nodes = [node for node in circuit.nodes if node.name != circuit.root_node]
    names = ["", *(node.name for node in nodes)]
    number = {name: index for index, name in enumerate(names)}
    number[circuit.root_node] = 0
    total = circuit_totals(v.problem.console)[circuit.name]
    arcs = [
        (
            0 if arc.take_off else number[v.node_of[circuit.name, arc.a].name],
            number[v.node_of[circuit.name, arc.b].name],
            arc.use.index,
            min(arc.choice.cap_ma, total),
        )
        for arc in v.arcs
        if arc.circuit == circuit.name
    ]
    arcs += [
        (0, number[v.node_of[circuit.name, source.landing.post].name], source.use.index, total)
        for source in v.sources
        if source.circuit == circuit.name
    ]
    table = np.array(arcs, dtype=np.int64).reshape(-1, 4)
    used = {number[node.name]: v.used[node.name].index for node in nodes if not node.needed}
    drawn = [0, *(sum(circuit.demand_ma.get(j, 0) for j in n.joints) for n in nodes)]
    units = sorted({choice.cap_ma for choice in circuit.choices if 0 < choice.cap_ma < total})
    return Net(
        circuit,
        names,
        *(table[:, 0], table[:, 1], table[:, 2]),
        used,
        table[:, 3],
        np.array(drawn, dtype=np.int64),
        tuple(units) if caps else (),
    )
