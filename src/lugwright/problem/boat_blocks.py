"""Wires of loads and senders in the boat: how they may land, and where they need lengthening.

Most come aboard. A load at the end of a harness's pigtail has its wire on the bench.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from lugwright.base.identity import WireId
from lugwright.electrics.ampacity import table_ma
from lugwright.limits.schema import Limits
from lugwright.plans.outcome import Reason
from lugwright.problem.groups import Grouper, lead_type
from lugwright.problem.schema import BenchEnd, BoatGroup, EndType, ExtensionNeed, GroupOption
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Routes
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import BoatBlock, BoatWire, Post, Stage
from lugwright.trade.lengths import extension_length_dmm, reach_needed_dmm
from lugwright.trade.money import cut_piece_micro, labour_micro
from lugwright.trade.names import bare_end, strap_name
from lugwright.trade.straps import strap_lugs
from lugwright.trade.wire_sizes import spool_to_lengthen


def extension_needs(
    brief: Brief, routes: Routes, tables: Grouper
) -> tuple[tuple[ExtensionNeed, ...], tuple[Reason, ...]]:
    """Extensions of boat wires that do not reach, and reasons why one cannot be made. Rule R11."""
    needs, faults = [], []
    for boat_block in brief.console.boat_blocks:
        for wire in boat_block.wires:
            if wire.entry is None:
                continue
            found = _need(brief, routes, tables, boat_block, wire)
            if isinstance(found, Reason):
                faults.append(found)
            elif found:
                needs.append(found)
    return tuple(needs), tuple(faults)


def _need(
    brief: Brief, routes: Routes, tables: Grouper, boat_block: BoatBlock, wire: BoatWire
) -> ExtensionNeed | Reason | None:
    if wire.entry is None:
        return None
    console, limits = brief.console, brief.limits
    try:
        path_dmm = routes.from_entry(wire.entry, wire.lands_on).path_dmm
    except NoPath as blocked:
        return Reason("reach", wire.id, str(blocked))
    needed = reach_needed_dmm(path_dmm, console, limits)
    if needed <= wire.reach_dmm:
        return None
    measured, limit = f"{needed / 10:g} mm needed", f"{wire.reach_dmm / 10:g} mm"
    if not limits.extensions:
        origin = limits.origin("extensions")
        text = "does not reach its post, and extensions are not allowed"
        return Reason("reach", wire.id, text, measured, limit, origin)
    if wire.ring and wire.ring.wires > 1:
        text = f"does not reach, and its ring with {wire.ring.wires} wires is not cut off"
        return Reason("reach", wire.id, text, measured, limit)
    spool = spool_to_lengthen(brief.stock, wire.wire.wire_size, wire.wire.colour)
    if spool is None:
        text = f"does not reach, and no {wire.wire.wire_size} wire is in stock to lengthen it"
        return Reason("reach", wire.id, text, measured, limit)
    given = EndType(wire.id, wire.wire.area_um2, wire.wire.insulation_um)
    butt = tables.extension(given, spool.name, boat_block.current_ma)
    if butt is None:
        text = "does not reach, and no butt in stock joins its extension"
        return Reason("barrel", wire.id, text, measured, limit)
    length = extension_length_dmm(needed - wire.reach_dmm, limits)
    money = cut_piece_micro(length, spool.price_micro_per_m, limits) + butt.money_micro
    return ExtensionNeed(
        wire=wire.id,
        size=spool.wire_size,
        colour=spool.colour,
        end_type=spool.name,
        table_ma=table_ma(spool.ampacity_size, spool.insulation_temp_c, console.engine_space),
        length_dmm=length,
        butt=butt,
        money_micro=money,
    )


def boat_groups(
    brief: Brief, tables: Grouper, needs: Sequence[ExtensionNeed], shared: Iterable[WireId]
) -> tuple[tuple[BoatGroup, ...], tuple[Reason, ...]]:
    """How each block's wires may be put on each post it lands on. Rule R30.

    ``shared`` are those that lie among the bench wires there.
    """
    posts = {post.id: post for post in brief.console.posts}
    extended: dict[WireId, ExtensionNeed] = {need.wire: need for need in needs}
    groups, faults, among = [], [], frozenset(shared)
    for boat_block in brief.console.boat_blocks:
        for post_id in sorted({wire.lands_on for wire in boat_block.wires}):
            here = [wire for wire in boat_block.wires if wire.lands_on == post_id]
            wires = [wire for wire in here if wire.id not in among]
            if not wires:
                continue
            found = _group(brief.limits, tables, boat_block, posts[post_id], wires, extended)
            if isinstance(found, Reason):
                faults.append(found)
            else:
                groups.append(found)
    return tuple(groups), tuple(faults)


def strap_groups(brief: Brief) -> tuple[BoatGroup, ...]:
    """The lug of each strap on each of its studs: always there, and no fitting. Rules R23, R27."""
    minutes = brief.limits.minutes_landing_cmin.get("ring", {}).get("bench", 0)
    return tuple(
        BoatGroup(
            boat_block=strap_name(lug.strap),
            post=lug.post,
            options=(),
            ready_lugs=1,
            ready_tongue_dmm=lug.thickness_dmm,
            ready_angle_deg=0,
            ends=0,
            money_micro=labour_micro(minutes, brief.limits.rate_micro_per_hour),
            wires=(),
            ready_wires=1,
        )
        for lug in strap_lugs(brief.console)
    )


def _group(
    limits: Limits,
    tables: Grouper,
    boat_block: BoatBlock,
    post: Post,
    wires: list[BoatWire],
    extended: Mapping[WireId, ExtensionNeed],
) -> BoatGroup | Reason:
    ready = [w for w in wires if w.ring and w.id not in extended]
    bare = [w for w in wires if w not in ready]
    place = f"{post.id} ({boat_block.name})"
    for wire in ready:
        if post.kind != "stud" or (wire.ring and wire.ring.thread != post.thread):
            return Reason("thread", place, f"the ring on {wire.id} does not fit this post")
    for wire in bare:
        _learn_end(tables, wire, extended)
    stage = wires[0].stage
    options = _options(tables, post, bare, stage)
    options = tuple(option for option in options if _carries(option, post, boat_block.current_ma))
    if bare and not options:
        return Reason("barrel", place, "no fitting in stock takes what comes aboard here")
    minutes = limits.minutes_landing_cmin.get("ring", {}).get(stage, 0)
    landing = labour_micro(minutes, limits.rate_micro_per_hour)
    return BoatGroup(
        boat_block=boat_block.name,
        post=post.id,
        options=options,
        ready_lugs=len(ready),
        ready_tongue_dmm=sum(w.ring.tongue_dmm for w in ready if w.ring),
        ready_angle_deg=max((w.ring.angle_deg for w in ready if w.ring), default=0),
        ends=len(bare),
        money_micro=len(ready) * landing,
        wires=tuple(wire.id for wire in bare),
        ready_wires=sum(w.ring.wires for w in ready if w.ring),
    )


def _learn_end(
    tables: Grouper, wire: BoatWire, extended: Mapping[WireId, ExtensionNeed]
) -> str:
    """The end type of a bare boat wire, or of its extension, made known to the tables."""
    type_from = tables.types[extended[wire.id].end_type] if wire.id in extended else None
    area = type_from.area_um2 if type_from else wire.wire.area_um2
    insulation = type_from.insulation_um if type_from else wire.wire.insulation_um
    name = bare_end(wire.id)
    tables.types[name] = EndType(name, area, insulation)
    return name


def bench_ends(
    brief: Brief, tables: Grouper, needs: Sequence[ExtensionNeed]
) -> tuple[BenchEnd, ...]:
    """Bare ends of loads' pigtails that lie among the bench wires of their circuit. Rule R22.

    Where the limit ``pigtail_barrel`` gives a pigtail its own barrel, only those at leads do.
    """
    extended: dict[WireId, ExtensionNeed] = {need.wire: need for need in needs}
    owner = {post: c.name for c in brief.console.circuits for post in c.posts}
    if brief.limits.pigtail_barrel == "own":
        kind = {post.id: post.kind for post in brief.console.posts}
        owner = {post: name for post, name in owner.items() if kind[post] == "lead"}
    found = []
    for block in brief.console.boat_blocks:
        for wire in block.wires:
            bare = wire.ring is None or wire.id in extended
            if wire.stage == "bench" and bare and wire.lands_on in owner:
                name = _learn_end(tables, wire, extended)
                circuit, feed = owner[wire.lands_on], owner.get(block.drawn_from, "")
                end = BenchEnd(wire.id, circuit, wire.lands_on, name, feed, block.current_ma)
                found.append(end)
    return tuple(found)


def _options(
    tables: Grouper, post: Post, bare: list[BoatWire], stage: Stage
) -> tuple[GroupOption, ...]:
    counts = tuple(sorted((bare_end(wire.id), 1) for wire in bare))
    if not counts:
        return ()
    if post.kind == "stud":
        return tables.stud(post.thread, counts, stage, post.id)
    if post.kind == "tab":
        return tables.tab(post.tab_size, counts, stage, post.id)
    if post.lead is None:
        return ()
    lead = lead_type(post.id, post.lead.area_um2, post.lead.insulation_um)
    return tables.lead(lead, counts)


def _carries(option: GroupOption, post: Post, current_ma: int) -> bool:
    """Whether every fitting of the option stands its current, each wire carrying the block's.

    All of them lead away from the post, so their sum goes through the tongue.
    """
    for pick in option.picks:
        wires = 1 if post.kind == "lead" else sum(len(half) for half in pick.barrels)
        if wires * current_ma > pick.carries_ma:
            return False
    return True
