"""Currents and drops over the trees of an answer, in exact integers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from lugwright.electrics.resistance import wire_uohm
from lugwright.model.formulation.ask import Answer
from lugwright.plans.choice import ChosenJumper
from lugwright.problem.judged_paths import back_nv, way_nv
from lugwright.problem.schema import CircuitQuestion, Edge, Problem
from lugwright.trade.currents import Leg, carried_ma
from lugwright.trade.demand import Demand
from lugwright.trade.straps import contact_steps, strap_lugs, through_ma

JumperLeg = Leg[ChosenJumper]
"""A jumper of an answer on the way from its supply."""


@dataclass(frozen=True)
class Walked:
    """In a load state: currents (mA) by jumper, drops from the source (nV) by (circuit, node).

    ``through``: what flows from a strap (its name and stud) to the stud's side, mA. ``contact``:
    what its straps' contacts add at a post to the drop of its node, nV.
    """

    demand: Demand
    current: dict[ChosenJumper, int]
    drop: dict[tuple[str, str], int]
    through: dict[tuple[str, str], int] = field(default_factory=dict)
    contact: dict[str, int] = field(default_factory=dict)


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
        self.node: dict[tuple[str, str], str] = {
            (c.name, joint): node.name
            for c in problem.circuits
            for node in c.nodes
            for joint in node.joints
        }
        self._lugs = strap_lugs(problem.console)
        self._contacts = contact_steps(problem.console)
        self._edge: dict[tuple[str, str, str], Edge] = {
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
        legs = {one.name: self._legs(one, answer) for one in self.problem.circuits}
        return Walks(tuple(self._walk(answer, legs, demand) for demand in self.problem.demands))

    def _walk(self, answer: Answer, legs: Mapping[str, list[JumperLeg]], demand: Demand) -> Walked:
        """Takers before what they are taken from, and back."""
        walked = Walked(demand, {}, {})
        taken: dict[str, list[tuple[str, int]]] = defaultdict(list)
        for circuit in reversed(self.problem.outward):
            own = legs[circuit.name]
            drawn = [(self.node[circuit.name, p], demand.posts[p]) for p in circuit.demand_ma]
            carried, _ = carried_ma(own, [*drawn, *taken[circuit.name]])
            walked.current.update(carried)
            taken[circuit.taken_from] += [
                (leg.near, carried[leg.jumper]) for leg in own if self._takes_off(leg.jumper)
            ]
        self._straps(answer, walked)
        for circuit in self.problem.outward:
            self._drops(circuit, answer, legs[circuit.name], walked)
        return walked

    def _straps(self, answer: Answer, walked: Walked) -> None:
        """What flows through every lug of a strap, and drops in its contact. Rule R35."""
        for lug in self._lugs:
            name = self.problem.console.post(lug.post).circuit
            start = self.problem.circuit(name).root or answer.landings.get(name)
            comes_in = walked.demand.totals[name] if start in lug.side else 0
            laid = ((jumper.a, jumper.b, ma) for jumper, ma in walked.current.items())
            through = through_ma(lug, walked.demand.posts, laid, comes_in)
            walked.through[lug.strap, lug.post] = through
        for post, steps in self._contacts.items():
            walked.contact[post] = sum(
                step.sign * step.lug.contact_uohm * walked.through[step.lug.strap, step.lug.post]
                for step in steps
            )

    def drop_at(self, walked: Walked, circuit: str, joint: str) -> int:
        """Drop from the source to a joint of a circuit, nV."""
        return walked.drop[circuit, self.node[circuit, joint]] + walked.contact.get(joint, 0)

    def _takes_off(self, jumper: ChosenJumper) -> bool:
        """Whether a jumper begins on a stud of the circuit its own is taken from."""
        return (jumper.circuit, jumper.a) not in self.node

    def _legs(self, circuit: CircuitQuestion, answer: Answer) -> list[JumperLeg]:
        """The jumpers of a circuit outwards from its supply, or from where it is taken off."""
        name = circuit.name
        out: dict[str, list[JumperLeg]] = defaultdict(list)
        found: list[JumperLeg] = []
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
        if circuit.root:
            found += out[circuit.root_node]
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
        legs: Sequence[JumperLeg],
        walked: Walked,
    ) -> None:
        name, drop = circuit.name, walked.drop
        if circuit.supply:
            landing = answer.landings[name]
            back = self.drop_at(walked, *circuit.near) if circuit.near[0] else 0
            back += back_nv(self.problem, circuit, walked.demand)
            own = self._supply_uohm(circuit, answer) * walked.demand.totals[name]
            inside = walked.contact.get(landing, 0)
            drop[name, self.node[name, landing]] = back + own - inside
        if circuit.root:
            before = self.drop_at(walked, *circuit.near)
            before += way_nv(self.problem, circuit, walked.demand)
            drop[name, circuit.root_node] = before - walked.contact.get(circuit.root, 0)
        for leg in legs:
            own = self.jumper_uohm(leg.jumper) * walked.current[leg.jumper]
            fed_by = circuit.taken_from if self._takes_off(leg.jumper) else name
            own += self.drop_at(walked, fed_by, leg.jumper.a)
            drop[name, leg.far] = own - walked.contact.get(leg.jumper.b, 0)

    def _supply_uohm(self, circuit: CircuitQuestion, answer: Answer) -> int:
        total = circuit.supply.given_uohm if circuit.supply else 0
        size = answer.extension_sizes.get(circuit.name)
        if size:
            landing = next(x for x in circuit.landings if x.post == answer.landings[circuit.name])
            wire = wire_uohm(circuit.extension(size).nohm_per_mm, landing.extension_dmm)
            total += wire + 2 * self.problem.limits.crimp_uohm
        return total
