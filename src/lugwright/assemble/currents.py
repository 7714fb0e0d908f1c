"""Worst-case currents: what each post asks for, and what each jumper carries.

A jumper's current is the sum of the demands beyond it, seen from the supply. A circuit that
is taken from another adds its current at the post where it is taken off.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from lugwright.assemble.working_order import circuits_in_order, node_finder
from lugwright.base.identity import JointId
from lugwright.plans.choice import ChosenJumper, WireKey
from lugwright.scenario.console import Circuit, Console
from lugwright.trade.currents import Leg, carried_ma
from lugwright.trade.demand import demand_in
from lugwright.trade.states import load_states
from lugwright.trade.straps import strap_lugs, through_ma


@dataclass(frozen=True)
class Run:
    """A jumper as it lies in its circuit: ``a`` on the supply side, numbered in working order.

    ``closes_ring``: both its ends were already wired; it is given no current here.
    """

    key: WireKey
    circuit: str
    wire_size: str
    a: JointId
    b: JointId
    number: int
    current_ma: int
    closes_ring: bool = False


@dataclass(frozen=True)
class Flow:
    """Every jumper's run, each post's own demand, and each circuit's total (takers included).

    The largest of each over the load states; ``each`` has the flow of every state by itself,
    ``live`` the circuits that have supply in it. ``through``: what flows through a strap's lug, by
    strap and stud, below nought where it comes from the stud.
    """

    runs: Mapping[WireKey, Run]
    demands_ma: Mapping[str, int]
    totals_ma: Mapping[str, int]
    live: frozenset[str] = frozenset()
    each: tuple[Flow, ...] = ()
    through: Mapping[tuple[str, str], int] = field(default_factory=dict)

    @property
    def states(self) -> tuple[Flow, ...]:
        """The flow in every load state; most panels have one."""
        return self.each or (self,)


@dataclass(frozen=True)
class Hop:
    """One jumper as the walk from the supply meets it, from joint to joint."""

    jumper: ChosenJumper
    near: JointId
    far: JointId
    closes_ring: bool


def outward(
    jumpers: Iterable[ChosenJumper], roots: Sequence[str], node_of: Callable[[str], str]
) -> tuple[Hop, ...]:
    """Jumpers in working order: from the roots outwards, breadth first, by joint id.

    Jumpers that no root reaches come last, from their own supply side outwards.
    """
    waiting = set(jumpers)
    queue = deque(dict.fromkeys(node_of(root) for root in sorted(roots)))
    seen = set(queue)
    hops: list[Hop] = []
    while waiting:
        if not queue:
            start = node_of(min(waiting).a)
            seen.add(start)
            queue.append(start)
        node = queue.popleft()
        for far, near, jumper in sorted(_at_node(waiting, node, node_of)):
            if jumper not in waiting:
                continue
            waiting.remove(jumper)
            beyond = node_of(far)
            hops.append(Hop(jumper, near, far, beyond in seen))
            if beyond not in seen:
                seen.add(beyond)
                queue.append(beyond)
    return tuple(hops)


def _at_node(
    waiting: Iterable[ChosenJumper], node: str, node_of: Callable[[str], str]
) -> list[tuple[JointId, JointId, ChosenJumper]]:
    """Far end, near end and jumper of every waiting jumper at a node."""
    found = []
    for jumper in waiting:
        if node_of(jumper.a) == node:
            found.append((jumper.b, jumper.a, jumper))
        elif node_of(jumper.b) == node:
            found.append((jumper.a, jumper.b, jumper))
    return found


def circuit_roots(
    console: Console,
    circuit: Circuit,
    landings: Mapping[str, str],
    jumpers: Iterable[ChosenJumper],
) -> tuple[str, ...]:
    """Where a circuit's current comes in: its landing, a way, or the posts it is taken off from."""
    if circuit.supplied_by:
        return (circuit.supplied_by,)
    if not circuit.taken_from:
        return (landings[circuit.name],) if circuit.name in landings else ()
    base = set(console.circuit(circuit.taken_from).posts)
    ends = {end for jumper in jumpers for end in (jumper.a, jumper.b)}
    return tuple(sorted(base & ends))


def flow(console: Console, landings: Mapping[str, str], jumpers: Iterable[ChosenJumper]) -> Flow:
    """Walk every circuit from its supply and add up what lies beyond each jumper (mA, exact)."""
    listed = sorted(jumpers)
    each = tuple(
        _flow(console, landings, listed, demand_in(console, state).posts, state.live)
        for state in load_states(console)
    )
    return each[0] if len(each) == 1 else _largest(each)


def _largest(each: tuple[Flow, ...]) -> Flow:
    """The largest of every figure over the load states. Jumpers lie the same in all of them."""
    runs = {
        key: replace(run, current_ma=max(one.runs[key].current_ma for one in each))
        for key, run in each[0].runs.items()
    }
    posts = {post: max(one.demands_ma[post] for one in each) for post in each[0].demands_ma}
    totals = {name: max(one.totals_ma[name] for one in each) for name in each[0].totals_ma}
    through = {lug: max((one.through[lug] for one in each), key=abs) for lug in each[0].through}
    live = frozenset[str]().union(*(one.live for one in each))
    return Flow(runs, posts, totals, live, each, through)


def _flow(
    console: Console,
    landings: Mapping[str, str],
    listed: Sequence[ChosenJumper],
    drawn: Mapping[str, int],
    live: frozenset[str],
) -> Flow:
    """The flow of one load state; ``drawn`` is what each post takes or returns in it, mA."""
    taken_off = dict.fromkeys(drawn, 0)
    runs: dict[WireKey, Run] = {}
    totals: dict[str, int] = {}
    # Takers before the circuit they are taken from: the order tells bases first, so go backwards.
    for circuit in reversed(circuits_in_order(console)):
        own = [jumper for jumper in listed if jumper.circuit == circuit.name]
        asked = {post: drawn[post] + taken_off[post] for post in circuit.posts}
        walked, total = _walk_circuit(console, circuit, landings, own, asked)
        for run in walked:
            runs[run.key] = run
            if circuit.taken_from and run.a in console.circuit(circuit.taken_from).posts:
                taken_off[run.a] += run.current_ma
        totals[circuit.name] = total
    through = _through_straps(console, landings, runs, drawn, totals)
    return Flow(runs, drawn, totals, live, through=through)


def _through_straps(
    console: Console,
    landings: Mapping[str, str],
    runs: Mapping[WireKey, Run],
    drawn: Mapping[str, int],
    totals: Mapping[str, int],
) -> dict[tuple[str, str], int]:
    """What flows through every lug of a strap, mA. Rule R35."""
    found: dict[tuple[str, str], int] = {}
    for lug in strap_lugs(console):
        circuit = console.circuit(console.post(lug.post).circuit)
        start = circuit.supplied_by or landings.get(circuit.name)
        laid = ((run.a, run.b, run.current_ma) for run in runs.values())
        comes_in = totals[circuit.name] if start in lug.side else 0
        found[lug.strap, lug.post] = through_ma(lug, drawn, laid, comes_in)
    return found


def _walk_circuit(
    console: Console,
    circuit: Circuit,
    landings: Mapping[str, str],
    jumpers: Sequence[ChosenJumper],
    asked: Mapping[JointId, int],
) -> tuple[tuple[Run, ...], int]:
    """The runs of one circuit, and the current that comes in at its roots."""
    node_of = node_finder(console)
    roots = circuit_roots(console, circuit, landings, jumpers)
    hops = outward(jumpers, roots, node_of)
    legs = [Leg(x.jumper, node_of(x.near), node_of(x.far), x.closes_ring) for x in hops]
    carried, beyond = carried_ma(legs, ((node_of(post), ma) for post, ma in asked.items()))
    runs = tuple(
        Run(
            hop.jumper.key,
            circuit.name,
            hop.jumper.wire_size,
            hop.near,
            hop.far,
            number,
            carried[hop.jumper],
            hop.closes_ring,
        )
        for number, hop in enumerate(hops, 1)
    )
    nodes = {node_of(root) for root in roots}
    return runs, sum(beyond.get(node, 0) for node in nodes)
