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
from lugwright.electrics.ampacity import table_ma
from lugwright.limits.schema import Limits
from lugwright.plans.choice import Choice, ChosenExtension, ChosenJumper
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Routes
from lugwright.scenario.console import Circuit, Console, Instrument, Post
from lugwright.stock.schema import Spool, Stock
from lugwright.trade.fuses import fuse_ahead, fuse_allowed_ma
from lugwright.trade.lengths import reach_needed_dmm

WIRES_ON_A_TAB = 2


@dataclass(frozen=True)
class _Bench:
    """What the rigger looks at."""

    console: Console
    limits: Limits
    stock: Stock
    routes: Routes

    def paths_dmm(self, ones: Iterable[str], others: Iterable[str]) -> dict[tuple[str, str], int]:
        """Paths between posts, 0.1 mm, by pair; those are left out that no way leads between."""
        pairs = [(one, other) for one, other in product(ones, others) if one != other]
        ways = zip(pairs, self.routes.ways(pairs), strict=True)
        return {pair: way.path_dmm for pair, way in ways if way}


def hand_choice(console: Console, limits: Limits, stock: Stock, routes: Routes) -> Choice | None:
    """The choice made by eye, or None where even that finds no hub, wire, way or fitting."""
    bench = _Bench(console, limits, stock, routes)
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
    ends = given_ends(console, landings, currents)
    wires = barrel_wires(console, stock, currents, ends, extensions)
    posts = {post.id: post for post in console.posts}
    joints = ends_by_joint(jumpers, extensions, ends)
    grouped = group_ends(posts, FittingStock(limits, stock), wires, joints)
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
        for other in bench.console.circuits
        if other.taken_from == circuit.name and other.posts
    ]
    kinds = ("stud",) if takers else ("stud", "tab")
    found = [
        post
        for post in bench.console.posts
        if post.instrument == instrument.name
        and post.id in circuit.posts
        and post.id != circuit.supplied_by
        and post.kind in kinds
    ]
    found.sort(key=lambda post: (post.kind != "stud", -post.free_thread_dmm, post.id))
    return found[0] if found else None


def _landings(bench: _Bench) -> dict[str, str] | None:
    """Landing post of every supply: on the hub that has most of them, the tallest studs first.

    What the hub has no post of lands on the next best instrument.
    """
    supplied = _supplied(bench.console)
    offers = []
    for instrument in sorted(bench.console.instruments, key=lambda item: item.name):
        if instrument.hub_candidate:
            posts = {one.name: _landing_post(bench, instrument, one) for one in supplied}
            landed = {name: post for name, post in posts.items() if post is not None}
            if landed:
                tallest = max(post.free_thread_dmm for post in landed.values())
                offers.append((-len(landed), -tallest, instrument.name, landed))
    landings: dict[str, str] = {}
    for _, _, _, landed in sorted(offers, key=lambda offer: offer[:3]):
        for name, post in landed.items():
            landings.setdefault(name, post.id)
    return landings if len(landings) == len(supplied) else None


def _wire_sizes(bench: _Bench, landings: Mapping[str, str]) -> dict[str, str]:
    """The smallest spool of each circuit that its fuse allows; a circuit without one is left out.

    The ground side has no fuse: its wire carries the circuit's whole current by the table.
    """
    currents = flow(bench.console, landings, ())
    sizes = {}
    for circuit in bench.console.circuits:
        least = max(circuit.minimum_area_um2, bench.limits.at("minimum_area_um2", circuit.name))
        needed = _needed_ma(bench, circuit, currents.demands_ma)
        spools = [
            spool
            for spool in bench.stock.spools_of_colour(circuit.colour)
            if spool.area_um2 >= least
        ]
        fused = _base(bench.console, circuit).name
        fit = [spool for spool in spools if _protected(bench, spool, needed, fused)]
        if fit:
            sizes[circuit.name] = fit[0].wire_size
        elif spools:
            sizes[circuit.name] = spools[-1].wire_size
    return sizes


def _needed_ma(bench: _Bench, circuit: Circuit, demands_ma: Mapping[str, int]) -> tuple[int, int]:
    """Fuse (0: none) and current a circuit's wire must stand, mA."""
    fuse = fuse_ahead(bench.console, circuit).ma
    fed = [circuit]
    if not circuit.taken_from:
        taken = [item for item in bench.console.circuits if item.taken_from]
        fed += [item for item in taken if _base(bench.console, item) is circuit]
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
        table = table_ma(spool.ampacity_size, spool.insulation_temp_c, bench.console.engine_space)
    except OutsideTable:
        return False
    return fuse_ma <= fuse_allowed_ma(table, bench.limits, fused) and current_ma <= table


def _wire_circuit(
    bench: _Bench, circuit: Circuit, landings: Mapping[str, str], sizes: Mapping[str, str]
) -> list[ChosenJumper] | None:
    """Jumpers of one circuit: again and again the nearest post that is not wired yet."""
    node_of = node_finder(bench.console)
    posts = {post: bench.console.post(post) for post in circuit.posts}
    wanted = {node_of(post) for post in posts if not posts[post].optional}
    start = landings.get(circuit.taken_from or circuit.name, "")
    wanted -= {node_of(start), node_of(circuit.supplied_by)}
    if not wanted and not _others(circuit):
        return []
    if not start or circuit.name not in sizes:
        return None
    room = {post.id: _room(post, bench.limits) for post in posts.values()}
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
        return min(WIRES_ON_A_TAB, limits.at("wires_per_barrel", post.id))
    if post.kind == "lead":
        return limits.wires_per_splice - 1
    return 1_000_000


def _nearest(
    paths_dmm: Mapping[tuple[str, str], int], wired: list[str], waiting: list[str]
) -> tuple[str, str] | None:
    """Wired and waiting post with the shortest way between them; ties by name."""
    ways = ((paths_dmm[pair], *pair) for pair in product(wired, waiting) if pair in paths_dmm)
    best = min(ways, default=None)
    return best and best[1:]


def _extensions(
    bench: _Bench, landings: Mapping[str, str], sizes: Mapping[str, str]
) -> tuple[ChosenExtension, ...] | None:
    """Extensions of what does not reach, where they are allowed; None where a spool is missing."""
    if not bench.limits.extensions:
        return ()
    found = []
    for end in given_ends(bench.console, landings, flow(bench.console, landings, ())):
        if end.entry is None:
            continue
        try:
            path = bench.routes.from_entry(end.entry, end.joint).path_dmm
        except NoPath:
            return None
        if reach_needed_dmm(path, bench.console, bench.limits) <= end.reach_dmm:
            continue
        if end.boat_block:
            spool = _spool_like(bench.stock, end.wire.wire_size, end.wire.colour)
        else:
            colour = bench.console.circuit(end.circuit).colour
            spool = bench.stock.spool(sizes.get(end.circuit, ""), colour)
        if spool is None:
            return None
        found.append(ChosenExtension(end.key.name, spool.wire_size, spool.colour))
    return tuple(sorted(found))


def _spool_like(stock: Stock, wire_size: str, colour: str) -> Spool | None:
    """A spool of a size in a colour, else in black, else in any colour by name."""
    rows = [spool for spool in stock.spools if spool.wire_size == wire_size]
    rows.sort(key=lambda item: (item.colour != colour, item.colour != "black", item.name))
    return rows[0] if rows else None
