"""The nearest-post plan: for every hub, always the nearest post next; the best hub is kept.

For every instrument that could be the hub, each circuit grows from its landing post: again and
again the post that is nearest to any wired one is joined to it, as far as studs, tabs and leads
have room for one more wire end by the tables of the problem. No splices, no look ahead. Circuits
that are taken from another come first, for theirs is the one place on the landing stud. Every
circuit takes the thinnest wire it may have; where the checker then finds fault, the next thicker
one of all. The cheapest plan that the checker passes is the answer; plans are put in order by wire,
stacked lugs and fittings, as the default objective weighs them.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product

from lugwright import pipeline
from lugwright.assemble.currents import flow
from lugwright.assemble.ends import barrel_wires, ends_by_joint, given_ends
from lugwright.assemble.grouping import FittingStock, group_ends
from lugwright.checker.run import check_plan
from lugwright.model.formulation.trials import hub_landings, supplied
from lugwright.model.formulation.wire_ends import options_at
from lugwright.plans.choice import Choice, ChosenJumper
from lugwright.plans.outcome import Ending, Outcome
from lugwright.plans.schema import Plan
from lugwright.problem.schema import CircuitQuestion, Edge, GroupOption, Problem
from lugwright.scenario.brief import Brief

Landings = Mapping[str, str]
Sizes = Mapping[str, str]


@dataclass(frozen=True)
class Greedy:
    """The best plan that passes, if any hub has one, and how many were worked up."""

    plan: Plan | None
    tried: int


@dataclass
class Room:
    """Wire ends by joint and circuit, and whether one more finds room."""

    problem: Problem
    ends: dict[str, dict[str, Counter[str]]] = field(
        default_factory=lambda: defaultdict(lambda: defaultdict(Counter))
    )

    def put(self, joint: str, circuit: str, end_type: str) -> None:
        """One more end at a joint."""
        self.ends[joint][circuit][end_type] += 1

    def takes(self, joint: str, circuit: str, end_type: str) -> bool:
        """Whether the fittings of a joint still find room with one more end."""
        groups = {name: Counter(ends) for name, ends in self.ends[joint].items()}
        groups.setdefault(circuit, Counter())[end_type] += 1
        ways = [
            options_at(self.problem, joint, tuple(sorted(ends.items()))) for ends in groups.values()
        ]
        ways += [group.options for group in self.problem.boat_groups if group.post == joint]
        if self.problem.post_kind[joint] != "stud":
            return len(groups) == 1 and all(ways)
        return any(self._fits(joint, options) for options in product(*ways))

    def _fits(self, joint: str, options: tuple[GroupOption, ...]) -> bool:
        stud = self.problem.studs[joint]
        lugs = sum(option.lugs for option in options) + stud.reserved
        widest = max([stud.reserved_angle_deg, *(option.angle_deg for option in options)])
        counted = lugs
        if self.problem.limits.stud_count == "conductors":
            counted = sum(option.ends for option in options) + stud.reserved
        tongues = sum(option.tongue_dmm for option in options)
        return counted <= stud.places and tongues <= stud.thread_dmm and lugs * widest <= 360


def nearest_post_plan(inputs: Brief) -> Greedy:
    """The cheapest nearest-post plan over all hubs that the checker passes."""
    problem, routes = pipeline.pose(inputs)
    ways = {circuit.name: ways_of(circuit) for circuit in problem.circuits}
    tried = 0
    most = max(len(circuit.choices) for circuit in problem.circuits)
    for step in range(most):
        found = []
        for landings in _landings(problem):
            choice = _choice(inputs, problem, ways, landings, _sizes(problem, step))
            if choice is not None:
                found.append((_worth(problem, ways, choice), choice))
        for _, choice in sorted(found, key=lambda each: (each[0], each[1].landings)):
            tried += 1
            outcome = Outcome(Ending.WITHIN_BOUND, (), choice=choice)
            plan = pipeline.work_up(inputs, routes, outcome)
            if check_plan(inputs, plan).passed:
                return Greedy(plan, tried)
    return Greedy(None, tried)


def _landings(problem: Problem) -> Iterator[Landings]:
    """Every hub with a landing post for each supply that reaches without an extension."""
    within = {
        landing.post
        for circuit in problem.circuits
        for landing in circuit.landings
        if not landing.extension_dmm
    }
    for _, landings in hub_landings(problem, one_hub=True):
        for posts in product(*(posts for _, posts in landings)):
            if within.issuperset(posts):
                yield {name: post for (name, _), post in zip(landings, posts, strict=True)}


def _sizes(problem: Problem, step: int) -> Sizes:
    """Each circuit's thinnest wire, or so many sizes thicker as far as it has them."""
    sizes = {}
    for circuit in problem.circuits:
        choices = sorted(circuit.choices, key=lambda choice: choice.area_um2)
        sizes[circuit.name] = choices[min(step, len(choices) - 1)].size
    return sizes


def _choice(
    inputs: Brief,
    problem: Problem,
    ways: Mapping[str, Ways],
    landings: Landings,
    sizes: Sizes,
) -> Choice | None:
    """The whole choice for one hub, or None where something finds no room."""
    room = Room(problem)
    for circuit in supplied(problem):
        if circuit.supply is not None and circuit.supply.end_type:
            room.put(landings[circuit.name], circuit.name, circuit.supply.end_type)
    jumpers: list[ChosenJumper] = []
    for circuit in sorted(problem.circuits, key=lambda c: (not c.taken_from, c.name)):
        wired = _wire(circuit, ways[circuit.name], landings, sizes[circuit.name], room)
        if wired is None:
            return None
        jumpers += wired
    return _crimped(inputs, landings, jumpers)


def _wire(
    circuit: CircuitQuestion, ways: Ways, landings: Landings, size: str, room: Room
) -> list[ChosenJumper] | None:
    """The jumpers of one circuit, nearest first, or None where a post cannot be joined."""
    end_type = circuit.choice(size).end_type
    node_of = {joint: node.name for node in circuit.nodes for joint in node.joints}
    waiting = {node.name for node in circuit.nodes if node.needed}
    wired: set[str] = set()
    if not circuit.taken_from:
        wired.add(node_of[landings[circuit.name]])
    waiting -= wired
    jumpers: list[ChosenJumper] = []
    while waiting:
        if circuit.taken_from and not jumpers:
            landing = landings[circuit.taken_from]
            open_ways = [(edge.a, edge.b) for edge in ways.take_off if edge.a == landing]
        else:
            open_ways = list(_outward(ways.between, node_of, wired))
        for a, b in open_ways:
            owner = circuit.name
            if (
                node_of[b] in waiting
                and room.takes(a, owner, end_type)
                and room.takes(b, owner, end_type)
            ):
                break
        else:
            return None
        room.put(a, circuit.name, end_type)
        room.put(b, circuit.name, end_type)
        jumpers.append(ChosenJumper(circuit.name, a, b, size))
        wired.add(node_of[b])
        waiting.discard(node_of[b])
    return jumpers


@dataclass(frozen=True)
class Ways:
    """The jumpers of a circuit between its posts, and to them from where it is taken off, shortest
    first."""

    between: list[Edge]
    take_off: list[Edge]

    def length_dmm(self, jumper: ChosenJumper) -> int:
        """How long a jumper is cut, 0.1 mm."""
        return next(
            edge.length_dmm
            for edge in (*self.between, *self.take_off)
            if {edge.a, edge.b} == {jumper.a, jumper.b}
        )


def ways_of(circuit: CircuitQuestion) -> Ways:
    """Splice points left out."""
    posts = {joint for node in circuit.nodes if node.needed for joint in node.joints}
    return Ways(
        _shortest_first(edge for edge in circuit.edges if posts.issuperset((edge.a, edge.b))),
        _shortest_first(edge for edge in circuit.take_off if edge.b in posts),
    )


def _shortest_first(edges: Iterable[Edge]) -> list[Edge]:
    return sorted(edges, key=lambda edge: (edge.length_dmm, edge.a, edge.b))


def _outward(
    edges: list[Edge], node_of: Mapping[str, str], wired: set[str]
) -> Iterator[tuple[str, str]]:
    """Every jumper from a wired node to one that is not, shortest first."""
    for edge in edges:
        for a, b in ((edge.a, edge.b), (edge.b, edge.a)):
            if node_of[a] in wired and node_of[b] not in wired:
                yield a, b


def _crimped(
    inputs: Brief, landings: Landings, jumpers: list[ChosenJumper]
) -> Choice | None:
    """Fittings for all wire ends, two to a barrel where one takes both."""
    console = inputs.console
    currents = flow(console, landings, jumpers)
    ends = given_ends(inputs, landings, currents)
    wires = barrel_wires(inputs, currents, ends, ())
    posts = {post.id: post for post in console.posts}
    grouped = group_ends(
        posts, FittingStock(inputs.limits, inputs.stock), wires, ends_by_joint(jumpers, (), ends)
    )
    if grouped.unfit:
        return None
    return Choice(tuple(sorted(landings.items())), tuple(sorted(jumpers)), (), grouped.fittings)


def _worth(problem: Problem, ways: Mapping[str, Ways], choice: Choice) -> int:
    """The default objective of a choice without extensions, 0.1 mm."""
    wire = sum(ways[jumper.circuit].length_dmm(jumper) for jumper in choice.jumpers)
    lugs = Counter(
        fitting.joint for fitting in choice.fittings if problem.post_kind[fitting.joint] == "stud"
    )
    stacked = sum(number - 1 for number in lugs.values())
    limits = problem.limits
    worth = limits.lug_worth_dmm * stacked + limits.fitting_worth_dmm * len(choice.fittings)
    return wire + worth
