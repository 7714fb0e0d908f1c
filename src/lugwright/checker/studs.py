"""Stacks: which lugs, in which order, how many, and whether thread and room suffice."""

from __future__ import annotations

from lugwright.base.scale import ceil_div, mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import STRAP, Facts
from lugwright.checker.fittings import crimp_current_ma
from lugwright.checker.network import Loads, strap_current_ma, wire_current_ma
from lugwright.plans.schema import Stack, StackedLug
from lugwright.scenario.console import Post


def check_studs(facts: Facts, loads: Loads, book: Book) -> None:
    """Every stud that should have lugs, and every stack in the plan."""
    for post in facts.console.posts:
        if post.kind != "stud":
            continue
        crimps = sorted(crimp.number for crimp in facts.crimps_at.get(post.id, []))
        ready = sorted(
            wire.name
            for wire in facts.panel_wires.values()
            if wire.post == post.id and facts.is_ready(wire.name)
        )
        ready += [STRAP + one.name for one in facts.console.straps if post.id in one.posts]
        stack = facts.stacks.get(post.id)
        lugs = stack.lugs if stack else ()
        listed = sorted(lug.crimp for lug in lugs if lug.crimp)
        listed_ready = sorted(lug.ready for lug in lugs if not lug.crimp)
        own = (crimps, sorted(ready))
        message = f"the plan stacks {listed} {listed_ready}, on the stud are {crimps} {ready}"
        book.expect((listed, listed_ready) == own, "stack", post.id, message)
        if stack:
            for lug in stack.lugs:
                _lug(facts, loads, book, post, lug)
            _hardware(facts, book, post, stack)
            _count(facts, book, post, stack)
            _room(facts, book, post, stack)
            check_order(facts, book, post, stack)


def _lug(facts: Facts, loads: Loads, book: Book, post: Post, lug: StackedLug) -> None:
    crimp = facts.crimps.get(lug.crimp)
    place = f"{post.id}, crimp {lug.crimp}" if lug.crimp else f"{post.id}, {lug.ready}"
    stated = (lug.stage, lug.tongue_dmm, lug.conductors)
    if lug.crimp and crimp and crimp.item in facts.fittings:
        wires: list[str] = [end.wire for half in crimp.barrels for end in half]
        stage = "aboard" if any(facts.stage_of(wire) == "aboard" for wire in wires) else "bench"
        own = (stage, facts.fittings[crimp.item].tongue_dmm, len(wires))
        current = crimp_current_ma(facts, loads, crimp)
    elif not lug.crimp and lug.ready in facts.panel_wires:
        given = facts.panel_wires[lug.ready]
        wires = [lug.ready]
        ring = given.ring
        own = (given.stage, ring.tongue_dmm, ring.wires) if ring else (given.stage, 0, 1)
        current = wire_current_ma(facts, loads, lug.ready)
    elif strap := facts.strap_of(lug.ready, post.id):
        own = ("bench", strap.thickness_dmm, 1)
        book.same(stated, own, "stack", place, "stage, tongue and conductors")
        book.same(lug.circuit, post.circuit, "stack", place, "its circuit")
        current = strap_current_ma(loads, strap.name, post.id)
        if current is not None:
            book.same(lug.current_ma, current, "current", place, "its current", "mA")
        return
    else:
        return
    book.same(stated, own, "stack", place, "stage, tongue and conductors")
    if current is not None:
        book.same(lug.current_ma, current, "current", place, "its current", "mA")
    circuit = facts.circuit_of(wires[0])
    if facts.source_of(wires[0]) in facts.boat_blocks:
        circuit = (
            lug.circuit
        )  # a block of boat wires's lug may go by its block or its post's circuit
    book.same(lug.circuit, circuit, "stack", place, "its circuit")


def _hardware(facts: Facts, book: Book, post: Post, stack: Stack) -> None:
    """Nut, washer and boot; thread used by tongues and hardware. Rule R23."""
    limits = facts.limits
    row = facts.hardware.get(post.thread)
    if not book.expect(row is not None, "names", post.id, f"no nut for {post.thread} in stock"):
        return
    if row is None:
        return
    book.same((stack.thread, stack.driver), (post.thread, row.driver), "stack", post.id,
              "thread and driver")  # fmt: skip
    book.same(stack.lock_washer, limits.lock_washer, "washer", post.id, "whether it has a washer")
    book.same(stack.boot, post.id in facts.live_posts, "boot", post.id, "whether it has a boot")
    permille = limits.at("showing_thread_permille", post.id)
    showing = ceil_div(permille * row.pitch_um, 100_000)
    washer = row.lock_washer_dmm if limits.lock_washer else 0
    tongues = sum(_tongue(facts, lug) for lug in stack.lugs)
    used = tongues + post.reserved * post.reserved_tongue_dmm + washer + row.nut_dmm + showing
    book.same(stack.used_dmm, used, "thread", post.id, "thread used", "x 0.1 mm")
    book.same(stack.free_dmm, post.free_thread_dmm, "thread", post.id, "free thread", "x 0.1 mm")
    book.same(stack.reserved, post.reserved, "stack", post.id, "lugs kept free")
    book.expect(
        used <= post.free_thread_dmm, "thread", post.id,
        "tongues, washer, nut and showing thread need more than the stud has",
        f"{mm_text(used)} mm", f"{mm_text(post.free_thread_dmm)} mm", "console",
    )  # fmt: skip


def _tongue(facts: Facts, lug: StackedLug) -> int:
    crimp = facts.crimps.get(lug.crimp)
    if crimp and crimp.item in facts.fittings:
        return facts.fittings[crimp.item].tongue_dmm
    given = facts.panel_wires.get(lug.ready)
    strap = next((s for s in facts.console.straps if lug.ready == STRAP + s.name), None)
    if strap:
        return strap.thickness_dmm
    return given.ring.tongue_dmm if given and given.ring else lug.tongue_dmm


def _count(facts: Facts, book: Book, post: Post, stack: Stack) -> None:
    """Number of lugs, or of conductors, with what is kept free. Rule R23."""
    limits = facts.limits
    if limits.stud_count == "lugs":
        number = len(stack.lugs) + post.reserved
    else:
        number = post.reserved
        for lug in stack.lugs:
            crimp = facts.crimps.get(lug.crimp)
            given = facts.panel_wires.get(lug.ready)
            ready = given.ring.wires if given and given.ring else 1
            number += sum(len(half) for half in crimp.barrels) if crimp else ready
    kept = f", {post.reserved} of them kept free" if post.reserved else ""
    most = limits.at("lugs_per_stud", post.id)
    book.expect(
        number <= most, "lug count", post.id,
        f"too many {limits.stud_count} on the stud", f"{number} {limits.stud_count}{kept}",
        f"{most} {limits.stud_count}", limits.origin_at("lugs_per_stud", post.id),
    )  # fmt: skip


def _room(facts: Facts, book: Book, post: Post, stack: Stack) -> None:
    """The widest barrel times the number of lugs is at most a full turn. Rule R23."""
    angles = [post.reserved_angle_deg] if post.reserved else []
    for lug in stack.lugs:
        crimp, given = facts.crimps.get(lug.crimp), facts.panel_wires.get(lug.ready)
        if crimp and crimp.item in facts.fittings:
            angles.append(facts.fittings[crimp.item].barrel_angle_deg)
        elif given and given.ring:
            angles.append(given.ring.angle_deg)
    needed = (len(stack.lugs) + post.reserved) * max(angles, default=0)
    message = "the barrels have no room round the stud"
    book.expect(needed <= 360, "room", post.id, message, f"{needed}°", "360°", "a full turn")


def check_order(facts: Facts, book: Book, post: Post, stack: Stack) -> None:
    """Order from base to nut, how many lugs go on at the bench, and what that means for the nut.

    Rule R24a.
    """
    bench = [lug for lug in stack.lugs if lug.stage == "bench"]
    for below, above in zip(stack.lugs, stack.lugs[1:], strict=False):
        message = f"{_name(above)} belongs below {_name(below)}"
        fine = _may_lie(facts, below, above)
        measured, limit = f"{below.current_ma} mA below {above.current_ma} mA", "order of the stack"
        book.expect(fine, "stack order", post.id, message, measured, limit, "highest at the base")
    book.same(stack.bench_lugs, len(bench), "nut", post.id, "lugs put on at the bench")
    nut = "loose" if len(bench) < len(stack.lugs) else "snug"
    book.same(stack.nut_at_bench, nut, "nut", post.id, "how the nut is left at the bench")


def _may_lie(facts: Facts, below: StackedLug, above: StackedLug) -> bool:
    """Whether one lug may lie right below another: current, then stage, circuit, number."""
    if below.current_ma != above.current_ma:
        return below.current_ma > above.current_ma
    if below.stage != above.stage:
        return below.stage == "bench"
    if below.circuit != above.circuit:
        return below.circuit < above.circuit
    first, second = _first_number(facts, below), _first_number(facts, above)
    return not first or not second or first < second


def _first_number(facts: Facts, lug: StackedLug) -> int:
    """The lowest number of the lug's wires, 0 where one of them has none (a given wire)."""
    crimp = facts.crimps.get(lug.crimp)
    ends = [end for half in crimp.barrels for end in half] if crimp else []
    jumpers = [facts.jumpers.get(end.wire) for end in ends]
    return min((wire.number if wire else 0 for wire in jumpers), default=0)


def _name(lug: StackedLug) -> str:
    if lug.ready.startswith(STRAP):
        return f"the lug of {lug.ready}"
    return f"crimp {lug.crimp}" if lug.crimp else f"the ring of {lug.ready}"
