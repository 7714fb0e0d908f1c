"""What is held, put into the question, so that every proof is one of the held problem."""

from __future__ import annotations

from dataclasses import replace

from lugwright.plans.outcome import Reason
from lugwright.problem.schema import CircuitQuestion, Edge, Problem
from lugwright.scenario.holds import Held


def hold_in(problem: Problem, held: Held) -> Problem:
    """The problem with everything held but the hub, which is a matter of where to look.

    A held jumper that cannot be, or a held size that is not allowed here, is a fault of the
    problem: then no plan exists whatever is chosen.
    """
    if not held.holds:
        return problem
    forbidden = {frozenset(names) for names in held.named("no-jumper")}
    sizes = {names[0]: names[1] for names in held.named("size")}
    circuits = []
    for circuit in problem.circuits:
        circuit = _without(circuit, forbidden)
        circuit = _without_splices(circuit) if held.named("no-splice") else circuit
        circuits.append(_of_size(circuit, sizes.get(circuit.name, "")))
    required = frozenset(frozenset(names) for names in held.named("jumper"))
    last = frozenset(names[0] for names in held.named("last"))
    kept = replace(problem, circuits=tuple(circuits), required=required, last=last)
    faults = (*problem.faults, *_faults(problem, kept, held))
    return replace(kept, faults=faults)


def _without(circuit: CircuitQuestion, forbidden: set[frozenset[str]]) -> CircuitQuestion:
    def kept(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
        return tuple(edge for edge in edges if frozenset((edge.a, edge.b)) not in forbidden)

    return replace(circuit, edges=kept(circuit.edges), take_off=kept(circuit.take_off))


def _without_splices(circuit: CircuitQuestion) -> CircuitQuestion:
    splices = {node.name for node in circuit.nodes if node.is_splice}

    def kept(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
        return tuple(edge for edge in edges if not splices & {edge.a, edge.b})

    nodes = tuple(node for node in circuit.nodes if not node.is_splice)
    return replace(circuit, nodes=nodes, edges=kept(circuit.edges), take_off=kept(circuit.take_off))


def _of_size(circuit: CircuitQuestion, size: str) -> CircuitQuestion:
    if not size:
        return circuit
    choices = tuple(choice for choice in circuit.choices if choice.size == size)
    return replace(circuit, choices=choices)


def _faults(before: Problem, after: Problem, held: Held) -> list[Reason]:
    """Holds that nothing can obey, in words."""
    found = []
    possible = {
        frozenset((edge.a, edge.b))
        for circuit in after.circuits
        for edge in (*circuit.edges, *circuit.take_off)
    }
    for names in held.named("jumper"):
        if frozenset(names) not in possible:
            text = "no wire may run there, and a jumper is held"
            found.append(Reason("hold", " > ".join(names), text))
    for name, size in (pair[:2] for pair in held.named("size")):
        asked = [circuit for circuit in before.circuits if circuit.name == name]
        for circuit in asked:
            allowed = [choice.size for choice in circuit.choices]
            if size not in allowed:
                text = "the held wire size is not allowed here by fuse and minimum size"
                there = ", ".join(allowed) or "none"
                found.append(Reason("hold", f"circuit {name}", text, size, there, "held"))
    return found
