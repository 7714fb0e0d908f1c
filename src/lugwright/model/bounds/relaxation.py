"""A part's linear relaxation: bounds for every landing, and what each jumper adds to them.

The rows are read from the very model that CP-SAT would get, so no rule is written twice; the
directed cuts a fractional answer breaks are added until none is found. HiGHS finds the prices;
the bound is then worked out from them in whole numbers (``weak_duality``), so nothing rests
on its floating point.
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
from numpy.typing import NDArray

from lugwright.model.bounds.directed_cuts import Cuts
from lugwright.model.bounds.farkas import refuses
from lugwright.model.bounds.linear_program import Linear
from lugwright.model.bounds.reduced_costs import Narrow
from lugwright.model.bounds.rows import Real, Rows, Whole
from lugwright.model.bounds.weak_duality import WeakDuality
from lugwright.model.clock import Clock
from lugwright.model.formulation.variables import Arc, Variables

ROUNDS = 60
NEAR = 8  # jumpers into a joint that are likely from the start
Landings = tuple[tuple[str, tuple[str, ...]], ...]


class Relaxed:
    """The relaxation of one posed model, asked again and again for other landings."""

    def __init__(self, v: Variables, clock: Clock, *, caps: bool = False) -> None:
        """``v.model`` has its objective set; ``clock`` says when to be content with less. ``caps``:
        no wire carries more than it may.

        Nothing of the model is kept: at 60 instruments it is the largest thing there is.
        """
        self._clock = clock
        self._anywhere = v.ask.landings
        self._keys = tuple(arc.key for arc in v.arcs)
        self._columns = np.array([arc.use.index for arc in v.arcs], dtype=np.int64)
        self._rows = Rows(v.model, frozenset(self._columns.tolist()))
        self._cuts = Cuts(v, caps=caps)
        self._duality = WeakDuality(self._rows, self._cuts)
        self._on_landing = _on_landing(v)
        self._known: dict[Landings, tuple[int, Whole] | None] = {}
        self._linear = Linear(self._rows, self._cuts, _likely(v, len(self._rows.cost)))

    def bound(self, landings: Landings) -> int | None:
        """What no answer that lands there can cost less than; None where it was not found."""
        found = self._at(landings)
        return found[0] if found else None

    def rough(self, landings: Landings) -> int | None:
        """The same at little cost: read off the one answer that lands where it likes."""
        found = self._at(self._anywhere)
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
        return Narrow(bound, self._keys, with_column[self._columns], tuple(self._cuts.names()))

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
            if not self._cuts.add_broken(values):
                break
            self._linear.hand_over()
        if prices is None:
            return self._refused(high)
        return self._duality.bound(self._padded(prices), high)

    def _padded(self, prices: Real) -> Real:
        """Rows added since the last solve have no price yet."""
        more = len(self._rows.rows) + len(self._cuts.rows) - len(prices)
        return np.concatenate([prices, np.zeros(more)])

    def _refused(self, high: Whole) -> tuple[int, Whole] | None:
        """A bound beyond any answer, where it is proved that there is none."""
        prices = self._linear.refusal
        if prices is None:
            return None
        prices = self._padded(prices)
        if not any(refuses(self._duality, each, high) for each in (prices, -prices)):
            return None
        beyond = self._duality.beyond
        return beyond, np.full(len(high), beyond, dtype=np.int64)

    def _shut(self, landings: dict[str, tuple[str, ...]]) -> list[int]:
        """Columns of landings and take-offs elsewhere."""
        return [
            column
            for (circuit, post), columns in self._on_landing.items()
            if post not in landings.get(circuit, ())
            for column in columns
        ]


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
    firsts = {c.name: c.root for c in v.circuits if c.has_first_jumper}
    for arc in v.arcs:
        if firsts.get(arc.circuit) == arc.a:
            found[arc.circuit, arc.b].append(arc.use.index)
    if v.problem.limits.lamp_take_off == "landing":
        for circuit in v.circuits:
            for arc in v.arcs:
                if arc.take_off and arc.circuit == circuit.name:
                    found[circuit.taken_from, arc.a].append(arc.use.index)
    return found
