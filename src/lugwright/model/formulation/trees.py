"""The jumpers of a circuit are a tree from where its supply lands.

Every node has one way in; sets of nodes that the supply does not reach are cut off by adding,
for the set found, "at least one way into it" (directed cuts; they hold for every tree). Where no
cuts are known beforehand, the first are those of the clusters that joining nearest nodes first
would make.
"""

from __future__ import annotations

from collections.abc import Iterable

from lugwright.base.scale import ceil_div
from lugwright.model import solver as cp_model
from lugwright.model.formulation.variables import Linear, Variables, total
from lugwright.problem.schema import CircuitQuestion, Node
from lugwright.trade.demand import circuit_totals

Cut = tuple[str, frozenset[str], int]
"""A circuit, names of its nodes that at least one way leads into, and 0; or the unit in mA by which
ways are counted there (``bounds.directed_cuts.CutRow``)."""


def add_trees(v: Variables) -> None:
    """One way in to every node but a root; supply landed once; takers taken off as the limit says.

    Rule R8.
    """
    for circuit in v.circuits:
        for node in v.nodes(circuit):
            if node.name != circuit.root_node:
                _one_way_in(v, circuit, node)
        if not v.linear:
            _both_ways(v, circuit)
        _required(v, circuit)
        _supply(v, circuit)


def _one_way_in(v: Variables, circuit: CircuitQuestion, node: Node) -> None:
    arcs = [arc for joint in node.joints for arc in v.arcs_in[circuit.name, joint]]
    into: list[Linear] = [arc.use for arc in arcs]
    for joint in node.joints:
        into += [source.use for source in v.sources_at[circuit.name, joint]]
    v.model.add(total(into) == v.node_used(node))
    for size in v.ask.sizes_of(circuit.name):
        if (circuit.name, size) in v.size:  # one way in, so one row does for all of them
            chosen = total(arc.use for arc in arcs if arc.choice.size == size)
            v.model.add(chosen <= v.size[circuit.name, size])
    if node.needed:
        return
    out = [arc.use for joint in node.joints for arc in v.arcs_out[circuit.name, joint]]
    if not v.linear:
        for use in out:
            v.model.add_implication(use, v.used[node.name])
    if node.is_splice:
        v.model.add(total(out) >= 2 * v.used[node.name])


def _both_ways(v: Variables, circuit: CircuitQuestion) -> None:
    """No two nodes feed each other."""
    pairs: dict[frozenset[str], list[cp_model.IntVar]] = {}
    for joint_arcs in (v.arcs_in[circuit.name, j] for n in v.nodes(circuit) for j in n.joints):
        for arc in joint_arcs:
            if not arc.take_off:
                ends = (v.node_of[circuit.name, arc.a].name, v.node_of[circuit.name, arc.b].name)
                pairs.setdefault(frozenset(ends), []).append(arc.use)
    for uses in pairs.values():
        v.model.add_at_most_one(uses)


def _required(v: Variables, circuit: CircuitQuestion) -> None:
    """A jumper that is held must be, either way round."""
    own = {frozenset((e.a, e.b)) for e in (*circuit.edges, *circuit.take_off)}
    for pair in sorted(own & v.problem.required, key=sorted):
        arcs = [a.use for b in sorted(pair) for a in v.arcs_in[circuit.name, b] if a.a in pair]
        v.model.add_bool_or(arcs)


def _supply(v: Variables, circuit: CircuitQuestion) -> None:
    """One landing; or one take-off, on the landing stud or on any, as the limit says. Rule R10.

    One first jumper leaves a root, or as many as may be.
    """
    if circuit.supply:
        v.model.add_exactly_one([s.use for s in v.sources if s.circuit == circuit.name])
        return
    if circuit.has_first_jumper:
        v.model.add_exactly_one([arc.use for arc in v.arcs_out[circuit.name, circuit.root]])
    if circuit.root:
        return
    take_off = [arc for arc in v.arcs if arc.circuit == circuit.name and arc.take_off]
    uses = [arc.use for arc in take_off]
    if v.problem.limits.lamp_take_off == "landing":
        v.model.add_exactly_one(uses)
    else:
        v.model.add_bool_or(uses)
    if circuit.taken_from not in v.ask.circuits:
        return
    for arc in take_off:
        if v.problem.limits.lamp_take_off == "landing":
            v.model.add(arc.use <= v.landed_at(v.problem.circuit(circuit.taken_from), arc.a))
        else:
            host = v.node_of[circuit.taken_from, arc.a]
            if not host.needed:
                v.model.add_implication(arc.use, v.used[host.name])


def add_cut(v: Variables, circuit: CircuitQuestion, names: frozenset[str]) -> bool:
    """At least one way into a set of nodes, if it holds a node the tree reaches."""
    members = [node for node in v.nodes(circuit) if node.name in names]
    inside = {joint for node in members for joint in node.joints}
    into = [
        arc.use
        for joint in sorted(inside)
        for arc in v.arcs_in[circuit.name, joint]
        if arc.take_off or arc.a not in inside
    ]
    into += [s.use for joint in sorted(inside) for s in v.sources_at[circuit.name, joint]]
    if any(node.needed for node in members):
        v.model.add_bool_or(into)
        return True
    for node in members:
        v.model.add_bool_or([*into, v.used[node.name].negated()])
    return bool(members)


def add_ways(v: Variables, circuit: CircuitQuestion, names: frozenset[str], unit: int) -> None:
    """What leads into a set of nodes carries what they draw, in units of so many mA rounded up."""
    members = [node for node in v.nodes(circuit) if node.name in names]
    inside = {joint for node in members for joint in node.joints}
    drawn = sum(circuit.demand_ma.get(joint, 0) for joint in inside)
    total_ma = circuit_totals(v.problem.console)[circuit.name]
    ways: list[Linear] = []
    for joint in sorted(inside):
        for arc in v.arcs_in[circuit.name, joint]:
            if arc.take_off or arc.a not in inside:
                ways.append(ceil_div(min(arc.choice.cap_ma, total_ma), unit) * arc.use)
        for source in v.sources_at[circuit.name, joint]:
            ways.append(ceil_div(total_ma, unit) * source.use)
    v.model.add(total(ways) >= ceil_div(drawn, unit))


def likely_cuts(circuit: CircuitQuestion) -> list[frozenset[str]]:
    """Sets a first answer would leave apart: near clusters, and all but them; none with a root."""
    every = frozenset(node.name for node in circuit.nodes)
    found = [names for near in nearest_clusters(circuit) for names in (near, every - near)]
    root = circuit.root_node
    return [names for names in found if root not in names] if root else found


def nearest_clusters(circuit: CircuitQuestion) -> list[frozenset[str]]:
    """Clusters that joining the nearest needed nodes first passes through (single linkage)."""
    of = {joint: node for node in circuit.nodes for joint in node.joints}
    cluster = {node.name: frozenset([node.name]) for node in circuit.nodes if node.needed}
    found: list[frozenset[str]] = []
    for edge in sorted(circuit.edges, key=lambda e: (e.length_dmm, e.a, e.b)):
        one, other = of[edge.a].name, of[edge.b].name
        if one not in cluster or other not in cluster or cluster[one] == cluster[other]:
            continue
        merged = cluster[one] | cluster[other]
        for name in merged:
            cluster[name] = merged
        if len(merged) > 2:
            found.append(merged)
    return [names for names in found if len(names) < len(cluster)]


def unreached(
    circuit: CircuitQuestion, starts: Iterable[str], jumpers: Iterable[tuple[str, str]]
) -> list[frozenset[str]]:
    """Sets of nodes joined among themselves that nothing from ``starts`` (joints) reaches."""
    of: dict[str, str] = {joint: n.name for n in circuit.nodes for joint in n.joints}
    near: dict[str, set[str]] = {}
    for a, b in jumpers:
        near.setdefault(of[a], set()).add(of[b])
        near.setdefault(of[b], set()).add(of[a])
    reached = _spread(near, {of[joint] for joint in starts})
    found = []
    for name in sorted(near):
        if name not in reached:
            part = _spread(near, {name})
            reached |= part
            found.append(frozenset(part))
    return found


def _spread(near: dict[str, set[str]], start: set[str]) -> set[str]:
    seen, waiting = set(start), sorted(start)
    while waiting:
        for name in sorted(near.get(waiting.pop(), ())):
            if name not in seen:
                seen.add(name)
                waiting.append(name)
    return seen
