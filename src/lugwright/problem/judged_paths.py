"""What is judged electrically once the jumpers stand: drops, ground shifts, loom legs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from lugwright.limits.schema import Limits
from lugwright.problem.schema import (
    CircuitQuestion,
    DropPath,
    ExtensionNeed,
    LoomLeg,
    Problem,
    ShiftPath,
)
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import BoatBlock, Console
from lugwright.trade.demand import Demand
from lugwright.trade.drops import drop_limit_nv, length_uohm
from lugwright.trade.given_wires import given_ma
from lugwright.trade.names import extension_name


def crimp_nv(problem: Problem, circuit: CircuitQuestion, post: str, demand: Demand) -> int:
    """What a lead's crimp adds between its joint and its instrument, nV; 0 for other posts.

    At a root the current flows the other way and is all of the circuit's but what is drawn inside:
    there it is less than nought, the joint lies beyond the crimp. Rule R14.
    """
    if problem.post_kind[post] != "lead":
        return 0
    inside_ma = demand.posts[post]
    if post == circuit.root:
        inside_ma -= demand.totals[circuit.name]
    return problem.limits.crimp_uohm * inside_ma


def way_nv(problem: Problem, circuit: CircuitQuestion, demand: Demand) -> int:
    """What a way adds from the joint at its near post to that at its far post, nV.

    The near post's crimp where that is a lead, the contact, and the far post's crimp. Rule R14.
    """
    before = crimp_nv(problem, problem.circuit(circuit.near[0]), circuit.near[1], demand)
    own = circuit.contact_uohm * demand.totals[circuit.name]
    return before + own - crimp_nv(problem, circuit, circuit.root, demand)


def back_nv(problem: Problem, circuit: CircuitQuestion, demand: Demand) -> int:
    """What the crimp of a lead adds where a sender's current comes back, nV; 0 at other posts.

    Rule R34.
    """
    name, post = circuit.near
    return crimp_nv(problem, problem.circuit(name), post, demand) if name else 0


def drop_paths(brief: Brief, added_uohm: Mapping[str, int]) -> tuple[DropPath, ...]:
    """Every load whose drop is judged: those inside instruments, and those aboard.

    ``added_uohm`` is what an extension, with its two crimps, adds to a boat wire, µΩ by wire.
    Rule R14.
    """
    console, limits = brief.console, brief.limits
    circuit_of = {post: c.name for c in console.circuits for post in c.posts}
    found = [
        DropPath(
            load=load.name,
            feed_circuit=circuit_of.get(load.feed_post, ""),
            feed_post=load.feed_post,
            ground_circuit=circuit_of.get(load.ground_post, ""),
            ground_post=load.ground_post,
            extra_nv=0,
            limit_nv=drop_limit_nv(console, limits, load.drop_class, load.name),
            limit_name=f"drop_{load.drop_class}_permille",
        )
        for load in console.loads
        if not load.senses
    ]
    for boat_block in console.boat_blocks:
        if boat_block.is_sender or not boat_block.current_ma or not boat_block.drawn_from:
            continue
        found.append(
            DropPath(
                load=boat_block.name,
                feed_circuit=circuit_of.get(boat_block.drawn_from, ""),
                feed_post=boat_block.drawn_from,
                ground_circuit=circuit_of.get(boat_block.returns_to, ""),
                ground_post=boat_block.returns_to,
                extra_nv=_own_run_nv(boat_block, limits, added_uohm),
                limit_nv=drop_limit_nv(console, limits, boat_block.drop_class, boat_block.name),
                limit_name=f"drop_{boat_block.drop_class}_permille",
            )
        )
    return tuple(found)


def _own_run_nv(boat_block: BoatBlock, limits: Limits, added_uohm: Mapping[str, int]) -> int:
    """Drop along the block's own wires, where stated, and along their extensions."""
    total = 0
    for wire in boat_block.wires:
        total += added_uohm.get(wire.id, 0) * boat_block.current_ma
        if wire.one_way_dmm:
            own = length_uohm(wire.wire.area_um2, wire.one_way_dmm, limits)
            total += own * boat_block.current_ma
    return total


def shift_paths(brief: Brief) -> tuple[ShiftPath, ...]:
    """Ground shifts to be judged, when that limit is set. Rule R14."""
    console, limits = brief.console, brief.limits
    if limits.ground_shift_mv is None:
        return ()
    posts = {post.id: post for post in console.posts}
    found = []
    for boat_block in console.boat_blocks:
        if not (boat_block.is_sender and boat_block.current_ma and boat_block.drawn_from):
            continue
        dial = posts[boat_block.drawn_from].instrument
        grounds = sorted(
            load.ground_post for load in console.loads if posts[load.feed_post].instrument == dial
        )
        if grounds:
            limit_nv = limits.at("ground_shift_mv", boat_block.name) * 1_000_000
            feed = posts[boat_block.drawn_from].circuit
            shift = ShiftPath(
                boat_block.name, grounds[0], boat_block.returns_to, limit_nv, feed
            )
            found.append(shift)
    return tuple(found)


def loom_legs(
    console: Console, routes: Routes, needs: Sequence[ExtensionNeed]
) -> tuple[LoomLeg, ...]:
    """Legs between linked tie points, with the boat wires that always run on them."""
    names = set()
    for tie in console.tie_points:
        for other in tie.to:
            names.add((min(tie.name, other), max(tie.name, other)))
    on_leg: dict[tuple[str, str], list[tuple[str, int, int]]] = {name: [] for name in names}
    number: Counter[tuple[str, str]] = Counter()
    lengthened = {need.wire: need for need in needs}
    for boat_block in console.boat_blocks:
        for wire in boat_block.wires:
            if wire.entry is None:
                continue
            table = given_ma(console, wire.wire)
            try:
                path = routes.from_entry(wire.entry, wire.lands_on)
            except NoPath:
                continue
            for leg in path.loom_legs:
                number[leg] += 1
                on_leg[leg].append((wire.id, table, boat_block.current_ma))
                need = lengthened.get(wire.id)
                if need:
                    name = extension_name(wire.id)
                    on_leg[leg].append((name, need.table_ma, boat_block.current_ma))
    return tuple(LoomLeg(name, number[name], tuple(sorted(on_leg[name]))) for name in sorted(names))
