"""What a plan wants more of than was allowed: places and numbers for the words of an answer.

Looks at a plan that exists once something is loosened, and measures it by what was in force
before.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from lugwright.assemble.build import assemble_plan
from lugwright.base.scale import ceil_div, mm_text
from lugwright.base.units import decimal_text, share_text
from lugwright.plans.schema import Crimp, Plan, Stack
from lugwright.problem.landing_posts import posts_besides
from lugwright.routes.errors import NoPath
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Circuit, Console, Point
from lugwright.stock.schema import STUD_KINDS
from lugwright.studies.fact_steps import HELD, ONE_MORE_HUB, RESERVED, THREAD
from lugwright.studies.question import Probe
from lugwright.studies.schema import Finding
from lugwright.studies.stock_steps import BARRELS, ROOM, SIZES
from lugwright.studies.wire_steps import REACH
from lugwright.trade.barrels import area_fits, wires_counted
from lugwright.trade.drops import drop_limit_nv
from lugwright.trade.fittings import most_in_barrel
from lugwright.trade.hubs import NO_HUB
from lugwright.trade.lengths import reach_needed_dmm
from lugwright.trade.names import is_pigtail, pigtail_wire
from lugwright.trade.studs import FULL_TURN_DEG, counts_conductors, turn_wanted_deg
from lugwright.trade.threads import used_thread_dmm

UM2_PER_MM2 = 1_000_000


def findings(name: str, before: Probe, after: Probe) -> tuple[Finding, ...]:
    """What the plan of ``after`` wants beyond what ``before`` allows of the limit or fact.

    What the plan itself shows; where that is nothing, what was wrong whatever is chosen and no
    longer is. Empty where there is nothing to measure.
    """
    look = _LOOKS.get(name)
    if name.startswith(f"{HELD} hub "):
        look = _held_hub
    elif name.startswith(f"{HELD} no jumper "):
        look = _held_off
    if look is not None and after.outcome.choice is not None:
        seen = tuple(look(before.brief, after, plan_of(after)))
        if seen:
            return seen
    gone = [reason for reason in before.problem.faults if reason not in after.problem.faults]
    return tuple(
        Finding(
            reason.place,
            f"{reason.text}: {reason.measured}" if reason.measured else reason.text,
            f"{reason.limit} allowed" if reason.limit else "",
        )
        for reason in gone
    )


def plan_of(probe: Probe) -> Plan:
    """The whole plan of a probe that found one. Raises ValueError for one that did not."""
    brief = probe.brief
    return assemble_plan(
        brief, probe.routes, probe.outcome, "a probe"
    )


Look = Callable[[Brief, Probe, Plan], Iterator[Finding]]


# -- studs -------------------------------------------------------------------------------------


def _reserved(before: Brief, stack: Stack) -> int:
    return before.console.post(stack.post).reserved


def _lugs(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    limits = before.limits
    for stack in plan.stacks:
        conductors = counts_conductors(limits)
        number = sum(lug.conductors if conductors else 1 for lug in stack.lugs)
        number += _reserved(before, stack)
        most = limits.at("lugs_per_stud", stack.post)
        if number > most:
            what = "conductors" if conductors else "lugs"
            yield Finding(stack.post, f"{number} {what} wanted", f"{most} allowed")


def _thread(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    for stack in plan.stacks:
        post = before.console.post(stack.post)
        row = before.stock.hardware_for(post.thread)
        tongues = (lug.tongue_dmm for lug in stack.lugs)
        used = used_thread_dmm(post, tongues, row, before.limits)
        if used > post.free_thread_dmm:
            lugs = f"{len(stack.lugs)} lug{'s' if len(stack.lugs) > 1 else ''}"
            yield Finding(
                stack.post,
                f"{mm_text(used)} mm of thread wanted for {lugs}, washer and nut",
                f"{mm_text(post.free_thread_dmm)} mm free",
            )


def _room(before: Brief, after: Probe, plan: Plan) -> Iterator[Finding]:
    angles = {row.name: row.barrel_angle_deg for row in before.stock.fittings}
    items = {crimp.number: crimp.item for crimp in plan.crimps}
    ready = _ready_angles(before)
    for stack in plan.stacks:
        post = before.console.post(stack.post)
        wide = [angles[items[lug.crimp]] for lug in stack.lugs if lug.crimp]
        wide += [ready.get(lug.ready, 0) for lug in stack.lugs if not lug.crimp]
        wide += [post.reserved_angle_deg] * post.reserved
        turn = turn_wanted_deg(len(wide), max(wide, default=0))
        if turn > FULL_TURN_DEG:
            yield Finding(
                stack.post,
                f"{len(wide)} barrels of up to {max(wide)} degrees want {turn} degrees",
                f"{FULL_TURN_DEG} degrees there are",
            )


def _ready_angles(before: Brief) -> dict[str, int]:
    found: dict[str, int] = {}
    for circuit in before.console.circuits:
        if circuit.pigtail and circuit.pigtail.ring:
            found[pigtail_wire(circuit.name)] = circuit.pigtail.ring.angle_deg
    for boat_block in before.console.boat_blocks:
        for wire in boat_block.wires:
            if wire.ring:
                found[wire.id] = wire.ring.angle_deg
    return found


# -- barrels -----------------------------------------------------------------------------------


def _on_posts(plan: Plan) -> Iterator[Crimp]:
    return (crimp for crimp in plan.crimps if crimp.kind in (*STUD_KINDS, "push-on"))


def _wires(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    for crimp in _on_posts(plan):
        number = wires_counted(crimp.barrels[0], crimp.folded)
        most = most_in_barrel("post", before.limits, crimp.joint)
        if number > most:
            yield Finding(crimp.joint, f"{number} wires in one barrel wanted", f"{most} allowed")


def _with_pigtail(_before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    for crimp in _on_posts(plan):
        pigtails = [end for end in crimp.barrels[0] if is_pigtail(end.wire)]
        if pigtails and len(crimp.barrels[0]) > 1:
            wanted = f"{pigtails[0].wire} in one barrel with other wires wanted"
            yield Finding(crimp.joint, wanted, "a barrel of its own asked for")


def _in_splice(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    most = before.limits.wires_per_splice
    for crimp in plan.crimps:
        ends = sum(len(barrel) for barrel in crimp.barrels)
        if crimp.kind in ("butt", "closed end") and ends > most:
            yield Finding(crimp.joint, f"{ends} wires in one splice wanted", f"{most} allowed")


def _folded(_before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    for crimp in plan.crimps:
        if crimp.folded:
            yield Finding(crimp.joint, "a lone wire must be folded back to fill its barrel", "no")


def _stud_kinds(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    kinds = before.limits.stud_kinds
    for crimp in plan.crimps:
        if crimp.kind in STUD_KINDS and crimp.kind not in kinds:
            yield Finding(crimp.joint, f"a {crimp.kind} wanted", f"{', '.join(kinds)} allowed")


def _lead_kinds(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    kinds = before.limits.lead_kinds
    leads = {post.id for post in before.console.posts if post.lead}
    for crimp in plan.crimps:
        if crimp.joint in leads and crimp.kind not in kinds:
            yield Finding(crimp.joint, f"a {crimp.kind} wanted", f"{', '.join(kinds)} allowed")


def _barrels(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    rows = {row.name: row for row in before.stock.fittings}
    for crimp in plan.crimps:
        row = rows[crimp.item]
        barrels = row.barrels if len(row.barrels) == len(crimp.area_um2) else row.barrels * 2
        for area, barrel in zip(crimp.area_um2, barrels, strict=False):
            if not area_fits(barrel, area):
                yield Finding(
                    crimp.joint,
                    f"{_mm2(area)} of strands wanted in a {crimp.item}",
                    f"it takes {_mm2(barrel.area_min_um2)} to {_mm2(barrel.area_max_um2)}",
                    crimp.item,
                )


def _mm2(area_um2: int) -> str:
    return f"{area_um2 / UM2_PER_MM2:.2f} mm2"


# -- hub, splices, reach -----------------------------------------------------------------------


def _splices(_before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    number = len(plan.splices)
    if number:
        text = f"{number} splice{'s' if number > 1 else ''} wanted"
        yield Finding(
            "circuits " + ", ".join(sorted({s.circuit for s in plan.splices})), text, "none"
        )


def _hubs(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    yield Finding("hub", lacking_posts(before), "one hub for all circuits")


def lacking_posts(brief: Brief) -> str:
    """Which instrument lacks a post to land on for which circuit, hub candidates only."""
    circuits = [c for c in brief.console.circuits if c.posts and _lands(brief.console, c)]
    parts = []
    for one in brief.console.instruments:
        lacks = [c.name for c in circuits if not _landing_posts(brief, c.name, one.name)]
        if lacks and len(lacks) < len(circuits) and one.hub_candidate:
            parts.append(f"{one.name} has none of {', '.join(lacks)}")
    whole = "; ".join(parts)
    names = ", ".join(circuit.name for circuit in circuits)
    return f"no instrument can land all of {names}" + (f" ({whole})" if whole else "")


def _lands(console: Console, circuit: Circuit) -> bool:
    """Whether a hub may offer a circuit's landing: a pigtail's, or what a way leads on to."""
    by_way = bool(circuit.supplied_by) and bool(posts_besides(console, circuit))
    return (bool(circuit.pigtail) or by_way) and circuit.side not in NO_HUB


def _landing_posts(brief: Brief, circuit: str, instrument: str) -> list[str]:
    return [
        post.id
        for post in brief.console.posts
        if post.circuit == circuit and post.instrument == instrument and post.kind != "lead"
    ]


def _held_hub(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    held = before.holds.hub
    lacks = [
        c.name
        for c in before.console.circuits
        if c.pigtail and c.posts and not _landing_posts(before, c.name, held)
    ]
    if lacks and not before.console.ways:  # beside ways a circuit may land elsewhere
        text = f"no stud or tab for {' and '.join(lacks)} on it"
    else:
        text = f"no plan has it as hub; one has {plan.hub}"
    yield Finding(f"{held} may not be the hub", text, "")


def _held_off(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    """Jumpers that are held off and that the plan, let go, has."""
    for a, b in before.holds.named("no-jumper"):
        if any({a, b} == {one.from_joint, one.to_joint} for one in plan.jumpers):
            yield Finding(f"{a} > {b}", "this jumper is wanted", "held off")


def _candidates(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    hubs = {before.console.post(landing.post).instrument for landing in plan.landings}
    for one in before.console.instruments:
        if not one.hub_candidate and one.name in hubs:
            yield Finding(one.name, "wanted as hub", "it may not be one")


def _reach(before: Brief, after: Probe, plan: Plan) -> Iterator[Finding]:
    given: list[tuple[str, Point, str, int]] = [
        (pigtail_wire(landing.circuit), c.pigtail.entry, landing.post, c.pigtail.reach_dmm)
        for landing in plan.landings
        for c in before.console.circuits
        if c.name == landing.circuit and c.pigtail and c.pigtail.entry
    ]
    given += [
        (wire.id, wire.entry, wire.lands_on, wire.reach_dmm)
        for boat_block in before.console.boat_blocks
        for wire in boat_block.wires
        if wire.entry is not None
    ]
    for wire_id, entry, post, reach_dmm in given:
        try:
            path_dmm = after.routes.from_entry(entry, post).path_dmm
        except NoPath:
            continue
        need = reach_needed_dmm(path_dmm, before.console, before.limits)
        if need > reach_dmm:
            yield Finding(
                wire_id, f"{mm_text(need)} mm wanted to {post}", f"{mm_text(reach_dmm)} mm of reach"
            )


# -- electricity -------------------------------------------------------------------------------


def _drop(drop_class: str) -> Look:
    def look(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
        loads = {load.name: load.drop_class for load in before.console.loads}
        loads |= {
            boat_block.name: boat_block.drop_class for boat_block in before.console.boat_blocks
        }
        for drop in plan.drops:
            share = before.limits.at(f"drop_{drop_class}_permille", drop.load)
            limit_nv = drop_limit_nv(before.console, before.limits, drop_class, drop.load)
            if loads.get(drop.load) == drop_class and drop.drop_nv > limit_nv:
                yield Finding(
                    drop.load,
                    f"{_mv(drop.drop_nv)} dropped",
                    f"{_mv(limit_nv)} ({share_text(share)}) allowed",
                )

    return look


def _mv(drop_nv: int) -> str:
    return f"{decimal_text(Fraction(ceil_div(drop_nv, 100_000), 10))} mV"


def _sizes(before: Brief, _after: Probe, plan: Plan) -> Iterator[Finding]:
    for wire in sorted({(jumper.colour, jumper.wire_size) for jumper in plan.jumpers}):
        colour, size = wire
        if before.stock.spool(size, colour) is None:
            yield Finding(f"{colour} wire", f"{size} wanted", "not in stock", colour)


_LOOKS: dict[str, Look] = {
    "lugs_per_stud": _lugs,
    "stud_count": _lugs,
    THREAD: _thread,
    "lock_washer": _thread,
    "showing_thread": _thread,
    RESERVED: _lugs,
    ROOM: _room,
    "wires_per_barrel": _wires,
    "pigtail_barrel": _with_pigtail,
    "wires_per_splice": _in_splice,
    "fold_back": _folded,
    "stud_kinds": _stud_kinds,
    "lead_kinds": _lead_kinds,
    BARRELS: _barrels,
    "splices": _splices,
    "one_hub": _hubs,
    ONE_MORE_HUB: _candidates,
    "extensions": _reach,
    REACH: _reach,
    "drop_critical": _drop("critical"),
    "drop_other": _drop("other"),
    SIZES: _sizes,
}
