"""The plan a rigger makes by eye: the plan to beat.

The hub is the instrument with the tallest studs; each circuit is wired outwards from it, every
post to the nearest one that is wired already; two wires go into a fitting where one takes them,
and the smallest wire the fuse allows is used. Common practice, no source. Nobody counts the
stacks on the way, so limits on studs may be broken.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product

from lugwright.assemble.currents import flow
from lugwright.assemble.ends import barrel_wires, ends_by_joint, given_ends
from lugwright.assemble.grouping import FittingStock, group_ends
from lugwright.assemble.working_order import circuits_in_order, node_finder
from lugwright.base.errors import OutsideTable
from lugwright.base.identity import NO_JOINT, JointId
from lugwright.electrics.ampacity import table_ma
from lugwright.limits.schema import Limits
from lugwright.plans.choice import Choice, ChosenExtension, ChosenJumper
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Circuit, Console, Instrument, Post
from lugwright.stock.schema import Spool
from lugwright.trade.fittings import most_on_lead, most_on_tab
from lugwright.trade.fuses import fuse_ahead, fuse_allowed_ma
from lugwright.trade.lengths import reach_needed_dmm
from lugwright.trade.wire_sizes import least_area_um2, spool_to_lengthen


@dataclass(frozen=True)
class _Bench:
    """What the rigger looks at."""

    brief: Brief
    routes: Routes

    def paths_dmm(
        self, ones: Iterable[JointId], others: Iterable[JointId]
    ) -> dict[tuple[JointId, JointId], int]:
        """Paths between posts, 0.1 mm, by pair; those are left out that no way leads between."""
        pairs = [(one, other) for one, other in product(ones, others) if one != other]
        ways = zip(pairs, self.routes.ways(pairs), strict=True)
        return {pair: way.path_dmm for pair, way in ways if way}


def hand_choice(brief: Brief, routes: Routes) -> Choice | None:
    """The choice made by eye, or None where even that finds no hub, wire, way or fitting."""
    console, bench = brief.console, _Bench(brief, routes)
    landings = _landings(bench)
    if landings is None:
        return None
    sizes = _wire_sizes(bench, landings)
    jumpers: list[ChosenJumper] = []
    for circuit in circuits_in_order(console):
        wired = _wire_circuit(bench, circuit, landings, sizes)
        if wired is None:
            return None
        jumpers += wired
    extensions = _extensions(bench, landings, sizes)
    if extensions is None:
        return None
    currents = flow(console, landings, jumpers)
    ends = given_ends(brief, landings, currents)
    wires = barrel_wires(brief, currents, ends, extensions)
    posts = {post.id: post for post in console.posts}
    joints = ends_by_joint(jumpers, extensions, ends)
    grouped = group_ends(posts, FittingStock(brief.limits, brief.stock), wires, joints)
    if grouped.unfit:
        return None
    return Choice(
        tuple(sorted(landings.items())), tuple(sorted(jumpers)), extensions, grouped.fittings
    )


def _supplied(console: Console) -> list[Circuit]:
    """Circuits that land: those with a pigtail, and those a way supplies that have other posts."""
    return [
        circuit
        for circuit in circuits_in_order(console)
        if circuit.pigtail is not None or _others(circuit)
    ]


def _others(circuit: Circuit) -> list[str]:
    """Posts of a circuit that a way supplies, but for the way's far post; else none."""
    return [post for post in circuit.posts if post != circuit.supplied_by != ""]


def _landing_post(bench: _Bench, instrument: Instrument, circuit: Circuit) -> Post | None:
    """The tallest stud of a circuit on an instrument, else its first tab.

    What others are taken from needs a stud: a take-off shares no push-on.
    """
    takers = [
        other
        for other in bench.brief.console.circuits
        if other.taken_from == circuit.name and other.posts
    ]
    kinds = ("stud",) if takers else ("stud", "tab")
    found = [
        post
        for post in bench.brief.console.posts
        if post.instrument == instrument.name
        and post.id in circuit.posts
        and post.id != circuit.supplied_by
        and post.kind in kinds
    ]
    found.sort(key=lambda post: (post.kind != "stud", -post.free_thread_dmm, post.id))
    return found[0] if found else None


def _landings(bench: _Bench) -> dict[str, JointId] | None:
    """Landing post of every supply: on the hub that has most of them, the tallest studs first.

    What the hub has no post of lands on the next best instrument.
    """
    console = bench.brief.console
    supplied = _supplied(console)
    offers = []
    for instrument in sorted(console.instruments, key=lambda item: item.name):
        if instrument.hub_candidate:
            posts = {one.name: _landing_post(bench, instrument, one) for one in supplied}
            landed = {name: post for name, post in posts.items() if post is not None}
            if landed:
                tallest = max(post.free_thread_dmm for post in landed.values())
                offers.append((-len(landed), -tallest, instrument.name, landed))
    landings: dict[str, JointId] = {}
    for _, _, _, landed in sorted(offers, key=lambda offer: offer[:3]):
        for name, post in landed.items():
            landings.setdefault(name, post.id)
    lone = _alone(console, [one for one in supplied if one.name not in landings])
    landings |= lone
    return landings if len(landings) == len(supplied) else None


def _alone(console: Console, circuits: list[Circuit]) -> dict[str, JointId]:
    """Where a way leads to a single post of an instrument that is no hub: it lands there."""
    found = {}
    for circuit in circuits:
        posts = [console.post(post) for post in _others(circuit)]
        if len(posts) == 1 and posts[0].kind != "lead":
            found[circuit.name] = posts[0].id
    return found


def _wire_sizes(bench: _Bench, landings: Mapping[str, JointId]) -> dict[str, str]:
    """The smallest spool of each circuit that its fuse allows; a circuit without one is left out.

    The ground side has no fuse: its wire carries the circuit's whole current by the table.
    """
    console, limits = bench.brief.console, bench.brief.limits
    currents = flow(console, landings, ())
    sizes = {}
    for circuit in console.circuits:
        least = least_area_um2(limits, circuit)
        needed = _needed_ma(bench, circuit, currents.demands_ma)
        spools = [
            spool
            for spool in bench.brief.stock.spools_of_colour(circuit.colour)
            if spool.area_um2 >= least
        ]
        fused = _base(console, circuit).name
        fit = [spool for spool in spools if _protected(bench, spool, needed, fused)]
        if fit:
            sizes[circuit.name] = fit[0].wire_size
        elif spools:
            sizes[circuit.name] = spools[-1].wire_size
    return sizes


def _needed_ma(bench: _Bench, circuit: Circuit, demands_ma: Mapping[str, int]) -> tuple[int, int]:
    """Fuse (0: none) and current a circuit's wire must stand, mA."""
    console = bench.brief.console
    fuse = fuse_ahead(console, circuit).ma
    fed = [circuit]
    if not circuit.taken_from:
        taken = [item for item in console.circuits if item.taken_from]
        fed += [item for item in taken if _base(console, item) is circuit]
    return fuse, sum(demands_ma[post] for item in fed for post in item.posts)


def _base(console: Console, circuit: Circuit) -> Circuit:
    """The circuit with the pigtail that a circuit hangs on at last."""
    while circuit.taken_from:
        circuit = console.circuit(circuit.taken_from)
    return circuit


def _protected(bench: _Bench, spool: Spool, needed_ma: tuple[int, int], fused: str) -> bool:
    """Whether the fuse in a circuit's pigtail protects a spool's wire, and the table lets it
    carry the current."""
    fuse_ma, current_ma = needed_ma
    try:
        engine_space = bench.brief.console.engine_space
        table = table_ma(spool.ampacity_size, spool.insulation_temp_c, engine_space)
    except OutsideTable:
        return False
    return fuse_ma <= fuse_allowed_ma(table, bench.brief.limits, fused) and current_ma <= table


def _wire_circuit(
    bench: _Bench, circuit: Circuit, landings: Mapping[str, JointId], sizes: Mapping[str, str]
) -> list[ChosenJumper] | None:
    """Jumpers of one circuit: again and again the nearest post that is not wired yet."""
    node_of = node_finder(bench.brief.console)
    posts = {post: bench.brief.console.post(post) for post in circuit.posts}
    wanted = {node_of(post) for post in posts if not posts[post].optional}
    start = landings.get(circuit.taken_from or circuit.name, NO_JOINT)
    wanted -= {node_of(start), node_of(circuit.supplied_by)}
    if not wanted and not _others(circuit):
        return []
    if not start or circuit.name not in sizes:
        return None
    room = {post.id: _room(post, bench.brief.limits) for post in posts.values()}
    if start in room:
        room[start] -= 1
    wired = [start] if circuit.taken_from else [p for p in posts if node_of(p) == node_of(start)]
    paths_dmm = bench.paths_dmm({start: None, **posts}, posts)
    jumpers: list[ChosenJumper] = []
    if circuit.supplied_by:  # one jumper from the way to the hub, and the far post is left alone
        jumpers.append(ChosenJumper(circuit.name, circuit.supplied_by, start, sizes[circuit.name]))
    while wanted:
        open_posts = [post for post in wired if room.get(post, 1) > 0]
        found = _nearest(paths_dmm, open_posts, [p for p in posts if node_of(p) in wanted])
        if found is None:
            return None
        near, far = found
        jumpers.append(ChosenJumper(circuit.name, near, far, sizes[circuit.name]))
        for end in (near, far):
            if end in room:
                room[end] -= 1
        wanted.discard(node_of(far))
        # The one take-off is made: from here on the taken circuit grows from its own posts.
        wired = [post for post in wired if post in posts]
        wired += [post for post in posts if node_of(post) == node_of(far)]
    return jumpers


def _room(post: Post, limits: Limits) -> int:
    """Wire ends a rigger would still join to a post: no count is kept on studs."""
    if post.kind == "tab":
        return most_on_tab(limits, post.id)
    if post.kind == "lead":
        return most_on_lead(limits)
    return 1_000_000


def _nearest(
    paths_dmm: Mapping[tuple[JointId, JointId], int],
    wired: list[JointId],
    waiting: list[JointId],
) -> tuple[JointId, JointId] | None:
    """Wired and waiting post with the shortest way between them; ties by name."""
    ways = ((paths_dmm[pair], *pair) for pair in product(wired, waiting) if pair in paths_dmm)
    best = min(ways, default=None)
    return best and best[1:]


def _extensions(
    bench: _Bench, landings: Mapping[str, JointId], sizes: Mapping[str, str]
) -> tuple[ChosenExtension, ...] | None:
    """Extensions of what does not reach, where they are allowed; None where a spool is missing."""
    if not bench.brief.limits.extensions:
        return ()
    found = []
    for end in given_ends(bench.brief, landings, flow(bench.brief.console, landings, ())):
        if end.entry is None:
            continue
        try:
            path = bench.routes.from_entry(end.entry, end.joint).path_dmm
        except NoPath:
            return None
        if reach_needed_dmm(path, bench.brief.console, bench.brief.limits) <= end.reach_dmm:
            continue
        if end.boat_block:
            spool = spool_to_lengthen(bench.brief.stock, end.wire.wire_size, end.wire.colour)
        else:
            colour = bench.brief.console.circuit(end.circuit).colour
            spool = bench.brief.stock.spool(sizes.get(end.circuit, ""), colour)
        if spool is None:
            return None
        found.append(ChosenExtension(end.name, spool.wire_size, spool.colour))
    return tuple(sorted(found))
