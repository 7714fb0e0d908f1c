"""Directed cuts of a relaxation, kept as sets of nodes: which arcs are in one follows from them.

A cut over many nodes has thousands of arcs, of which the solver holds few. What all cuts together
add to the price of an arc from a to b is Σ price · [b inside and a outside], for every pair of
nodes at once by one product of matrices.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from lugwright.model.bounds.chvatal_rounding import grown, overdrawn, rounded_up
from lugwright.model.bounds.net import Flags, net_of
from lugwright.model.bounds.rows import Real, Whole
from lugwright.model.formulation.trees import Cut
from lugwright.model.formulation.variables import Variables

Kind = TypeVar("Kind", np.float64, np.int64)
NONE = -1
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


class Cuts:
    """All cuts of one relaxation, in the order they were found."""

    def __init__(self, v: Variables, *, caps: bool = False) -> None:
        """Of every circuit asked for, none yet. ``caps``: what wires may carry counts, too."""
        self.nets = [net_of(v, circuit, caps=caps) for circuit in v.circuits]
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
                *overdrawn(net, values),
                *grown(net, values),
            ):
                self._add_ways(number, members, values)
        return len(self.rows) > before

    def _add_ways(self, number: int, members: frozenset[int], values: Real) -> None:
        """The rows of a set in every unit that these values break."""
        for unit, least in rounded_up(self.nets[number], members, values):
            self._add(number, members, CutRow(number, NO_FLAGS, NONE, least, unit))

    def _add(self, number: int, members: frozenset[int], row: CutRow) -> None:
        net = self.nets[number]
        if (members, row.unit) not in net.known:
            net.known.add((members, row.unit))
            self.rows.append(replace(row, inside=net.flags(members)))

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
