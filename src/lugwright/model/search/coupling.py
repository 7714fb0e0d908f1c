"""Which circuits electrical rules couple, and the asks a trial falls into once they are posed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from lugwright.electrics.resistance import wire_uohm
from lugwright.model.formulation.ask import CURRENTS, DROP, Ask
from lugwright.model.formulation.trials import Trial, parts_of, whole
from lugwright.problem.judged_paths import way_nv
from lugwright.problem.leaves import Leaves
from lugwright.problem.schema import CircuitQuestion, Problem
from lugwright.trade.demand import Demand
from lugwright.trade.straps import contacts_uohm

Sizes = Mapping[str, tuple[str, ...]]


def pieces_of(
    leaves: Leaves, trial: Trial, sizes: Sizes, families: frozenset[str], tied: Iterable[str]
) -> list[Ask]:
    """Asks that together pose some families for a trial.

    Currents alone couple nothing; drop couples the circuits that are ``tied``; bundles and what
    fittings carry couple all. ``leaves`` are those of the problem.
    """
    problem = leaves.problem
    if not families <= {CURRENTS, DROP}:
        return [whole(problem, trial, dict(sizes), families)]
    parts = parts_of(problem, trial, sizes)
    together = set(tied) if DROP in families else set()
    joined = [part for part in parts if together.intersection(part.circuits)]
    apart = [
        replace(part, families=families & {CURRENTS}) if part.circuits else part
        for part in parts
        if part not in joined
    ]
    if not joined:
        return apart
    return [with_leaves(leaves, _as_one(joined, families)), *apart]


def _as_one(parts: list[Ask], families: frozenset[str]) -> Ask:
    landings = dict(pair for part in parts for pair in part.landings)
    sizes = dict(pair for part in parts for pair in part.sizes)
    return Ask(
        circuits=tuple(name for part in parts for name in part.circuits),
        landings=tuple(landings.items()),
        sizes=tuple(sizes.items()),
        families=families,
    )


def with_leaves(leaves: Leaves, part: Ask) -> Ask:
    """The ask, its trees to have leaves enough for the drop limits in every size."""
    least = [
        ((name, size), leaves.least(name, size))
        for name, sizes in part.sizes
        if name in part.circuits
        for size in sizes
    ]
    return replace(part, leaves=tuple((key, number) for key, number in least if number > 1))


def tied_by_drop(problem: Problem) -> frozenset[str]:
    """Circuits of loads whose drop may come to its limit, whatever trees are chosen.

    With them go those that feed them, back to the pigtails. Every circuit where ground shifts are
    judged: they compare drops from both sides.
    """
    if problem.shifts:
        return frozenset(circuit.name for circuit in problem.circuits)
    return frozenset[str]().union(*(_tied_in(problem, demand) for demand in problem.demands))


def _tied_in(problem: Problem, demand: Demand) -> set[str]:
    """The same in one load state."""
    within = {circuit.name: _within_nv(problem, circuit, demand) for circuit in problem.circuits}
    ahead: dict[str, tuple[str, ...]] = {"": ()}
    start: dict[str, int] = {"": 0}  # the most drop where a circuit starts
    for circuit in problem.outward:
        feed = circuit.fed_by
        ahead[circuit.name] = (circuit.name, *ahead[feed])
        start[circuit.name] = start[feed] + _before_nv(problem, circuit, demand)
        begins_late = bool(circuit.near[0])
        if feed and (begins_late or _leaves_late(problem, problem.circuit(feed))):
            start[circuit.name] += within[feed]
    found: set[str] = set()
    for path in problem.drops:
        names = [name for name in (path.feed_circuit, path.ground_circuit) if name]
        most = path.extra_nv + sum(within[name] + start[name] for name in names)
        if most > path.limit_nv and demand.feeds(path.feed_circuit):
            found.update(*(ahead[name] for name in names))
    return found


def _leaves_late(problem: Problem, host: CircuitQuestion) -> bool:
    """Whether what is taken from a circuit may leave it beyond jumpers of its own."""
    return problem.limits.lamp_take_off == "any" or bool(host.root)


def _before_nv(problem: Problem, circuit: CircuitQuestion, demand: Demand) -> int:
    """The most drop of a circuit's own supply: before its landing, or in its way."""
    if circuit.root:
        return max(0, way_nv(problem, circuit, demand))
    current = demand.totals[circuit.name]
    lengths = (landing.extension_dmm for landing in circuit.landings)
    given = circuit.supply.given_uohm if circuit.supply else 0
    return (given + _worst_uohm(problem, circuit, lengths)) * current


def _within_nv(problem: Problem, circuit: CircuitQuestion, demand: Demand) -> int:
    """No drop from the landing on can be larger: one chain of all posts over the longest jumpers.

    Every splice point on the way has something hanging on it besides, so there are no more of
    them than posts.
    """
    worst = _worst_uohm(
        problem, circuit, (e.length_dmm for e in (*circuit.edges, *circuit.take_off))
    )
    left = demand.totals[circuit.name]
    lead = problem.limits.crimp_uohm * left
    posts = [node for node in circuit.nodes if not node.is_splice]
    total = 0
    for drawn in sorted(sum(demand.posts.get(joint, 0) for joint in node.joints) for node in posts):
        total += left
        left -= drawn
    jumpers_a_post = 2 if len(posts) < len(circuit.nodes) else 1
    contacts = contacts_uohm(problem.console, circuit.name) * demand.totals[circuit.name]
    return jumpers_a_post * worst * total + lead + contacts


def _worst_uohm(problem: Problem, circuit: CircuitQuestion, lengths: Iterable[int]) -> int:
    """The most resistance of a wire of any of these lengths (0: no wire), its crimps included."""
    own = (circuit.own_extension,) if circuit.own_extension else ()
    thinnest = max((choice.nohm_per_mm for choice in (*circuit.choices, *own)), default=0)
    crimps = 2 * problem.limits.crimp_uohm
    return max((wire_uohm(thinnest, length) + crimps for length in lengths if length), default=0)
