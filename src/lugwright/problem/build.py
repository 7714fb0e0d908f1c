"""From a brief and its routes to the question itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from lugwright.base.identity import JointId
from lugwright.plans.outcome import Reason
from lugwright.problem.boat_blocks import bench_ends, boat_groups, extension_needs, strap_groups
from lugwright.problem.given_faults import fixed_faults
from lugwright.problem.groups import Grouper
from lugwright.problem.judged_paths import drop_paths, loom_legs, shift_paths
from lugwright.problem.landing_posts import (
    hubs_of,
    lands_on_far_post,
    possible_posts,
    posts_besides,
)
from lugwright.problem.schema import (
    CircuitQuestion,
    Edge,
    EndType,
    ExtensionNeed,
    GroupOption,
    Landing,
    Node,
    Problem,
    Stud,
    Supply,
    WireChoice,
)
from lugwright.problem.sizes import choice_to_lengthen, wire_choices
from lugwright.routes.errors import NoPath
from lugwright.routes.free_ends import ends_in_reach, free_leads, routes_to_ends
from lugwright.routes.schema import Path, Routes, Way
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Circuit, Console, Pigtail, Post
from lugwright.trade.demand import circuit_totals, demands
from lugwright.trade.drops import (
    ground_of_sender,
    length_uohm,
    sender_ground_uohm,
    supply_uohm,
)
from lugwright.trade.lengths import (
    extension_length_dmm,
    jumper_length_dmm,
    reach_needed_dmm,
)
from lugwright.trade.money import labour_micro
from lugwright.trade.names import end_of_lead, extension_end, pigtail_wire
from lugwright.trade.threads import thread_for_tongues_dmm


class _Builder:
    """Gathers what every circuit's question needs; used once by ``build_problem``."""

    def __init__(self, brief: Brief, routes: Routes) -> None:
        console, limits, stock = brief.console, brief.limits, brief.stock
        self.brief, self.routes = brief, routes
        self.console, self.limits = console, limits
        self.posts = {post.id: post for post in console.posts}
        self.demands = demands(console)
        self.totals = circuit_totals(console)
        types = [EndType(s.name, s.area_um2, s.insulation_um) for s in stock.spools]
        types += [
            EndType(pigtail_wire(c.name), c.pigtail.wire.area_um2, c.pigtail.wire.insulation_um)
            for c in console.circuits
            if c.pigtail
        ]
        limited = (p.id for p in console.posts if p.kind == "stud" and p.carries_ma)
        self.tables = Grouper(stock, limits, types, limited)
        self.ends = {
            lead.id: {end_of_lead(lead.id, p.id): p.id for p in ends_in_reach(lead, limits, routes)}
            for lead in free_leads(console)
        }
        aliases = {end: point for ends in self.ends.values() for end, point in ends.items()}
        self.routes = routes_to_ends(routes, aliases)
        self.needs, self.need_faults = extension_needs(brief, routes, self.tables)
        self.points = {p.id for points in routes.splices.values() for p in points}
        self.legs = loom_legs(console, routes, self.needs)
        self.leg_index = {leg.name: index for index, leg in enumerate(self.legs)}

    def circuit(self, circuit: Circuit) -> CircuitQuestion:
        choices, own = wire_choices(self.brief, circuit), self.own_extension(circuit)
        nodes = self.nodes(circuit)
        joints = [joint for node in nodes for joint in node.joints]
        edges = self.edges(circuit, nodes)
        way = self.console.way_to(circuit.supplied_by) if circuit.supplied_by else None
        near = way.near if way else circuit.returns_to
        takers = [c.name for c in self.console.circuits if c.taken_from == circuit.name and c.posts]
        return CircuitQuestion(
            name=circuit.name,
            side=circuit.side,
            taken_from=circuit.taken_from,
            takers=tuple(sorted(takers)),
            choices=choices,
            nodes=nodes,
            edges=edges,
            take_off=self.take_off(circuit, joints),
            landings=self.landings(circuit, edges),
            supply=self.supply(circuit),
            demand_ma={post: self.demands[0].posts[post] for post in circuit.posts},
            butts=self.butts(circuit, (own,) if own else choices),
            root=circuit.supplied_by,
            near=(self.posts[near].circuit, near) if near else ("", ""),
            contact_uohm=way.contact_uohm if way else 0,
            hubs=hubs_of(self.console, self.limits, circuit),
            harness=circuit.harness,
            own_extension=own,
        )

    def nodes(self, circuit: Circuit) -> tuple[Node, ...]:
        """Posts that are one piece of metal, and splice points, as the nodes of the tree.

        Rule R8.
        """
        groups: dict[str, list[Post]] = {}
        for post_id in circuit.posts:
            post = self.posts[post_id]
            groups.setdefault(post.node, []).append(post)
        nodes = [
            Node(
                name,
                tuple(sorted([*(post.id for post in posts), *self.ends.get(posts[0].id, ())])),
                not all(p.optional and p.id != circuit.supplied_by for p in posts),
                False,
                posts[0].id in self.ends,
            )
            for name, posts in groups.items()
        ]
        splices = self.routes.splice_points(circuit.name) if self.limits.splices else ()
        nodes += [Node(point.id, (point.id,), False, True) for point in splices]
        return tuple(sorted(nodes, key=lambda node: node.name))

    def jumpers(self, pairs: Sequence[tuple[JointId, JointId]]) -> tuple[Edge, ...]:
        """The jumpers between pairs of joints, as far as a wire may run; none from where a lead
        with a length leaves. Rule R4."""
        pairs = [pair for pair in pairs if self.ends.keys().isdisjoint(pair)]
        found = []
        for (a, b), way in zip(pairs, self.routes.ways(pairs), strict=True):
            if way is None:
                continue
            mid_air = (a in self.points) + (b in self.points)
            if mid_air == 1 and way.path_dmm < self.limits.splice_to_post_dmm:
                continue
            length_dmm = jumper_length_dmm(way.path_dmm, self.limits)
            found.append(Edge(a, b, length_dmm, self.on_legs(way)))
        return tuple(sorted(found, key=lambda edge: (edge.a, edge.b)))

    def on_legs(self, way: Path | Way) -> tuple[int, ...]:
        return tuple(sorted(self.leg_index[leg] for leg in way.loom_legs))

    def edges(self, circuit: Circuit, nodes: tuple[Node, ...]) -> tuple[Edge, ...]:
        """The jumpers of a circuit; its far post's only to where its supply may land.

        None is at a post that is linked to the far post: that is the same metal (R8).
        """
        pairs = [
            (min(a, b), max(a, b))
            for one, other in combinations(nodes, 2)
            for a in one.joints
            for b in other.joints
        ]
        root = circuit.supplied_by
        if root and not lands_on_far_post(self.console, self.limits, circuit):
            landed = {root, *possible_posts(self.console, self.limits, circuit)}
            pairs = [pair for pair in pairs if root not in pair or landed.issuperset(pair)]
            beside = {j for node in nodes if root in node.joints for j in node.joints} - {root}
            pairs = [pair for pair in pairs if beside.isdisjoint(pair)]
        return self.jumpers(pairs)

    def take_off(self, circuit: Circuit, joints: Sequence[JointId]) -> tuple[Edge, ...]:
        """Jumpers from a stud of the circuit this one is taken from. Rule R10.

        From a far post only where the supply lands on it; where that is the circuit's only post,
        it may be a tab.
        """
        if not circuit.taken_from:
            return ()
        host = self.console.circuit(circuit.taken_from)
        starts = [post for post in host.posts if self.posts[post].kind == "stud"]
        far = host.supplied_by
        if far and not lands_on_far_post(self.console, self.limits, host):
            starts = [post for post in starts if post != far]
        elif far and self.posts[far].kind == "tab" and not posts_besides(self.console, host):
            starts.append(far)
        return self.jumpers([(start, joint) for start in starts for joint in joints])

    def landings(self, circuit: Circuit, edges: Sequence[Edge]) -> tuple[Landing, ...]:
        """Posts on which the circuit's supply may land. Rule R7."""
        posts = possible_posts(self.console, self.limits, circuit)
        root, pigtail = circuit.supplied_by, circuit.pigtail
        if root:
            reached = {root} | {post for e in edges if root in (e.a, e.b) for post in (e.a, e.b)}
            found = [post for post in posts if post in reached]
            return tuple(Landing(post, self.posts[post].instrument, 0, ()) for post in found)
        if pigtail is None:
            return ()
        landed = (self.landing(pigtail, self.posts[post]) for post in posts)
        return tuple(landing for landing in landed if landing)

    def landing(self, pigtail: Pigtail, post: Post) -> Landing | None:
        """A pigtail's landing on a post; None where its ring does not fit or it cannot reach.

        Rule R21.
        """
        if pigtail.entry is None:  # its reach is not judged
            fits = pigtail.ring is None or post.thread == pigtail.ring.thread
            return Landing(post.id, post.instrument, 0, ()) if fits else None
        try:
            path = self.routes.from_entry(pigtail.entry, post.id)
        except NoPath:
            return None
        shortfall = reach_needed_dmm(path.path_dmm, self.console, self.limits) - pigtail.reach_dmm
        if shortfall > 0:
            if not self.limits.extensions or (pigtail.ring and pigtail.ring.wires > 1):
                return None
            extension = extension_length_dmm(shortfall, self.limits)
        else:
            extension = 0
            if pigtail.ring and (post.kind != "stud" or post.thread != pigtail.ring.thread):
                return None
        return Landing(post.id, post.instrument, extension, self.on_legs(path))

    def supply(self, circuit: Circuit) -> Supply | None:
        pigtail = circuit.pigtail
        if pigtail is None:
            return None
        landing = self.limits.minutes_landing_cmin.get("ring", {})
        ring = pigtail.ring
        return Supply(
            wire=pigtail_wire(circuit.name),
            end_type="" if ring else pigtail_wire(circuit.name),
            given_uohm=supply_uohm(pigtail, self.limits) + self._back_uohm(circuit),
            ready_tongue_dmm=ring.tongue_dmm if ring else 0,
            ready_angle_deg=ring.angle_deg if ring else 0,
            ready_money_micro=labour_micro(
                landing.get(pigtail.stage, 0), self.limits.rate_micro_per_hour
            )
            if ring
            else 0,
            aboard=pigtail.stage == "aboard",
            ready_wires=ring.wires if ring else 1,
            own_barrel=self.limits.pigtail_barrel == "own",
        )

    def _back_uohm(self, circuit: Circuit) -> int:
        """What a sender's own ground wire adds where its current comes back. Rule R34."""
        wire = ground_of_sender(self.console, circuit)
        if wire is None:
            return 0
        added = self.added_uohm(self.needs).get(wire.id, 0)
        return sender_ground_uohm(wire, self.limits) + added

    def added_uohm(self, needs: Sequence[ExtensionNeed]) -> dict[str, int]:
        """What its extension adds to each boat wire that is lengthened, with both crimps."""
        crimps = 2 * self.limits.crimp_uohm
        return {
            need.wire: crimps
            + length_uohm(self.tables.types[need.end_type].area_um2, need.length_dmm, self.limits)
            for need in needs
        }

    def own_extension(self, circuit: Circuit) -> WireChoice | None:
        """What lengthens a sender's boat wire: wire of its own size. Rule R11."""
        pigtail = circuit.pigtail
        if pigtail is None or not pigtail.of_boat:
            return None
        choice = choice_to_lengthen(self.brief, pigtail.wire)
        if choice is None:
            return None
        name = extension_end(pigtail_wire(circuit.name))
        own = self.tables.types[choice.end_type]
        self.tables.types[name] = EndType(name, own.area_um2, own.insulation_um)
        return replace(choice, end_type=name)

    def butts(self, circuit: Circuit, choices: tuple[WireChoice, ...]) -> dict[str, GroupOption]:
        if circuit.pigtail is None:
            return {}
        given = self.tables.types[pigtail_wire(circuit.name)]
        found = {}
        for choice in choices:
            if self.totals[circuit.name] > choice.cap_ma:
                continue  # an extension carries the circuit's whole current
            butt = self.tables.extension(given, choice.end_type, self.totals[circuit.name])
            if butt:
                found[choice.size] = butt
        return found

    def with_ends(self) -> Console:
        """The console with a post for every place at which a lead with a length may end."""
        places = self.routes.places()
        posts = [
            replace(self.posts[lead], id=end, at=places[point])
            for lead, ends in self.ends.items()
            for end, point in ends.items()
        ]
        return replace(self.console, posts=(*self.console.posts, *posts)) if posts else self.console

    def short_leads(self) -> Iterator[Reason]:
        """Leads with a length that must be reached and whose ends reach no place at all."""
        for lead, ends in self.ends.items():
            post = self.posts[lead]
            if not ends and not post.optional:
                text = "no place for its end is in reach: a splice point of its circuit"
                least = f"{self.limits.re_termination_dmm / 10:g} mm are left to join it once more"
                yield Reason("reach", lead, text, f"{post.lead_length_dmm / 10:g} mm", least)

    def studs(self) -> dict[JointId, Stud]:
        """Room on every stud. Rule R23."""
        found: dict[JointId, Stud] = {}
        for post in self.console.posts:
            if post.kind == "stud":
                row = self.brief.stock.hardware_for(post.thread)
                found[post.id] = Stud(
                    post.id,
                    thread_for_tongues_dmm(post, row, self.limits),
                    self.limits.at("lugs_per_stud", post.id),
                    post.reserved,
                    post.reserved_angle_deg,
                )
        return found


def build_problem(brief: Brief, routes: Routes) -> Problem:
    """Pose the question.

    Raises OutsideTable when a published table has no row for a wire that is given.
    """
    console, limits = brief.console, brief.limits
    builder = _Builder(brief, routes)
    needs = builder.needs
    ends = bench_ends(brief, builder.tables, needs)
    shared = [end.wire for end in ends]
    groups, group_faults = boat_groups(brief, builder.tables, needs, shared)
    circuits = tuple(
        builder.circuit(c) for c in sorted(console.circuits, key=lambda c: c.name) if c.posts
    )
    drops = drop_paths(brief, builder.added_uohm(needs))
    fixed = fixed_faults(brief, circuits, needs, drops)
    return Problem(
        console=builder.with_ends(),
        limits=limits,
        circuits=circuits,
        studs=builder.studs(),
        post_kind={post.id: post.kind for post in builder.with_ends().posts},
        post_limit_ma={p.id: p.carries_ma for p in console.posts if p.carries_ma},
        boat_groups=(*groups, *strap_groups(brief)),
        bench_ends=ends,
        extensions=needs,
        drops=drops,
        shifts=shift_paths(brief),
        legs=builder.legs,
        free_ends={end: lead for lead, ends in builder.ends.items() for end in ends},
        faults=(*builder.short_leads(), *fixed, *builder.need_faults, *group_faults),
        tables=builder.tables,
        demands=builder.demands,
    )
