"""What drop and current a jumper can have at least and at most, known before any search."""

from __future__ import annotations

import heapq
from collections import defaultdict

from lugwright.electrics.resistance import wire_uohm
from lugwright.model.formulation.variables import Arc, Source, Variables
from lugwright.problem.judged_paths import back_nv, crimp_nv, way_nv
from lugwright.problem.schema import CircuitQuestion, Node
from lugwright.trade.demand import Demand
from lugwright.trade.straps import contacts_uohm

Key = tuple[str, str]
"""Circuit and node."""


def drawn_at(node: Node, demand: Demand) -> int:
    """What the posts of a node draw in one load state, mA."""
    return sum(demand.posts.get(joint, 0) for joint in node.joints)


class Reach:
    """Least drops, and what the limits leave above them, in one load state.

    All drops in nV, from the source.
    """

    def __init__(self, v: Variables, demand: Demand) -> None:
        self._v, self._demand = v, demand
        self._totals = demand.totals
        self._crimp = v.problem.limits.crimp_uohm
        self._own = {
            (circuit.name, node.name): drawn_at(node, demand)
            for circuit in v.circuits
            for node in v.nodes(circuit)
        }
        self._uohm: dict[Key, int] = {}
        self._base: dict[str, int] = {}
        self.least_nv: dict[Key, int] = {}
        for circuit in v.problem.outward:
            if circuit.name in v.ask.circuits:
                self._spread(circuit)
                self._least_of(circuit)
        self._any_nv = self._any()
        self._most = self._limits()

    def arc_uohm(self, arc: Arc) -> int:
        """One jumper and its two crimps."""
        return wire_uohm(arc.choice.nohm_per_mm, arc.edge.length_dmm) + 2 * self._crimp

    def source_uohm(self, source: Source) -> int:
        """Supply run, pigtail and extension."""
        supply = self._v.problem.circuit(source.circuit).supply
        total = supply.given_uohm if supply else 0
        if source.extension:
            wire = wire_uohm(source.extension.nohm_per_mm, source.landing.extension_dmm)
            total += wire + 2 * self._crimp
        return total

    def start_nv(self, arc: Arc) -> int:
        """The least drop where a jumper starts, its own current left out."""
        start = self._start(arc)
        return self._base[arc.circuit] if start is None else self.least_nv[start]

    def way_uohm(self, arc: Arc) -> int:
        """The least resistance its current meets on the whole way from the landing to its end."""
        return self._before(arc) + self.arc_uohm(arc)

    def most_ma(self, arc: Arc) -> int:
        """The most current a jumper can carry without a drop at its end beyond all limits."""
        end = (arc.circuit, self._v.node_of[arc.circuit, arc.b].name)
        left = self._most.get(end, self._any_nv) - self.start_nv(arc)
        uohm = self.way_uohm(arc)
        return max(0, left // uohm) if uohm else self._totals[arc.circuit]

    def most_nv(self, circuit: CircuitQuestion, node: Node) -> int:
        """The most drop a node can have."""
        return self._most.get((circuit.name, node.name), self._any_nv)

    def _start(self, arc: Arc) -> Key | None:
        """Where a jumper starts; None on a circuit that is asked for elsewhere."""
        owner = self._v.problem.circuit(arc.circuit).taken_from if arc.take_off else arc.circuit
        node = self._v.node_of.get((owner, arc.a))
        return None if node is None else (owner, node.name)

    def _before(self, arc: Arc) -> int:
        start = self._start(arc)
        return 0 if start is None else self._uohm.get(start, 0)

    # -- the least -----------------------------------------------------------------------------

    def _least_of(self, circuit: CircuitQuestion) -> None:
        for node in self._v.nodes(circuit):
            key = circuit.name, node.name
            self.least_nv[key] = self._base[circuit.name] + self._uohm.get(key, 0) * self._own[key]

    def _start_of(self, circuit: CircuitQuestion) -> int:
        """The least drop on a landing, or a root: what is before its way is reached by then."""
        name, post = circuit.near
        near = self._v.node_of.get((name, post))
        if circuit.root:
            before = 0 if near is None else self.least_nv[name, near.name]
            return before + (way_nv(self._v.problem, circuit, self._demand) if near else 0)
        owner = circuit.taken_from or circuit.name
        if self._v.problem.circuit(owner).root:
            return self._base.get(owner, 0)
        landed = [self.source_uohm(s) for s in self._v.sources if s.circuit == owner]
        back = 0 if near is None else self.least_nv[name, near.name]
        back += back_nv(self._v.problem, circuit, self._demand) if near else 0
        return back + min(landed, default=0) * self._totals[owner]

    def _spread(self, circuit: CircuitQuestion) -> None:
        """Least resistance from where a circuit starts to every node (E. W. Dijkstra, 1959)."""
        v = self._v
        near: dict[str, list[tuple[str, int]]] = defaultdict(list)
        reached: dict[str, int] = {}
        self._base[circuit.name] = self._start_of(circuit)
        if circuit.root:
            reached[circuit.root_node] = 0
        for source in v.sources:
            if source.circuit == circuit.name:
                reached[v.node_of[circuit.name, source.landing.post].name] = 0
        for arc in v.arcs:
            if arc.circuit != circuit.name:
                continue
            end, uohm = v.node_of[circuit.name, arc.b].name, self.arc_uohm(arc)
            if arc.take_off:
                uohm += self._before(arc)
                reached[end] = min(uohm, reached.get(end, uohm))
            else:
                near[v.node_of[circuit.name, arc.a].name].append((end, uohm))
        waiting = [(uohm, name) for name, uohm in reached.items()]
        heapq.heapify(waiting)
        while waiting:
            uohm, name = heapq.heappop(waiting)
            if uohm > reached[name]:
                continue
            for other, more in near[name]:
                if uohm + more < reached.get(other, uohm + more + 1):
                    reached[other] = uohm + more
                    heapq.heappush(waiting, (uohm + more, other))
        for name, uohm in reached.items():
            self._uohm[circuit.name, name] = uohm

    # -- the most ------------------------------------------------------------------------------

    def _any(self) -> int:
        """No drop anywhere can be larger: all current through every longest jumper."""
        total = 0
        for circuit in self._v.circuits:
            arcs = [arc for arc in self._v.arcs if arc.circuit == circuit.name]
            worst = max((self.arc_uohm(arc) for arc in arcs), default=0)
            total += worst * len(circuit.nodes) * self._totals[circuit.name]
            if circuit.supply:
                ends = [self.source_uohm(s) for s in self._v.sources if s.circuit == circuit.name]
                total += max(ends, default=0) * self._totals[circuit.name]
            if circuit.root:
                total += max(0, way_nv(self._v.problem, circuit, self._demand))
            contacts = contacts_uohm(self._v.problem.console, circuit.name)
            total += contacts * self._totals[circuit.name]
        return total

    def _limits(self) -> dict[Key, int]:
        """The most drop at every node a judged load hangs on, by what its other side takes."""
        found: dict[Key, int] = {}
        for path in self._v.problem.drops:
            ends = (path.feed_circuit, path.ground_circuit)
            asked = all(not c or c in self._v.ask.circuits for c in ends)
            if not asked or not self._demand.feeds(path.feed_circuit):
                continue
            sides = {
                (circuit, self._v.node_of[circuit, post].name): self._inside_nv(circuit, post)
                for circuit, post in (
                    (path.feed_circuit, path.feed_post),
                    (path.ground_circuit, path.ground_post),
                )
                if circuit and post
            }
            least = sum(self.least_nv[side] + inside for side, inside in sides.items())
            for side in sides:
                left = path.limit_nv - path.extra_nv - (least - self.least_nv[side])
                found[side] = min(left, found.get(side, left))
        self._before_ways(found)
        # Beyond a node that no load hangs on there is one that has its limit, or none has.
        judged = all(key in found for key in self._own if key in self._needed())
        if judged and found:
            most = max(found.values())
            found = {key: found.get(key, most) for key in self._own}
        return {key: max(0, most) for key, most in found.items()}

    def _inside_nv(self, circuit: str, post: str) -> int:
        """By how much less drops inside a root that is a lead than at its joint; at most nought."""
        question = self._v.problem.circuit(circuit)
        return min(0, crimp_nv(self._v.problem, question, post, self._demand))

    def _before_ways(self, found: dict[Key, int]) -> None:
        """What the limits beyond a way leave at its root, and where it begins."""
        for circuit in reversed(self._v.problem.outward):
            near = self._v.node_of.get(circuit.near)
            if not circuit.root or near is None or circuit.name not in self._v.ask.circuits:
                continue
            root = circuit.name, circuit.root_node
            needed = [(circuit.name, node.name) for node in circuit.others if node.needed]
            if needed and all(key in found for key in needed):
                left = max(found[key] for key in needed)
                found[root] = min(left, found.get(root, left))
            if root in found:
                key = circuit.near[0], near.name
                left = found[root] - way_nv(self._v.problem, circuit, self._demand)
                found[key] = min(left, found.get(key, left))

    def _needed(self) -> set[Key]:
        return {
            (circuit.name, node.name)
            for circuit in self._v.circuits
            for node in self._v.nodes(circuit)
            if not node.is_splice
        }
