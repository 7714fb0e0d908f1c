"""Currents and drops over the trees of an answer, in exact integers."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property

from lugwright.electrics.resistance import wire_uohm
from lugwright.model.formulation.ask import Answer
from lugwright.plans.choice import ChosenJumper
from lugwright.problem.judged_paths import way_nv
from lugwright.problem.schema import CircuitQuestion, Edge, Problem
from lugwright.trade.demand import Demand


@dataclass(frozen=True)
class Walked:
    """In a load state: currents (mA) by jumper, drops from the source (nV) by (circuit, node)."""

    demand: Demand
    current: dict[ChosenJumper, int]
    drop: dict[tuple[str, str], int]


@dataclass(frozen=True)
class Walks:
    """The same in every load state; ``current`` and ``drop`` are the largest of all."""

    states: tuple[Walked, ...]

    @cached_property
    def current(self) -> dict[ChosenJumper, int]:
        """Currents by jumper, mA."""
        first = self.states[0].current
        return {key: max(each.current[key] for each in self.states) for key in first}

    @property
    def drop(self) -> dict[tuple[str, str], int]:
        """Drop from the source by (circuit, node), nV."""
        first = self.states[0].drop
        return {key: max(each.drop[key] for each in self.states) for key in first}

    def currents(self, jumper: ChosenJumper) -> tuple[int, ...]:
        """A jumper's current in every load state, mA."""
        return tuple(each.current[jumper] for each in self.states)

    def totals(self, circuit: str) -> tuple[int, ...]:
        """A circuit's total in every load state, mA."""
        return tuple(each.demand.totals[circuit] for each in self.states)


class TreeWalk:
    """Walks the trees of answers to one problem.

    ``node``: the name of the node that a joint of a circuit belongs to.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.node = {
            (c.name, joint): node.name
            for c in problem.circuits
            for node in c.nodes
            for joint in node.joints
        }
        self._edge = {
            (c.name, edge.a, edge.b): edge
            for c in problem.circuits
            for edge in (*c.edges, *c.take_off)
        }

    def edge_of(self, jumper: ChosenJumper) -> Edge:
        """The edge a jumper lies on."""
        key = (jumper.circuit, jumper.a, jumper.b)
        return self._edge.get(key) or self._edge[jumper.circuit, jumper.b, jumper.a]

    def walk(self, answer: Answer) -> Walks:
        """Currents and drops of every tree in every load state."""
        return Walks(tuple(self._walk(answer, demand) for demand in self.problem.demands))

    def _walk(self, answer: Answer, demand: Demand) -> Walked:
        """Takers before what they are taken from, and back."""
        walked = Walked(demand, {}, {})
        taken: dict[tuple[str, str], int] = defaultdict(int)
        for circuit in reversed(self.problem.outward):
            self._currents(circuit, answer, walked, taken)
        for circuit in self.problem.outward:
            self._drops(circuit, answer, walked)
        return walked

    def _out(self, circuit: str, answer: Answer) -> dict[str, list[ChosenJumper]]:
        out: dict[str, list[ChosenJumper]] = defaultdict(list)
        for jumper in answer.jumpers:
            if jumper.circuit == circuit and (circuit, jumper.a) in self.node:
                out[self.node[circuit, jumper.a]].append(jumper)
        return out

    def _starts(self, circuit: CircuitQuestion, answer: Answer) -> list[ChosenJumper]:
        return [
            j
            for j in answer.jumpers
            if j.circuit == circuit.name and (j.circuit, j.a) not in self.node
        ]

    def _currents(
        self,
        circuit: CircuitQuestion,
        answer: Answer,
        walked: Walked,
        taken: dict[tuple[str, str], int],
    ) -> None:
        out, current = self._out(circuit.name, answer), walked.current
        demand: dict[str, int] = defaultdict(int)
        for post in circuit.demand_ma:
            demand[self.node[circuit.name, post]] += walked.demand.posts[post]

        def beyond(node: str) -> int:
            total = demand[node] + taken[circuit.name, node]
            for jumper in out[node]:
                current[jumper] = beyond(self.node[circuit.name, jumper.b])
                total += current[jumper]
            return total

        for jumper in self._starts(circuit, answer):
            current[jumper] = beyond(self.node[circuit.name, jumper.b])
            taken[circuit.taken_from, self.node[circuit.taken_from, jumper.a]] += current[jumper]
        if circuit.supply:
            beyond(self.node[circuit.name, answer.landings[circuit.name]])
        if circuit.root:
            beyond(circuit.root_node)

    def jumper_uohm(self, jumper: ChosenJumper) -> int:
        """One jumper and its two crimps, µΩ."""
        choice = self.problem.circuit(jumper.circuit).choice(jumper.wire_size)
        wire = wire_uohm(choice.nohm_per_mm, self.edge_of(jumper).length_dmm)
        return wire + 2 * self.problem.limits.crimp_uohm

    def _drops(self, circuit: CircuitQuestion, answer: Answer, walked: Walked) -> None:
        current, drop = walked.current, walked.drop
        out = self._out(circuit.name, answer)
        waiting: list[str] = []
        if circuit.supply:
            start = self.node[circuit.name, answer.landings[circuit.name]]
            drop[circuit.name, start] = (
                self._supply_uohm(circuit, answer) * walked.demand.totals[circuit.name]
            )
            waiting.append(start)
        if circuit.root:
            name, post = circuit.near
            before = drop[name, self.node[name, post]]
            more = way_nv(self.problem, circuit, walked.demand)
            drop[circuit.name, circuit.root_node] = before + more
            waiting.append(circuit.root_node)
        for jumper in self._starts(circuit, answer):
            there = self.node[circuit.name, jumper.b]
            before = drop[circuit.taken_from, self.node[circuit.taken_from, jumper.a]]
            drop[circuit.name, there] = before + self.jumper_uohm(jumper) * current[jumper]
            waiting.append(there)
        while waiting:
            here = waiting.pop()
            for jumper in out[here]:
                there = self.node[circuit.name, jumper.b]
                own = self.jumper_uohm(jumper) * current[jumper]
                drop[circuit.name, there] = drop[circuit.name, here] + own
                waiting.append(there)

    def _supply_uohm(self, circuit: CircuitQuestion, answer: Answer) -> int:
        total = circuit.supply.given_uohm if circuit.supply else 0
        size = answer.extension_sizes.get(circuit.name)
        if size:
            landing = next(x for x in circuit.landings if x.post == answer.landings[circuit.name])
            wire = wire_uohm(circuit.choice(size).nohm_per_mm, landing.extension_dmm)
            total += wire + 2 * self.problem.limits.crimp_uohm
        return total
