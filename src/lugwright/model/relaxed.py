"""A part's linear relaxation: bounds for every landing, and what each jumper adds to them.

The rows are read from the very model that CP-SAT would get, so no rule is written twice; the
directed cuts a fractional answer breaks are added until none is found. HiGHS finds the prices;
the bound is then worked out from them in whole numbers (``rows.Rows.bound``), so nothing rests
on its floating point.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lugwright.model.clock import Clock
from lugwright.model.cutting import ENOUGH, SHORT, Network
from lugwright.model.linear import Linear
from lugwright.model.narrow import Cut, Narrow
from lugwright.model.rows import Real, Row, Rows, Whole
from lugwright.model.variables import Arc, Variables
from lugwright.problem.schema import CircuitQuestion

ROUNDS = 60
NEAR = 8  # jumpers into a joint that are likely from the start
Landings = tuple[tuple[str, tuple[str, ...]], ...]


class Relaxed:
    """The relaxation of one posed model, asked again and again for other landings."""

    def __init__(self, v: Variables, clock: Clock) -> None:
        """``v.model`` has its objective set; ``clock`` says when to be content with less."""
        self._v = v
        self._clock = clock
        self._rows = Rows(v.model, frozenset(arc.use.index for arc in v.arcs))
        self._nets = [_net(v, circuit) for circuit in v.circuits]
        self._cuts: dict[Cut, None] = {}
        self._on_landing = _on_landing(v)
        self._known: dict[Landings, tuple[int, Whole] | None] = {}
        self._linear = Linear(self._rows, _likely(v, len(self._rows.cost)))

    def bound(self, landings: Landings) -> int | None:
        """What no answer that lands there can cost less than; None where it was not found."""
        found = self._at(landings)
        return found[0] if found else None

    def rough(self, landings: Landings) -> int | None:
        """The same at little cost: read off the one answer that lands where it likes."""
        found = self._at(self._v.ask.landings)
        if found is None:
            return None
        bound, with_column = found
        for circuit, posts in landings:
            columns = [c for post in posts for c in self._on_landing.get((circuit, post), ())]
            if columns:
                bound = max(bound, int(with_column[columns].min()))
        return bound

    def narrow(self, landings: Landings) -> Narrow | None:
        """The bound, and the bound with each jumper in the answer; None where none was found."""
        found = self._at(landings)
        if found is None:
            return None
        bound, with_column = found
        columns = with_column.tolist()
        with_arc = {arc.key: columns[arc.use.index] for arc in self._v.arcs}
        return Narrow(bound, with_arc, tuple(self._cuts))

    def _at(self, landings: Landings) -> tuple[int, Whole] | None:
        if landings not in self._known:
            self._known[landings] = self._solve(landings)
        return self._known[landings]

    def _solve(self, landings: Landings) -> tuple[int, Whole] | None:
        """Solve, add the cuts that are broken, and again; then the exact bound of the prices."""
        high = self._rows.high.copy()
        high[self._shut(dict(landings))] = 0
        self._linear.set_high(high)
        prices: Real | None = None
        for _ in range(ROUNDS):
            solved = self._linear.solve(self._clock.left())
            if solved is None:
                break
            values, prices = solved
            if not self._add_cuts(values):
                break
        if prices is None:
            return self._refused(high)
        # Rows added since the last solve have no price yet.
        more = np.zeros(len(self._rows.rows) - len(prices))
        return self._rows.bound(np.concatenate([prices, more]), high)

    def _refused(self, high: Whole) -> tuple[int, Whole] | None:
        """A bound beyond any answer, where it is proved that there is none."""
        prices = self._linear.refusal
        if prices is None or not any(self._rows.refuses(p, high) for p in (prices, -prices)):
            return None
        return self._rows.beyond, np.full(len(high), self._rows.beyond, dtype=np.int64)

    def _shut(self, landings: dict[str, tuple[str, ...]]) -> list[int]:
        """Columns of landings and take-offs elsewhere."""
        return [
            column
            for (circuit, post), columns in self._on_landing.items()
            if post not in landings.get(circuit, ())
            for column in columns
        ]

    def _add_cuts(self, values: Real) -> bool:
        """Add the cuts these values break; whether there were any."""
        before = len(self._cuts)
        for net in self._nets:
            for names, wanted in net.broken(self._v, values):
                cut = (net.circuit.name, names)
                if cut not in self._cuts:
                    self._cuts[cut] = None
                    self._rows.add(net.row(self._v, names, wanted))
        self._linear.hand_over()
        return len(self._cuts) > before


def _likely(v: Variables, columns: int) -> NDArray[np.bool_]:
    """Everything but the jumpers that are not among the shortest into their joint."""
    likely = np.ones(columns, dtype=bool)
    for arcs in v.arcs_in.values():
        by_size: dict[str, list[Arc]] = defaultdict(list)
        for arc in arcs:
            by_size[arc.choice.size].append(arc)
        for each in by_size.values():
            each.sort(key=lambda arc: (arc.edge.length_dmm, arc.a))
            likely[[arc.use.index for arc in each[NEAR:]]] = False
    return likely


def _on_landing(v: Variables) -> dict[tuple[str, str], list[int]]:
    """By circuit and post: columns that are nothing where its supply lands on another post."""
    found: dict[tuple[str, str], list[int]] = defaultdict(list)
    for source in v.sources:
        found[source.circuit, source.landing.post].append(source.use.index)
    if v.problem.limits.lamp_take_off == "landing":
        for circuit in v.circuits:
            for arc in v.arcs:
                if arc.take_off and arc.circuit == circuit.name:
                    found[circuit.rides_on, arc.a].append(arc.use.index)
    return found


@dataclass
class _Net:
    """One circuit's arcs as arrays: node numbers (0: the supply) and columns."""

    circuit: CircuitQuestion
    names: list[str]
    start: NDArray[np.int64]
    end: NDArray[np.int64]
    column: NDArray[np.int64]

    def broken(self, v: Variables, values: Real) -> list[tuple[frozenset[str], str]]:
        """Sets of nodes too little leads into, each with the node that wants more."""
        there = values[self.column]
        used = np.nonzero(there > ENOUGH)[0].tolist()
        weighted = [(int(self.start[i]), int(self.end[i]), float(there[i])) for i in used]
        network = Network(len(self.names), weighted)
        found: dict[frozenset[int], str] = {}
        for number, node in enumerate(self.circuit.nodes, start=1):
            wanted = 1.0 if node.needed else float(values[v.used[node.name].index])
            if wanted > SHORT:
                for cut in network.cut(number, wanted):
                    found.setdefault(cut, node.name)
        return [
            (frozenset(self.names[number] for number in cut), node) for cut, node in found.items()
        ]

    def row(self, v: Variables, names: frozenset[str], wanted: str) -> Row:
        """At least one way into the set, or as much as the node wants of it."""
        inside = np.array([name in names for name in self.names])
        columns = self.column[inside[self.end] & ~inside[self.start]].astype(np.int32)
        ones = np.ones(len(columns), dtype=np.int32)
        if any(node.needed for node in self.circuit.nodes if node.name in names):
            return Row(columns, ones, 1, None)
        used = v.used[wanted].index
        return Row(np.append(columns, used), np.append(ones, -1), 0, None)


def _net(v: Variables, circuit: CircuitQuestion) -> _Net:
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
    return _Net(circuit, names, table[:, 0], table[:, 1], table[:, 2])
