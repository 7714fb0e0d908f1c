"""Currents, ampacity, drop and bundles over the trees. Posed only where an answer broke them.

Currents are mA, resistances µΩ, so that their products are nV, all exact integers.
"""

from __future__ import annotations

from collections import defaultdict

from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.electrics.resistance import wire_uohm
from lugwright.model.ask import BUNDLE, DROP
from lugwright.model.solver import cp_model
from lugwright.model.variables import Arc, Linear, Source, Variables, total
from lugwright.problem.demand import circuit_totals
from lugwright.problem.schema import CircuitQuestion, Node
from lugwright.scenario.console import Pigtail

ArcsAt = dict[tuple[str, str], list[int]]


def add_electrics(v: Variables) -> None:
    """Whatever families the ask names. All circuits must be asked for together."""
    if not v.ask.families:
        return
    totals = circuit_totals(v.problem.console)
    for index, arc in enumerate(v.arcs):
        most = min(totals[arc.circuit], arc.choice.cap_ma)
        flow = v.model.new_int_var(0, most, f"current {arc.circuit} {arc.a} > {arc.b}")
        v.model.add(flow <= most * arc.use)
        v.flow[index] = flow
    into, out = flows_by_joint(v)
    for circuit in v.circuits:
        for node in circuit.nodes:
            _conserve(v, circuit, node, totals, into, out)
    if DROP in v.ask.families:
        _Drops(v, totals).add()
    if BUNDLE in v.ask.families:
        _bundles(v, totals)


def flows_by_joint(v: Variables) -> tuple[ArcsAt, ArcsAt]:
    """Arc indices into and out of each (circuit, joint)."""
    into: dict[tuple[str, str], list[int]] = defaultdict(list)
    out: dict[tuple[str, str], list[int]] = defaultdict(list)
    for index, arc in enumerate(v.arcs):
        into[arc.circuit, arc.b].append(index)
        out[arc.circuit, arc.a].append(index)
    return into, out


def _conserve(
    v: Variables,
    circuit: CircuitQuestion,
    node: Node,
    totals: dict[str, int],
    into: ArcsAt,
    out: ArcsAt,
) -> None:
    """What comes into a node is drawn there, goes on, or is taken off by a rider."""
    coming: list[Linear] = []
    going: list[Linear] = []
    for joint in node.joints:
        coming += [v.flow[i] for i in into[circuit.name, joint]]
        coming += [totals[circuit.name] * s.use for s in v.sources_at[circuit.name, joint]]
        going += [v.flow[i] for i in out[circuit.name, joint]]
        for rider in circuit.riders:
            going += [v.flow[i] for i in out[rider, joint] if v.arcs[i].take_off]
    demand = sum(circuit.demand_ma.get(joint, 0) for joint in node.joints)
    v.model.add(total(coming) == total(going) + demand)


class _Drops:
    """Drop from the source to every node, and the limit of every load's whole path."""

    def __init__(self, v: Variables, totals: dict[str, int]) -> None:
        self.v, self.totals = v, totals
        self.crimp = v.problem.limits.crimp_uohm
        self.exact = bool(v.problem.shifts)
        self.most_nv = self._most()
        self.at: dict[tuple[str, str], cp_model.IntVar] = {}
        for circuit in v.circuits:
            for node in circuit.nodes:
                name = f"drop {circuit.name} {node.name}"
                self.at[circuit.name, node.name] = v.model.new_int_var(0, self.most_nv, name)

    def add(self) -> None:
        for circuit in self.v.circuits:
            for node in circuit.nodes:
                self._arrive(circuit, node)
        if self.exact:
            for source in self.v.sources:
                self._land(source)
        for index, arc in enumerate(self.v.arcs):
            self._run(arc, self.v.flow[index])
        for path in self.v.problem.drops:
            total = self._side(path.feed_circuit, path.feed_post)
            total = total + self._side(path.ground_circuit, path.ground_post)
            self.v.model.add(total + path.extra_nv <= path.limit_nv)
        for shift in self.v.problem.shifts:
            ground = self.v.problem.console.post
            dial = self._side(ground(shift.dial_post).circuit, shift.dial_post)
            back: Linear = 0
            if shift.return_post:
                back = self._side(ground(shift.return_post).circuit, shift.return_post)
            self.v.model.add(dial - back <= shift.limit_nv)
            self.v.model.add(back - dial <= shift.limit_nv)

    def _most(self) -> int:
        """No drop anywhere can be larger: all current through every longest jumper."""
        total = 0
        for circuit in self.v.circuits:
            arcs = [arc for arc in self.v.arcs if arc.circuit == circuit.name]
            worst = max((self.arc_uohm(arc) for arc in arcs), default=0)
            total += worst * len(circuit.nodes) * self.totals[circuit.name]
            if circuit.supply:
                ends = [self.source_uohm(s) for s in self.v.sources if s.circuit == circuit.name]
                total += max(ends, default=0) * self.totals[circuit.name]
        limits = [path.limit_nv for path in self.v.problem.drops]
        return min(total, 2 * max(limits)) if limits and not self._unjudged() else total

    def _unjudged(self) -> bool:
        """Whether some post draws current that no judged load accounts for (a sender alone)."""
        judged = {p.feed_post for p in self.v.problem.drops}
        judged |= {p.ground_post for p in self.v.problem.drops}
        return any(
            current and post not in judged
            for circuit in self.v.circuits
            for post, current in circuit.demand_ma.items()
        )

    def arc_uohm(self, arc: Arc) -> int:
        """One jumper and its two crimps."""
        return wire_uohm(arc.choice.nohm_per_mm, arc.edge.length_dmm) + 2 * self.crimp

    def source_uohm(self, source: Source) -> int:
        """Supply run, pigtail and extension."""
        supply = self.v.problem.circuit(source.circuit).supply
        total = supply.given_uohm if supply else 0
        if source.extension:
            wire = wire_uohm(source.extension.nohm_per_mm, source.landing.extension_dmm)
            total += wire + 2 * self.crimp
        return total

    def _arrive(self, circuit: CircuitQuestion, node: Node) -> None:
        """Drop at a node is at least that of the way in that is used, its own current alone.

        Exactly one way in is used, so all of them go into one row; what flows on beyond the node
        is added by the rows of single jumpers.
        """
        own = sum(circuit.demand_ma.get(joint, 0) for joint in node.joints)
        start = self._least_start(circuit)
        rows: list[Linear] = []
        for joint in node.joints:
            for arc in self.v.arcs_in[circuit.name, joint]:
                rows.append((start + self.arc_uohm(arc) * own) * arc.use)
            for source in self.v.sources_at[circuit.name, joint]:
                rows.append(self.source_uohm(source) * self.totals[circuit.name] * source.use)
        self.v.model.add(self.at[circuit.name, node.name] >= total(rows))

    def _least_start(self, circuit: CircuitQuestion) -> int:
        """The least drop at which any jumper of a circuit can start, nV."""
        owner = circuit.rides_on or circuit.name
        landed = [self.source_uohm(s) for s in self.v.sources if s.circuit == owner]
        return min(landed, default=0) * self.totals[owner]

    def _land(self, source: Source) -> None:
        """Where drops must be exact and not only bounded from below."""
        node = self.v.node_of[source.circuit, source.landing.post]
        drop = self.source_uohm(source) * self.totals[source.circuit]
        here = self.at[source.circuit, node.name]
        self.v.model.add(here <= drop + self.most_nv * (1 - source.use))

    def _run(self, arc: Arc, flow: cp_model.IntVar) -> None:
        owner = arc.circuit
        if arc.take_off:
            owner = self.v.problem.circuit(arc.circuit).rides_on
        start = self.at[owner, self.v.node_of[owner, arc.a].name]
        end = self.at[arc.circuit, self.v.node_of[arc.circuit, arc.b].name]
        drop = self.arc_uohm(arc) * flow
        self.v.model.add(end >= start + drop - self.most_nv * (1 - arc.use))
        if self.exact:
            self.v.model.add(end <= start + drop + self.most_nv * (1 - arc.use))

    def _side(self, circuit: str, post: str) -> Linear:
        """Drop from the source to a post, a lead's own crimp included."""
        if not circuit or not post:
            return 0
        own = 0
        if self.v.problem.post_kind[post] == "lead":
            own = self.crimp * self.v.problem.circuit(circuit).demand_ma.get(post, 0)
        return self.at[circuit, self.v.node_of[circuit, post].name] + own


def _bundles(v: Variables, totals: dict[str, int]) -> None:
    """On each loom leg the number of conductors sets the factor, and the factor every cap."""
    limits = v.problem.limits
    for index, leg in enumerate(v.problem.legs):
        arcs = [(i, arc) for i, arc in enumerate(v.arcs) if index in arc.edge.loom_legs]
        sources = [s for s in v.sources if index in s.landing.loom_legs]
        number = total(arc.use for _, arc in arcs) + total(s.use for s in sources) + leg.fixed
        most = leg.fixed + len(arcs) + len(sources)
        tiers = []
        for upper, factor in tiers_of(limits.bundle_rule, most):
            tier = v.model.new_bool_var(f"leg {leg.name} at most {upper}")
            tiers.append(tier)
            v.model.add(number <= upper).only_enforce_if(tier)
            for i, arc in arcs:
                cap = arc.choice.table_ma * factor // 1000
                if cap < totals[arc.circuit]:
                    v.model.add(v.flow[i] <= cap).only_enforce_if(tier)
            for _, table, current in leg.fixed_loads:
                if current > table * factor // 1000:
                    v.model.add(tier == 0)
            for source in sources:
                table = pigtail_table_ma(v, source.circuit)
                if source.extension:
                    table = min(table, source.extension.table_ma)
                if totals[source.circuit] > table * factor // 1000:
                    v.model.add_bool_or([tier.negated(), source.use.negated()])
        if tiers:
            v.model.add_exactly_one(tiers)


def tiers_of(rule: str, most: int) -> list[tuple[int, int]]:
    """Steps of a bundle rule up to a number of conductors: (largest number, factor)."""
    tiers: list[tuple[int, int]] = []
    for number in range(max(1, most) + 1):
        factor = bundle_factor_permille(rule, max(1, number))
        if tiers and tiers[-1][1] == factor:
            tiers[-1] = (number, factor)
        else:
            tiers.append((number, factor))
    return tiers


def pigtail_table_ma(v: Variables, circuit: str) -> int:
    """Table ampacity of a circuit's pigtail."""
    pigtail = v.problem.console.circuit(circuit).pigtail
    if not isinstance(pigtail, Pigtail):
        raise KeyError(circuit)
    wire = pigtail.wire
    return table_ma(wire.ampacity_size, wire.insulation_temp_c, v.problem.console.engine_space)
