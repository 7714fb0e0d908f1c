"""Directed cuts of a relaxation, kept as sets of nodes: which arcs are in one follows from them.

A cut over many nodes has thousands of arcs, of which the solver holds few. What all cuts together
add to the price of an arc from a to b is Σ price · [b inside and a outside], for every pair of
nodes at once by one product of matrices.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from lugwright.model.cutting import ENOUGH, SHORT, Network
from lugwright.model.rows import Real, Whole
from lugwright.model.variables import Variables
from lugwright.problem.schema import CircuitQuestion

Flags = NDArray[np.bool_]
Kind = TypeVar("Kind", np.float64, np.int64)
NONE = -1


@dataclass(frozen=True)
class CutRow:
    """At least one way into a set of a net's nodes; ``wanted``: as much as that column says.

    ``wanted`` is ``NONE`` where a node in the set must be reached.
    """

    net: int
    inside: Flags
    wanted: int


@dataclass
class Net:
    """One circuit's arcs as arrays: node numbers (0: the supply) and columns."""

    circuit: CircuitQuestion
    names: list[str]
    start: Whole
    end: Whole
    column: Whole
    used: dict[int, int]
    known: set[frozenset[int]] = field(default_factory=set)

    def broken(self, values: Real) -> list[tuple[frozenset[int], int]]:
        """Sets of nodes too little leads into, each with the node that wants more."""
        there = values[self.column]
        flowing = np.nonzero(there > ENOUGH)[0].tolist()
        weighted = [(int(self.start[i]), int(self.end[i]), float(there[i])) for i in flowing]
        network = Network(len(self.names), weighted)
        found: dict[frozenset[int], int] = {}
        for node in range(1, len(self.names)):
            wanted = float(values[self.used[node]]) if node in self.used else 1.0
            if wanted > SHORT:
                for cut in network.cut(node, wanted):
                    found.setdefault(cut, node)
        return list(found.items())


class Cuts:
    """All cuts of one relaxation, in the order they were found."""

    def __init__(self, v: Variables) -> None:
        """Of every circuit asked for, none yet."""
        self.nets = [_net(v, circuit) for circuit in v.circuits]
        self.rows: list[CutRow] = []
        self._matrices: dict[int, tuple[int, NDArray[np.intp], Flags]] = {}

    def add_broken(self, values: Real) -> bool:
        """Add the cuts these values of the columns break; whether there were any."""
        before = len(self.rows)
        for number, net in enumerate(self.nets):
            for members, node in net.broken(values):
                if members in net.known:
                    continue
                net.known.add(members)
                inside = np.zeros(len(net.names), dtype=bool)
                inside[list(members)] = True
                needed = any(each not in net.used for each in members)
                self.rows.append(CutRow(number, inside, NONE if needed else net.used[node]))
        return len(self.rows) > before

    def names(self) -> list[tuple[str, frozenset[str]]]:
        """Every cut as its circuit and the names of its nodes."""
        return [
            (net.circuit.name, frozenset(net.names[i] for i in np.nonzero(row.inside)[0].tolist()))
            for row in self.rows
            for net in (self.nets[row.net],)
        ]

    def into(self, row: CutRow) -> Whole:
        """Columns of the arcs that lead into a cut."""
        net = self.nets[row.net]
        return net.column[row.inside[net.end] & ~row.inside[net.start]]

    def entries_of(self, columns: NDArray[np.intp]) -> tuple[Whole, Whole]:
        """Cut (by number) and column of every place where one of some columns leads into a cut."""
        cuts, places = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)]
        for number, net in enumerate(self.nets):
            own, inside = self._matrix(number)
            arcs = np.nonzero(np.isin(net.column, columns))[0]
            if len(own) and len(arcs):
                cut, arc = np.nonzero(inside[:, net.end[arcs]] & ~inside[:, net.start[arcs]])
                cuts.append(own[cut])
                places.append(net.column[arcs[arc]])
        return np.concatenate(cuts), np.concatenate(places)

    def paid_by(self, prices: NDArray[Kind], columns: int) -> NDArray[Kind]:
        """What prices on the cuts come to for each of so many columns, in the prices' own kind."""
        paid: NDArray[Kind] = np.zeros(columns, dtype=prices.dtype)
        for number, net in enumerate(self.nets):
            own, inside = self._matrix(number)
            priced = prices[own] != 0
            members = inside[priced].astype(prices.dtype)
            worth = members * prices[own][priced][:, None]
            both = worth.T @ members
            paid[net.column] += (worth.sum(axis=0)[None, :] - both)[net.start, net.end]
        for row, price in zip(self.rows, prices, strict=True):
            if row.wanted != NONE and price:
                paid[row.wanted] -= price
        return paid

    def sides(self) -> Whole:
        """The least each cut asks for."""
        return np.array([1 if row.wanted == NONE else 0 for row in self.rows], dtype=np.int64)

    def _matrix(self, number: int) -> tuple[NDArray[np.intp], Flags]:
        """Numbers of a net's cuts, and which nodes are inside each."""
        upto, own, inside = self._matrices.get(number, (0, np.zeros(0, np.intp), None))
        if upto < len(self.rows) or inside is None:
            own = np.array([i for i, row in enumerate(self.rows) if row.net == number], np.intp)
            nodes = len(self.nets[number].names)
            inside = np.array([self.rows[i].inside for i in own], bool).reshape(-1, nodes)
            self._matrices[number] = (len(self.rows), own, inside)
        return own, inside


def _net(v: Variables, circuit: CircuitQuestion) -> Net:
    names = ["", *(node.name for node in circuit.nodes)]
    number = {name: index for index, name in enumerate(names)}
    arcs = [
        (
            0 if arc.take_off else number[v.node_of[circuit.name, arc.a].name],
            number[v.node_of[circuit.name, arc.b].name],
            arc.use.index,
        )
        for arc in v.arcs
        if arc.circuit == circuit.name
    ]
    arcs += [
        (0, number[v.node_of[circuit.name, source.landing.post].name], source.use.index)
        for source in v.sources
        if source.circuit == circuit.name
    ]
    table = np.array(arcs, dtype=np.int64).reshape(-1, 3)
    used = {number[node.name]: v.used[node.name].index for node in circuit.nodes if not node.needed}
    return Net(circuit, names, table[:, 0], table[:, 1], table[:, 2], used)
