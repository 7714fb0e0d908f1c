"""How many changes a harness that is built needs: what is kept, moved, taken out, made new.

Of E pieces built and U jumpers used, K are kept as they lie and M are moved: then U − K − M are
made new, E − K − M are taken out and M are moved, E + U − 2K − M changes in all. A piece serves
anywhere in its circuit that asks for no more than what is left of it once its fittings are off,
in its own wire size. So longer pieces serve wherever shorter ones do, and pieces and needs can
all be paired off when, for every length, no more needs of that length or over are served than
there are pieces for them (Hall's condition on nested sets).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from lugwright.model.formulation.variables import Arc, Linear, Variables, total
from lugwright.problem.built_jumper import BuiltJumper
from lugwright.problem.schema import CircuitQuestion


def changes_of(v: Variables) -> Linear:
    """The changes of all circuits asked for; 0 where nothing is built.

    A pigtail that lands elsewhere is one more: its end is cut off and crimped anew.
    """
    if not v.problem.built:
        return 0
    found: list[Linear] = []
    for circuit in v.circuits:
        found += [_circuit_changes(v, circuit), _landing_changes(v, circuit)]
    return total(found)


def _landing_changes(v: Variables, circuit: CircuitQuestion) -> Linear:
    landed = dict(v.problem.built_landings).get(circuit.name)
    if landed is None:
        return 0
    return 1 - total(source.use for source in v.sources_at[circuit.name, landed])


def _circuit_changes(v: Variables, circuit: CircuitQuestion) -> Linear:
    built = [piece for piece in v.problem.built if piece.circuit == circuit.name]
    arcs = [arc for arc in v.arcs if arc.circuit == circuit.name]
    used = total(arc.use for arc in arcs)
    if not built:
        return used
    kept_by = {piece: _kept(piece, arcs) for piece in built}
    kept = [arc for own in kept_by.values() for arc in own]
    as_they_lie = {id(arc) for arc in kept}
    others = [arc for arc in arcs if id(arc) not in as_they_lie]
    moved: list[Linear] = []
    for size in sorted({piece.size for piece in built}):
        own = [piece for piece in built if piece.size == size]
        moved += _moved(v, own, kept_by, [arc for arc in others if arc.choice.size == size])
    return len(built) + used - 2 * total(arc.use for arc in kept) - total(moved)


def _kept(piece: BuiltJumper, arcs: Sequence[Arc]) -> list[Arc]:
    """The arcs, either way round, by which a piece stays as it lies."""
    return [arc for arc in arcs if piece.lies(arc.a, arc.b, arc.choice.size, arc.edge.length_dmm)]


def _moved(
    v: Variables,
    built: Sequence[BuiltJumper],
    kept_by: dict[BuiltJumper, list[Arc]],
    arcs: Sequence[Arc],
) -> list[Linear]:
    """How many arcs of each length class pieces that do not stay may serve, longest class first."""
    lengths = sorted({piece.spare_dmm for piece in built if piece.spare_dmm > 0})
    classes: dict[int, list[Arc]] = defaultdict(list)
    for arc in arcs:
        enough = [length for length in lengths if length >= arc.edge.length_dmm]
        if enough:
            classes[enough[0]].append(arc)
    served: list[Linear] = []
    free: list[Linear] = []
    for length in reversed(lengths):
        pieces = [piece for piece in built if piece.spare_dmm == length]
        free += [1 - total(arc.use for arc in kept_by[piece]) for piece in pieces]
        if not classes[length]:
            continue
        number = v.model.new_int_var(0, len(built), f"moved {length}")
        v.model.add(number <= total(arc.use for arc in classes[length]))
        served.append(number)
        v.model.add(total(served) <= total(free))
    return served
