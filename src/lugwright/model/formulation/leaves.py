"""Trees must have ends enough: what ``problem.leaves`` says of drop, as rows over the ends.

True of every answer that keeps the drop limits, and strong where they are tight: an end more
costs a lug more somewhere, which no relaxation of flows would see.
"""

from __future__ import annotations

from lugwright.model import solver as cp_model
from lugwright.model.formulation.variables import Variables, total
from lugwright.problem.schema import CircuitQuestion, Node


def add_ends(v: Variables) -> None:
    """At least as many leaves as the drop limits ask for, circuit by circuit."""
    for circuit in v.circuits:
        sizes = v.ask.sizes_of(circuit.name)
        asked = dict(v.ask.leaves)
        least = {size: asked.get((circuit.name, size), 1) for size in sizes}
        if max(least.values(), default=1) <= 1:
            continue
        leaves = total(_leaf(v, circuit, n) for n in v.nodes(circuit) if not n.is_splice)
        if all((circuit.name, size) in v.size for size in sizes):
            v.model.add(leaves >= total(least[s] * v.size[circuit.name, s] for s in sizes))
        else:
            v.model.add(leaves >= min(least.values()))


def _leaf(v: Variables, circuit: CircuitQuestion, node: Node) -> cp_model.IntVar:
    """1 only where a node is reached and nothing goes on from it."""
    leaf = v.model.new_bool_var(f"leaf {circuit.name} {node.name}")
    into = [arc.use for joint in node.joints for arc in v.arcs_in[circuit.name, joint]]
    v.model.add(leaf <= total(into))  # not where the supply lands
    picks = v.picks.get((node.joints[0], circuit.name))
    if len(node.joints) > 1 or picks is None:
        for joint in node.joints:
            for arc in v.arcs_out[circuit.name, joint]:
                v.model.add_implication(arc.use, leaf.negated())
        return leaf
    there = len(v.problem.bench_ends_at(circuit.name, node.joints[0]))
    # One end here, a load's pigtail aside: the way in. Said by what the end is crimped with,
    # which is what costs.
    v.model.add(leaf <= total(use for option, use in picks if option.ends == there + 1))
    return leaf
