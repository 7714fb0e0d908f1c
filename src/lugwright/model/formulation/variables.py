"""The decisions as solver variables, by the names of the trade."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from lugwright.base.identity import JointId
from lugwright.model import solver as cp_model
from lugwright.model.formulation.ask import Ask, GroupKey
from lugwright.problem.schema import (
    CircuitQuestion,
    Edge,
    GroupOption,
    Landing,
    Node,
    Problem,
    WireChoice,
)
from lugwright.trade.demand import Demand

Linear = cp_model.LinearExpr | int
Pick = tuple[GroupOption, cp_model.IntVar]


def total(terms: Iterable[Linear]) -> cp_model.LinearExpr:
    """The sum of terms, an expression even where there are none."""
    return cp_model.LinearExpr.sum(list(terms))


ArcKey = tuple[str, str, str, str]
"""Circuit, from, to, size."""


@dataclass(frozen=True, slots=True)
class Arc:
    """A jumper that may be, from ``a`` (supply side) to ``b`` in one size; ``use`` decides it."""

    circuit: str
    a: JointId
    b: JointId
    choice: WireChoice
    edge: Edge
    take_off: bool
    use: cp_model.IntVar

    @property
    def key(self) -> ArcKey:
        """The arc by its names."""
        return self.circuit, self.a, self.b, self.choice.size


@dataclass(frozen=True)
class Source:
    """A landing that may be, with the size of its extension where it needs one."""

    circuit: str
    landing: Landing
    extension: WireChoice | None
    use: cp_model.IntVar


@dataclass
class Flows:
    """Currents and drops in one load state: of arcs by their number, of nodes by circuit and name.

    ``most_ma`` is the most an arc can carry, ``through`` what flows from a strap (its name and
    stud) to the stud's side.
    """

    demand: Demand
    flow: dict[int, cp_model.IntVar] = field(default_factory=dict)
    most_ma: dict[int, int] = field(default_factory=dict)
    drop: dict[tuple[str, str], cp_model.IntVar] = field(default_factory=dict)
    through: dict[tuple[str, str], Linear] = field(default_factory=dict)


@dataclass
class Variables:
    """All variables of one ask, with the look-ups the rule files need.

    ``linear``: only to be read as linear rows, so what cuts say as well may be left out.
    ``states`` are there where an electrical family is posed.
    """

    problem: Problem
    ask: Ask
    model: cp_model.CpModel
    keep: frozenset[ArcKey] | None = None
    linear: bool = False
    arcs: list[Arc] = field(default_factory=list)
    sources: list[Source] = field(default_factory=list)
    used: dict[str, cp_model.IntVar] = field(default_factory=dict)
    picks: dict[GroupKey, list[Pick]] = field(default_factory=dict)
    node_of: dict[tuple[str, str], Node] = field(default_factory=dict)
    arcs_in: dict[tuple[str, str], list[Arc]] = field(default_factory=lambda: defaultdict(list))
    arcs_out: dict[tuple[str, str], list[Arc]] = field(default_factory=lambda: defaultdict(list))
    sources_at: dict[tuple[str, str], list[Source]] = field(
        default_factory=lambda: defaultdict(list)
    )
    states: list[Flows] = field(default_factory=list)
    size: dict[tuple[str, str], cp_model.IntVar] = field(default_factory=dict)
    tallest: cp_model.IntVar | None = None
    stacked: list[Linear] = field(default_factory=list)
    lugs: dict[str, Linear] = field(default_factory=dict)

    @property
    def circuits(self) -> list[CircuitQuestion]:
        """The circuits asked for."""
        return [self.problem.circuit(name) for name in self.ask.circuits]

    def nodes(self, circuit: CircuitQuestion) -> list[Node]:
        """A circuit's nodes but for splice points that no jumper of these can reach."""
        return [node for node in circuit.nodes if (circuit.name, node.joints[0]) in self.node_of]

    def landed_at(self, circuit: CircuitQuestion, joint: str) -> Linear:
        """1 where a circuit's supply has landed on a joint: its pigtail, or its first jumper.

        What lands on its own root is there, whatever is chosen.
        """
        if circuit.has_first_jumper:
            arcs = self.arcs_in[circuit.name, joint]
            return total(arc.use for arc in arcs if arc.a == circuit.root)
        if circuit.root:
            return int(joint == circuit.root)
        return total(source.use for source in self.sources_at[circuit.name, joint])

    def node_used(self, node: Node) -> Linear:
        """1 when the tree reaches the node: a constant for one it must reach."""
        return 1 if node.needed else self.used[node.name]


def make_variables(
    problem: Problem,
    ask: Ask,
    model: cp_model.CpModel,
    keep: frozenset[ArcKey] | None = None,
    *,
    linear: bool = False,
) -> Variables:
    """Lay out arcs, landings and used-nodes of every circuit asked for.

    ``keep``: only these arcs, where it is given.
    """
    v = Variables(problem, ask, model, keep, linear=linear)
    reached = None if keep is None else {(circuit, b) for circuit, _, b, _ in keep}
    for circuit in v.circuits:
        for node in circuit.nodes:
            if node.is_splice and reached is not None and (circuit.name, node.name) not in reached:
                continue  # no jumper leads there: as if the splice point were none
            for joint in node.joints:
                v.node_of[circuit.name, joint] = node
            if not node.needed:
                v.used[node.name] = model.new_bool_var(f"used {node.name}")
    for circuit in v.circuits:
        _landings(v, circuit)
        _one_size(v, circuit.name)
        _arcs(v, circuit)
    return v


def _arcs(v: Variables, circuit: CircuitQuestion) -> None:
    """Both ways along every edge, and the way in along every take-off, in every size.

    Nothing goes into a root, and its first jumper only where the supply may land.
    """
    edges, take_off = circuit.edges, circuit.take_off
    if v.keep is not None:
        pairs = {(a, b) for name, a, b, _ in v.keep if name == circuit.name}
        edges = tuple(e for e in edges if (e.a, e.b) in pairs or (e.b, e.a) in pairs)
        take_off = tuple(e for e in take_off if (e.a, e.b) in pairs)
    into_none = {j for node in circuit.nodes if circuit.root in node.joints for j in node.joints}
    first = circuit.root if circuit.has_first_jumper else ""
    landed = set(v.ask.landing_posts(circuit.name))
    for size in v.ask.sizes_of(circuit.name):
        choice = circuit.choice(size)
        for edge in edges:
            for a, b in ((edge.a, edge.b), (edge.b, edge.a)):
                if b not in into_none and (a != first or b in landed):
                    _arc(v, circuit.name, a, b, choice, edge)
        for edge in take_off:
            if _may_take_off(v, circuit, edge.a):
                _arc(v, circuit.name, edge.a, edge.b, choice, edge, take_off=True)


def _one_size(v: Variables, circuit: str) -> None:
    """Where all jumpers of a circuit are of one size, decide which."""
    sizes = v.ask.sizes_of(circuit)
    if v.problem.limits.wire_size_choice == "jumper" or len(sizes) < 2:
        return
    for size in sizes:
        v.size[circuit, size] = v.model.new_bool_var(f"{circuit} in {size}")
    v.model.add_exactly_one([v.size[circuit, size] for size in sizes])
    own = v.problem.circuit(circuit).own_extension
    for source in v.sources:
        if source.circuit == circuit and source.extension not in (None, own):
            v.model.add_implication(source.use, v.size[circuit, source.extension.size])


def _may_take_off(v: Variables, circuit: CircuitQuestion, stud: str) -> bool:
    if v.problem.limits.lamp_take_off == "any":
        return True
    return stud in v.ask.landing_posts(circuit.taken_from)


def _arc(
    v: Variables,
    circuit: str,
    a: JointId,
    b: JointId,
    choice: WireChoice,
    edge: Edge,
    *,
    take_off: bool = False,
) -> None:
    if a in v.problem.last or (v.keep is not None and (circuit, a, b, choice.size) not in v.keep):
        return
    if not take_off and (circuit, a) not in v.node_of:
        return
    use = v.model.new_bool_var("")  # there are many, and a name is as large as the rest
    arc = Arc(circuit, a, b, choice, edge, take_off, use)
    v.arcs.append(arc)
    v.arcs_in[circuit, b].append(arc)
    v.arcs_out[circuit, a].append(arc)


def _landings(v: Variables, circuit: CircuitQuestion) -> None:
    for landing in circuit.landings:
        if circuit.root or landing.post not in v.ask.landing_posts(circuit.name):
            continue
        if not landing.extension_dmm:
            _source(v, circuit.name, landing, None)
            continue
        for choice in circuit.extensions(v.ask.sizes_of(circuit.name)):
            _source(v, circuit.name, landing, choice)


def _source(v: Variables, circuit: str, landing: Landing, extension: WireChoice | None) -> None:
    size = f" {extension.size}" if extension else ""
    use = v.model.new_bool_var(f"{circuit} lands on {landing.post}{size}")
    source = Source(circuit, landing, extension, use)
    v.sources.append(source)
    v.sources_at[circuit, landing.post].append(source)
