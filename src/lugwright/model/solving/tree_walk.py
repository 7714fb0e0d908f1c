"""Currents and drops over the trees of an answer, in exact integers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lugwright.electrics.resistance import wire_uohm
from lugwright.model.formulation.ask import Answer
from lugwright.plans.choice import ChosenJumper
from lugwright.problem.schema import CircuitQuestion, Edge, Problem
from lugwright.trade.currents import Leg, carried_ma
from lugwright.trade.demand import circuit_totals


@dataclass(frozen=True)
class Walked:
    """Currents (mA) by jumper, and drop from the source (nV) by (circuit, node)."""

    current: dict[ChosenJumper, int]
    drop: dict[tuple[str, str], int]


class TreeWalk:
    """Walks the trees of answers to one problem. ``totals``: current of each circuit, mA.

    ``node``: the name of the node that a joint of a circuit belongs to.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.totals = circuit_totals(problem.console)
        self.node: dict[tuple[str, str], str] = {
            (c.name, joint): node.name
            for c in problem.circuits
            for node in c.nodes
            for joint in node.joints
        }
        self._edge: dict[tuple[str, str, str], Edge] = {
            (c.name, edge.a, edge.b): edge
            for c in problem.circuits
            for edge in (*c.edges, *c.take_off)
        }

    def edge_of(self, jumper: ChosenJumper) -> Edge:
        """The edge a jumper lies on."""
        key = (jumper.circuit, jumper.a, jumper.b)
        return self._edge.get(key) or self._edge[jumper.circuit, jumper.b, jumper.a]

    def walk(self, answer: Answer) -> Walked:
        """Currents and drops of every tree, takers before what they are taken from."""
        current: dict[ChosenJumper, int] = {}
        taken: dict[str, list[tuple[str, int]]] = defaultdict(list)
        legs: dict[str, list[Leg[ChosenJumper]]] = {}
        for circuit in self._takers_first():
            own = legs[circuit.name] = self._legs(circuit, answer)
            drawn = [(self.node[circuit.name, p], ma) for p, ma in circuit.demand_ma.items()]
            carried, _ = carried_ma(own, [*drawn, *taken[circuit.name]])
            current |= carried
            taken[circuit.taken_from] += [
                (leg.near, carried[leg.jumper]) for leg in own if self._takes_off(leg.jumper)
            ]
        drop: dict[tuple[str, str], int] = {}
        for circuit in reversed(self._takers_first()):
            self._drops(circuit, answer, legs[circuit.name], current, drop)
        return Walked(current, drop)

    def _takers_first(self) -> list[CircuitQuestion]:
        return sorted(self.problem.circuits, key=lambda c: (not c.taken_from, c.name))

    def _takes_off(self, jumper: ChosenJumper) -> bool:
        """Whether a jumper begins on a stud of the circuit its own is taken from."""
        return (jumper.circuit, jumper.a) not in self.node

    def _legs(self, circuit: CircuitQuestion, answer: Answer) -> list[Leg[ChosenJumper]]:
        """The jumpers of a circuit outwards from its supply, or from where it is taken off."""
        name = circuit.name
        out: dict[str, list[Leg[ChosenJumper]]] = defaultdict(list)
        found: list[Leg[ChosenJumper]] = []
        for jumper in answer.jumpers:
            if jumper.circuit != name:
                continue
            far = self.node[name, jumper.b]
            if self._takes_off(jumper):
                found.append(Leg(jumper, self.node[circuit.taken_from, jumper.a], far))
            else:
                near = self.node[name, jumper.a]
                out[near].append(Leg(jumper, near, far))
        if circuit.supply:
            found += out[self.node[name, answer.landings[name]]]
        for leg in found:  # which grows as it goes
            found += out[leg.far]
        return found

    def jumper_uohm(self, jumper: ChosenJumper) -> int:
        """One jumper and its two crimps, µΩ."""
        choice = self.problem.circuit(jumper.circuit).choice(jumper.wire_size)
        wire = wire_uohm(choice.nohm_per_mm, self.edge_of(jumper).length_dmm)
        return wire + 2 * self.problem.limits.crimp_uohm

    def _drops(
        self,
        circuit: CircuitQuestion,
        answer: Answer,
        legs: Sequence[Leg[ChosenJumper]],
        current: Mapping[ChosenJumper, int],
        drop: dict[tuple[str, str], int],
    ) -> None:
        name = circuit.name
        if circuit.supply:
            start = self.node[name, answer.landings[name]]
            drop[name, start] = self._supply_uohm(circuit, answer) * self.totals[name]
        for leg in legs:
            own = self.jumper_uohm(leg.jumper) * current[leg.jumper]
            fed_by = circuit.taken_from if self._takes_off(leg.jumper) else name
            drop[name, leg.far] = drop[fed_by, leg.near] + own

    def _supply_uohm(self, circuit: CircuitQuestion, answer: Answer) -> int:
        total = circuit.supply.given_uohm if circuit.supply else 0
        size = answer.extension_sizes.get(circuit.name)
        if size:
            landing = next(x for x in circuit.landings if x.post == answer.landings[circuit.name])
            wire = wire_uohm(circuit.choice(size).nohm_per_mm, landing.extension_dmm)
            total += wire + 2 * self.problem.limits.crimp_uohm
        return total
