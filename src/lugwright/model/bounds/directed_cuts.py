"""Directed cuts of a relaxation, kept as sets of nodes: which arcs are in one follows from them.

A cut over many nodes has thousands of arcs, of which the solver holds few. What all cuts together
add to the price of an arc from a to b is Σ price · [b inside and a outside], for every pair of
nodes at once by one product of matrices.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from lugwright.model.bounds.rows import Real, Whole
from lugwright.model.bounds.separation import ENOUGH, SHORT, Network, Weighted
from lugwright.model.formulation.trees import Cut
from lugwright.model.formulation.variables import Variables
from lugwright.problem.demand import circuit_totals
from lugwright.problem.schema import CircuitQuestion

Flags = NDArray[np.bool_]
Kind = TypeVar("Kind", np.float64, np.int64)
NONE = -1
MOST_GROWN = 40  # sets a round
NO_FLAGS: Flags = np.zeros(0, dtype=bool)


@dataclass(frozen=True)
class CutRow:
    """A set of a net's nodes and what must lead into it; ``least`` of it at least.

    ``unit`` 0: one way, or as much as the column ``wanted`` says (``NONE``: a node in the set must
    be reached). Else ways are counted by what they carry, in units of so many mA rounded up.
    """

    net: int
    inside: Flags
    wanted: int
    least: int = 1
    unit: int = 0


@dataclass
class Net:
    """One circuit's arcs as arrays: node numbers (0: the supply) and columns.

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
        weighted = self._weighted(values, np.ones(len(self.column)))
        network = Network(len(self.names), weighted)
        found: dict[frozenset[int], int] = {}
        for node in range(1, len(self.names)):
            wanted = float(values[self.used[node]]) if node in self.used else 1.0
            if wanted > SHORT:
                for cut in network.cut(node, wanted):
                    found.setdefault(cut, node)
        return list(found.items())

    def overdrawn(self, values: Real) -> list[frozenset[int]]:
        """Sets of nodes that draw more than what leads into them carries (least cut: all nodes
        drain into one more, each as much as it draws)."""
        if not self.units:
            return []
        sink, total = len(self.names), float(self.drawn_ma.sum())
        drains = [(v, sink, float(ma)) for v, ma in enumerate(self.drawn_ma.tolist()) if ma]
        weighted = self._weighted(values, self.cap_ma.astype(np.float64))
        found = Network(sink + 1, [*weighted, *drains]).cut(sink, total)
        return [cut - {sink} for cut in found if len(cut) > 1]

    def grown(self, values: Real) -> list[frozenset[int]]:
        """Sets that too few ways lead into, found by growing one from every node: always by the
        node most is shared with (a heuristic; what it finds is checked by whoever uses it)."""
        if not self.units:
            return []
        nodes = len(self.names)
        shared = self._matrix_of(values[self.column])
        shared = shared + shared.T
        by_unit = {u: self._matrix_of(values[self.column] * self.ways(u)) for u in self.units}
        found: dict[frozenset[int], float] = {}
        for first in range(1, nodes):
            inside, gain = np.zeros(nodes, dtype=bool), shared[first].copy()
            gain[0] = 0.0
            drawn, leading, node = 0, dict.fromkeys(self.units, 0.0), first
            while True:
                for unit, matrix in by_unit.items():
                    own = matrix[inside, node].sum() + matrix[node, inside].sum()
                    leading[unit] += float(matrix[:, node].sum() - own)
                inside[node] = True
                drawn += int(self.drawn_ma[node])
                short = max(-(-drawn // u) - leading[u] for u in self.units)
                if short > SHORT:
                    members = frozenset(np.nonzero(inside)[0].tolist())
                    found[members] = max(short, found.get(members, 0.0))
                gain[inside] = 0.0
                node = int(gain.argmax())
                if gain[node] <= ENOUGH:
                    break
                gain += shared[node]
                gain[0] = 0.0
        return sorted(found, key=lambda each: (-found[each], sorted(each)))[:MOST_GROWN]

    def _matrix_of(self, much: Real) -> Real:
        matrix: Real = np.zeros((len(self.names), len(self.names)))
        np.add.at(matrix, (self.start, self.end), much)
        return matrix

    def ways(self, unit: int) -> Whole:
        """How many ways each arc counts as."""
        return -(-self.cap_ma // unit) if unit else np.ones(len(self.cap_ma), dtype=np.int64)

    def _weighted(self, values: Real, weight: Real) -> list[Weighted]:
        there = values[self.column]
        flowing = np.nonzero(there > ENOUGH)[0].tolist()
        much = there * weight
        return [(int(self.start[i]), int(self.end[i]), float(much[i])) for i in flowing]


class Cuts:
    """All cuts of one relaxation, in the order they were found."""

    def __init__(self, v: Variables, *, caps: bool = False) -> None:
        """Of every circuit asked for, none yet. ``caps``: what wires may carry counts, too."""
        self.nets = [_net(v, circuit, caps=caps) for circuit in v.circuits]
        self.rows: list[CutRow] = []
        self._matrices: dict[tuple[int, int], tuple[int, NDArray[np.intp], Flags]] = {}

    def add_broken(self, values: Real) -> bool:
        """Add the cuts these values of the columns break; whether there were any."""
        before = len(self.rows)
        for number, net in enumerate(self.nets):
            found = net.broken(values)
            for members, node in found:
                needed = any(each not in net.used for each in members)
                wanted = NONE if needed else net.used[node]
                self._add(number, members, CutRow(number, NO_FLAGS, wanted, 1 if needed else 0))
            for members in (
                *(each for each, _ in found),
                *net.overdrawn(values),
                *net.grown(values),
            ):
                self._add_ways(number, members, values)
        return len(self.rows) > before

    def _add_ways(self, number: int, members: frozenset[int], values: Real) -> None:
        """The rows of a set in every unit that these values break.

        What leads in carries at least what is drawn inside; divided by a unit and rounded up it
        still does (V. Chvátal, "Edmonds polytopes and a hierarchy of combinatorial problems",
        Discrete Mathematics 4, 1973).
        """
        net = self.nets[number]
        drawn = int(net.drawn_ma[list(members)].sum())
        inside = _flags(members, len(net.names))
        leading = inside[net.end] & ~inside[net.start]
        for unit in net.units:
            least = -(-drawn // unit)
            if float(net.ways(unit)[leading] @ values[net.column[leading]]) < least - SHORT:
                self._add(number, members, CutRow(number, NO_FLAGS, NONE, least, unit))

    def _add(self, number: int, members: frozenset[int], row: CutRow) -> None:
        net = self.nets[number]
        if (members, row.unit) not in net.known:
            net.known.add((members, row.unit))
            self.rows.append(replace(row, inside=_flags(members, len(net.names))))

    def names(self) -> list[Cut]:
        """Every cut as its circuit, the names of its nodes, and its unit."""
        return [self._name(row) for row in self.rows]

    def _name(self, row: CutRow) -> Cut:
        net = self.nets[row.net]
        inside = np.nonzero(row.inside)[0].tolist()
        return net.circuit.name, frozenset(net.names[i] for i in inside), row.unit

    def into(self, row: CutRow) -> tuple[Whole, Whole]:
        """Columns of the arcs that lead into a cut, and how many ways each counts as."""
        net = self.nets[row.net]
        leading = row.inside[net.end] & ~row.inside[net.start]
        return net.column[leading], net.ways(row.unit)[leading]

    def entries_of(self, columns: NDArray[np.intp]) -> tuple[Whole, Whole, Whole]:
        """Cut (by number), column and number of ways of every place where one of some columns
        leads into a cut."""
        none = np.zeros(0, np.int64)
        cuts, places, ways = [none], [none], [none]
        for number, unit in self._groups():
            net = self.nets[number]
            own, inside = self._matrix(number, unit)
            arcs = np.nonzero(np.isin(net.column, columns))[0]
            cut, arc = np.nonzero(inside[:, net.end[arcs]] & ~inside[:, net.start[arcs]])
            cuts.append(own[cut])
            places.append(net.column[arcs[arc]])
            ways.append(net.ways(unit)[arcs[arc]])
        return np.concatenate(cuts), np.concatenate(places), np.concatenate(ways)

    def paid_by(self, prices: NDArray[Kind], columns: int) -> NDArray[Kind]:
        """What prices on the cuts come to for each of so many columns, in the prices' own kind."""
        paid: NDArray[Kind] = np.zeros(columns, dtype=prices.dtype)
        for number, unit in self._groups():
            net = self.nets[number]
            own, inside = self._matrix(number, unit)
            priced = prices[own] != 0
            members = inside[priced].astype(prices.dtype)
            worth = members * prices[own][priced][:, None]
            both = worth.T @ members
            each = (worth.sum(axis=0)[None, :] - both)[net.start, net.end]
            paid[net.column] += each * net.ways(unit).astype(prices.dtype)
        for row, price in zip(self.rows, prices, strict=True):
            if row.wanted != NONE and price:
                paid[row.wanted] -= price
        return paid

    def sides(self) -> Whole:
        """The least each cut asks for."""
        return np.array([row.least for row in self.rows], dtype=np.int64)

    @property
    def most_ways(self) -> int:
        """The most ways any arc counts as."""
        return max(
            (int(net.ways(u).max(initial=1)) for net in self.nets for u in net.units), default=1
        )

    def _groups(self) -> list[tuple[int, int]]:
        """Net and unit of every kind of cut there is."""
        return sorted({(row.net, row.unit) for row in self.rows})

    def _matrix(self, number: int, unit: int) -> tuple[NDArray[np.intp], Flags]:
        """Numbers of a net's cuts in a unit, and which nodes are inside each."""
        upto, own, inside = self._matrices.get((number, unit), (0, np.zeros(0, np.intp), None))
        if upto < len(self.rows) or inside is None:
            chosen = [i for i, r in enumerate(self.rows) if r.net == number and r.unit == unit]
            nodes = len(self.nets[number].names)
            own = np.array(chosen, np.intp)
            inside = np.array([self.rows[i].inside for i in chosen], bool).reshape(-1, nodes)
            self._matrices[number, unit] = (len(self.rows), own, inside)
        return own, inside


def _flags(members: frozenset[int], nodes: int) -> Flags:
    inside = np.zeros(nodes, dtype=bool)
    inside[list(members)] = True
    return inside


def _net(v: Variables, circuit: CircuitQuestion, *, caps: bool) -> Net:
    names = ["", *(node.name for node in circuit.nodes)]
    number = {name: index for index, name in enumerate(names)}
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
    used = {number[node.name]: v.used[node.name].index for node in circuit.nodes if not node.needed}
    drawn = [0, *(sum(circuit.demand_ma.get(j, 0) for j in n.joints) for n in circuit.nodes)]
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
