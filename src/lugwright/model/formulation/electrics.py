"""Currents, ampacity, drop and bundles over the trees. Posed only where an answer broke them.

Currents are mA, resistances µΩ, so that their products are nV, all exact integers.
"""

from __future__ import annotations

from collections import defaultdict

from lugwright.base.identity import JointId
from lugwright.electrics.ampacity import bundle_factor_permille
from lugwright.model import solver as cp_model
from lugwright.model.formulation.ask import BUNDLE, DROP
from lugwright.model.formulation.reach import Reach
from lugwright.model.formulation.variables import Arc, Flows, Linear, Source, Variables, total
from lugwright.problem.judged_paths import back_nv, crimp_nv, way_nv
from lugwright.problem.schema import CircuitQuestion, Node
from lugwright.scenario.console import Pigtail
from lugwright.trade.demand import Demand, circuit_totals
from lugwright.trade.given_wires import given_ma
from lugwright.trade.straps import contact_steps, contacts_uohm, strap_lugs

ArcsAt = dict[tuple[str, str], list[int]]


def add_electrics(v: Variables) -> None:
    """Whatever families the ask names, in every load state. All circuits must be asked together."""
    if not v.ask.families:
        return
    into, out = flows_by_joint(v)
    for demand in states_of(v):
        reach = Reach(v, demand) if DROP in v.ask.families else None
        flows = _flows(v, demand, reach)
        v.states.append(flows)
        for circuit in v.circuits:
            for node in v.nodes(circuit):
                into_node = (_drawn(v, circuit, joint, flows, into, out) for joint in node.joints)
                v.model.add(total(into_node) == 0)
        _hold_straps(v, flows, into, out)
        if reach is not None:
            _Drops(v, flows, reach).add()
    if BUNDLE in v.ask.families:
        _bundles(v)


def states_of(v: Variables) -> list[Demand]:
    """The load states that differ in what is asked for."""
    found: dict[tuple[int, ...], Demand] = {}
    for demand in v.problem.demands:
        seen = [demand.totals[name] for name in v.ask.circuits]
        seen += [name in demand.live for name in v.ask.circuits]
        seen += [demand.posts[post] for circuit in v.circuits for post in circuit.demand_ma]
        found.setdefault(tuple(seen), demand)
    return list(found.values())


def _flows(v: Variables, demand: Demand, reach: Reach | None) -> Flows:
    flows = Flows(demand)
    for index, arc in enumerate(v.arcs):
        most = min(demand.totals[arc.circuit], arc.choice.cap_ma)
        if reach is not None:
            most = min(most, reach.most_ma(arc))
        flow = v.model.new_int_var(0, most, "")
        v.model.add(flow <= most * arc.use)
        flows.flow[index], flows.most_ma[index] = flow, most
    return flows


def flows_by_joint(v: Variables) -> tuple[ArcsAt, ArcsAt]:
    """Arc indices into and out of each (circuit, joint)."""
    into: dict[tuple[str, str], list[int]] = defaultdict(list)
    out: dict[tuple[str, str], list[int]] = defaultdict(list)
    for index, arc in enumerate(v.arcs):
        into[arc.circuit, arc.b].append(index)
        out[arc.circuit, arc.a].append(index)
    return into, out


def _drawn(
    v: Variables,
    circuit: CircuitQuestion,
    joint: JointId,
    flows: Flows,
    into: ArcsAt,
    out: ArcsAt,
) -> Linear:
    """What a joint draws, what goes on from it and what is taken off there, less what comes in.

    Nought over all joints of a node.
    """
    # A taker asked for elsewhere is taken off at the landing: in none of these jumpers but a first.
    totals, flow = flows.demand.totals, flows.flow
    elsewhere = sum(totals[r] for r in circuit.takers if r not in v.ask.circuits)
    beyond = totals[circuit.name] - elsewhere
    coming: list[Linear] = [flow[i] for i in into[circuit.name, joint]]
    coming += [beyond * s.use for s in v.sources_at[circuit.name, joint]]
    going: list[Linear] = [flow[i] for i in out[circuit.name, joint]]
    for taker in circuit.takers:
        going += [flow[i] for i in out[taker, joint] if v.arcs[i].take_off]
    if circuit.root == joint:
        coming.append(totals[circuit.name])
    if circuit.root and elsewhere:
        going.append(elsewhere * v.landed_at(circuit, joint))
    return total(going) - total(coming) + flows.demand.posts.get(joint, 0)


def _hold_straps(v: Variables, flows: Flows, into: ArcsAt, out: ArcsAt) -> None:
    """What flows through each lug of a strap, either way, is at most what the strap carries.

    Rule R35.
    """
    for lug in strap_lugs(v.problem.console):
        name = v.problem.console.post(lug.post).circuit
        if name in v.ask.circuits:
            circuit = v.problem.circuit(name)
            own = (_drawn(v, circuit, post, flows, into, out) for post in sorted(lug.side))
            flows.through[lug.strap, lug.post] = through = total(own)
            if lug.carries_ma:
                v.model.add(through <= lug.carries_ma)
                v.model.add(through >= -lug.carries_ma)


class _Drops:
    """Drop from the source to every node, and the limit of every load's whole path. Rule R14."""

    def __init__(self, v: Variables, flows: Flows, reach: Reach) -> None:
        self.v, self.flow, self.reach = v, flows.flow, reach
        self.demand = flows.demand
        self.exact = bool(v.problem.shifts)
        self.into, _ = flows_by_joint(v)
        self.at = flows.drop
        self.through = flows.through
        self.contacts = contact_steps(v.problem.console)
        totals = self.demand.totals
        for circuit in v.circuits:
            for node in v.nodes(circuit):
                low, high = reach.least_nv[circuit.name, node.name], reach.most_nv(circuit, node)
                name = f"drop {circuit.name} {node.name}"
                low = 0 if not node.needed else min(low, high)
                if any(joint in self.contacts for joint in node.joints):
                    # told at a strap, so above that of a load on the node by what drops in between
                    high += contacts_uohm(v.problem.console, circuit.name) * totals[circuit.name]
                self.at[circuit.name, node.name] = v.model.new_int_var(low, high, name)

    def add(self) -> None:
        for circuit in self.v.circuits:
            for node in self.v.nodes(circuit):
                if node.name != circuit.root_node:
                    self._arrive(circuit, node)
            if circuit.root and circuit.near[0] in self.v.ask.circuits:
                self._through_way(circuit)
        for source in self.v.sources:
            self._land(source)
        for index, arc in enumerate(self.v.arcs):
            self._run(arc, self.flow[index])
        for path in self.v.problem.drops:
            ends = (path.feed_circuit, path.ground_circuit)
            asked = all(not c or c in self.v.ask.circuits for c in ends)
            if not asked or not self.demand.feeds(path.feed_circuit):
                continue
            total = self._side(path.feed_circuit, path.feed_post)
            total = total + self._side(path.ground_circuit, path.ground_post)
            self.v.model.add(total + path.extra_nv <= path.limit_nv)
        for shift in self.v.problem.shifts:
            if not self.demand.feeds(shift.feed_circuit):
                continue
            ground = self.v.problem.console.post
            dial = self._side(ground(shift.dial_post).circuit, shift.dial_post)
            back: Linear = 0
            if shift.return_post:
                back = self._side(ground(shift.return_post).circuit, shift.return_post)
            self.v.model.add(dial - back <= shift.limit_nv)
            self.v.model.add(back - dial <= shift.limit_nv)

    def drop_at(self, circuit: str, joint: str) -> Linear:
        """Drop from the source to a joint: its node's, and what its straps' contacts add."""
        drop: Linear = self.at[circuit, self.v.node_of[circuit, joint].name]
        for step in self.contacts.get(joint, ()):
            through = self.through[step.lug.strap, step.lug.post]
            drop = drop + step.sign * step.lug.contact_uohm * through
        return drop

    def _arrive(self, circuit: CircuitQuestion, node: Node) -> None:
        """Drop at a node is at least that of the way in that is used, from the least it starts at.

        Exactly one way in is used, so all of them go into one row; where that way starts at more
        than the least, the rows of single jumpers say so.
        """
        rows: list[Linear] = []
        for joint in node.joints:
            for index in self.into[circuit.name, joint]:
                arc = self.v.arcs[index]
                rows.append(self.reach.start_nv(arc) * arc.use)
                rows.append(self.reach.way_uohm(arc) * self.flow[index])
            for source in self.v.sources_at[circuit.name, joint]:
                uohm = self.reach.source_uohm(source)
                rows.append(uohm * self.demand.totals[circuit.name] * source.use)
        self.v.model.add(self.at[circuit.name, node.name] >= total(rows))

    def _through_way(self, circuit: CircuitQuestion) -> None:
        """Drop at a root: that where its way begins, and what the way itself adds."""
        name, post = circuit.near
        before = self.drop_at(name, post)
        here = self.drop_at(circuit.name, circuit.root)
        more = way_nv(self.v.problem, circuit, self.demand)
        self.v.model.add(here >= before + more)
        if self.exact:
            self.v.model.add(here <= before + more)

    def _land(self, source: Source) -> None:
        """From where a sender's current comes back; where drops must be exact, from above too."""
        drop: Linear = self.reach.source_uohm(source) * self.demand.totals[source.circuit]
        here = self.drop_at(source.circuit, source.landing.post)
        circuit = self.v.problem.circuit(source.circuit)
        name, post = circuit.near
        if name in self.v.ask.circuits:
            back = self.drop_at(name, post)
            drop = drop + back + back_nv(self.v.problem, circuit, self.demand)
        if name in self.v.ask.circuits or source.landing.post in self.contacts:
            self.v.model.add(here >= drop).only_enforce_if(source.use)
        if self.exact:
            self.v.model.add(here <= drop).only_enforce_if(source.use)

    def _run(self, arc: Arc, flow: cp_model.IntVar) -> None:
        owner = arc.circuit
        if arc.take_off:
            owner = self.v.problem.circuit(arc.circuit).taken_from
        start, end = self.drop_at(owner, arc.a), self.drop_at(arc.circuit, arc.b)
        drop = self.reach.arc_uohm(arc) * flow
        self.v.model.add(end >= start + drop).only_enforce_if(arc.use)
        if self.exact:
            self.v.model.add(end <= start + drop).only_enforce_if(arc.use)

    def _side(self, circuit: str, post: str) -> Linear:
        """Drop from the source to a post, a lead's own crimp included."""
        if not circuit or not post:
            return 0
        own = crimp_nv(self.v.problem, self.v.problem.circuit(circuit), post, self.demand)
        return self.drop_at(circuit, post) + own


def _bundles(v: Variables) -> None:
    """On each loom leg the number of conductors sets the factor, and the factor every cap.

    Rule R15.
    """
    limits, totals = v.problem.limits, circuit_totals(v.problem.console)
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
                    for flows in v.states:
                        v.model.add(flows.flow[i] <= cap).only_enforce_if(tier)
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
    return given_ma(v.problem.console, pigtail.wire)
