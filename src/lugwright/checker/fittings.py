"""Kinds of fittings, whether they fit their post, strip lengths, and current limits."""

from __future__ import annotations

from fractions import Fraction

from lugwright.base.scale import amps_text, mm_text
from lugwright.checker.barrels import Where, halves_as_used, where_is
from lugwright.checker.book import Book
from lugwright.checker.facts import LEAD, Facts
from lugwright.checker.network import (
    Loads,
    Setting,
    setting_current_ma,
    strap_current_ma,
    wire_current_ma,
)
from lugwright.plans.schema import Crimp, EndRef
from lugwright.scenario.console import Post
from lugwright.stock.schema import FittingType


def check_fittings(facts: Facts, book: Book) -> None:
    """Every crimp's kind and fit; every ready-made ring; one push-on or joint at a tab or lead.

    Rules R24, R31.
    """
    for crimp in facts.plan.crimps:
        fitting = facts.fittings.get(crimp.item)
        if fitting:
            where = where_is(facts, crimp)
            _kind(facts, book, crimp, fitting, where)
            _fit(facts, book, crimp, fitting, where)
    for wire in facts.panel_wires.values():
        post = facts.posts.get(wire.post)
        if wire.ring and post and facts.is_ready(wire.name):
            message = f"its ready-made ring for {wire.ring.thread} does not go on {post.id}"
            fits = post.kind == "stud" and post.thread == wire.ring.thread
            measured, limit = wire.ring.thread, post.thread or post.kind
            book.expect(fits, "fitting fit", wire.name, message, measured, limit, "console")
    for post in facts.console.posts:
        made = [str(crimp.number) for crimp in facts.crimps_at.get(post.id, [])]
        if post.kind != "stud" and made:
            message = f"it has crimps {', '.join(made)}, not exactly one"
            book.expect(len(made) == 1, "one push-on", post.id, message)


def _kind(facts: Facts, book: Book, crimp: Crimp, fitting: FittingType, where: Where) -> None:
    limits, place = facts.limits, f"crimp {crimp.number} at {crimp.joint}"
    stated = (crimp.kind, crimp.colour, crimp.die, crimp.lined)
    own = (fitting.kind, fitting.colour, fitting.die, fitting.lined)
    book.same(stated, own, "fitting kind", place, "kind, colour, die and lining")
    allowed: tuple[str, ...]
    if where == "stud":
        allowed, origin = limits.stud_kinds, limits.origin("stud_kinds")
    elif where == "lead":
        allowed, origin = limits.lead_kinds, limits.origin("lead_kinds")
    elif where == "splice":
        allowed, origin = limits.splice_kinds, limits.origin("splice_kinds")
    elif where == "tab":
        allowed, origin = ("push-on",), "the counting rules"
    elif where == "join":
        allowed, origin = ("butt",), "the counting rules"
    else:
        return
    message = f"a {fitting.kind} is not allowed here"
    fine = fitting.kind in allowed
    book.expect(fine, "fitting kind", place, message, fitting.kind, " or ".join(allowed), origin)


def _fit(facts: Facts, book: Book, crimp: Crimp, fitting: FittingType, where: Where) -> None:
    """The thread suits the stud, the tab size the tab. Rule R21."""
    post, place = facts.posts.get(crimp.joint), f"crimp {crimp.number} at {crimp.joint}"
    if post is None:
        return
    if where == "stud":
        fine = post.thread in fitting.stud_threads
        message = f"{fitting.name} does not fit the stud"
        measured = ", ".join(fitting.stud_threads) or "no thread"
        book.expect(fine, "fitting fit", place, message, measured, post.thread, "console")
    elif where == "tab":
        fine, message = post.tab_size == fitting.tab_size, f"{fitting.name} does not fit the tab"
        book.expect(fine, "fitting fit", place, message, fitting.tab_size, post.tab_size, "console")


def check_strips(facts: Facts, book: Book) -> None:
    """Stripped length of every wire end: its barrel and the clearance."""
    clearance = facts.limits.strip_clearance_dmm
    for crimp in facts.plan.crimps:
        fitting = facts.fittings.get(crimp.item)
        if fitting is None or len(fitting.barrels) != len(crimp.barrels):
            continue
        for barrel, half in zip(halves_as_used(crimp, fitting), crimp.barrels, strict=True):
            own = barrel.length_dmm + clearance
            for end in half:
                stated = _stated_strip(facts, end.wire, end.end)
                if stated is not None:
                    # a wire folded back is bared over both its layers
                    folded = crimp.folded and len(half) == 1
                    fine = stated == own or (folded and stated == own + barrel.length_dmm)
                    book.expect(
                        fine, "strip length", f"{end.wire}-{end.end}",
                        f"it is stripped wrong for {crimp.item}", f"{mm_text(stated)} mm",
                        f"{mm_text(own)} mm", facts.limits.origin("strip_clearance_dmm"),
                    )  # fmt: skip


def _stated_strip(facts: Facts, wire: str, end: str) -> int | None:
    jumper = facts.jumpers.get(wire)
    if jumper:
        return jumper.strip_a_dmm if end == "a" else jumper.strip_b_dmm
    given = facts.given.get(wire)
    return given.strip_dmm if given else None


def crimp_current_ma(facts: Facts, loads: Loads, crimp: Crimp) -> Fraction | None:
    """The most a fitting carries, mA.

    On a post the largest wire end or what goes through the tongue, in mid-air what flows in: by
    Kirchhoff's law what flows into a joint flows out of it, so that is half the sum. Rule R20.
    """
    return loads.worst(lambda setting: _crimp_ma(facts, setting, crimp))


def _crimp_ma(facts: Facts, loads: Setting, crimp: Crimp) -> Fraction | None:
    ends = [end for half in crimp.barrels for end in half]
    flows = [end_flow_ma(facts, loads, end, crimp.joint) for end in ends]
    known = [flow for flow in flows if flow is not None]
    if len(known) < len(flows):
        return None
    if where_is(facts, crimp) in ("stud", "tab"):
        return max([abs(sum(known, Fraction(0))), *(abs(flow) for flow in known)])
    return sum((abs(flow) for flow in known), Fraction(0)) / 2


def end_flow_ma(facts: Facts, loads: Setting, end: EndRef, joint: str) -> Fraction | None:
    """What a wire end brings to a joint, mA; less than nought where it leads away.

    "Brings" as seen from the supply, on the ground side as on the feed side. A wire that comes
    aboard always leads away from the panel.
    """
    current = setting_current_ma(facts, loads, end.wire)
    if current is None:
        return None
    given = facts.panel_wires.get(facts.lengthened_by(end.wire) or end.wire)
    if given is not None:
        return current if given.sort == "pigtail" else -current
    wire, solved = facts.jumpers.get(end.wire), loads.currents_ma.get(end.wire)
    if wire is None or solved is None:
        return None
    return solved if joint == wire.to_joint else -solved


def tongue_flow_ma(facts: Facts, loads: Setting, crimp: Crimp) -> Fraction | None:
    """What a lug or push-on brings to its post through its tongue, mA; what passes inside its
    barrel is not in it."""
    flows = [end_flow_ma(facts, loads, end, crimp.joint) for half in crimp.barrels for end in half]
    known = [flow for flow in flows if flow is not None]
    return sum(known, Fraction(0)) if len(known) == len(flows) else None


def post_current_ma(facts: Facts, loads: Loads, post: Post) -> Fraction | None:
    """The most a stud or tab carries, mA: half the sum, signs left out, of what goes through each
    tongue on it and into its instrument. By Kirchhoff's law the tongues together bring what goes
    into the instrument. Rule R20."""
    return loads.worst(lambda setting: _post_ma(facts, setting, post))


def _post_ma(facts: Facts, loads: Setting, post: Post) -> Fraction | None:
    tongues = [tongue_flow_ma(facts, loads, crimp) for crimp in facts.crimps_at.get(post.id, [])]
    for name, given in facts.panel_wires.items():
        if given.post == post.id and facts.is_ready(name):
            current = setting_current_ma(facts, loads, name)
            tongues.append(-current if current and given.sort == "boat_block" else current)
    tongues += [flow for (_, on), flow in loads.in_straps_ma.items() if on == post.id]
    known = [flow for flow in tongues if flow is not None]
    if len(known) < len(tongues):
        return None
    into = sum(known, Fraction(0))
    return (sum((abs(flow) for flow in known), Fraction(0)) + abs(into)) / 2


def check_current_limits(facts: Facts, loads: Loads, book: Book) -> None:
    """Stated current of every crimp, and the limits of fittings, tabs, leads and studs."""
    for crimp in facts.plan.crimps:
        place = f"crimp {crimp.number} at {crimp.joint}"
        own = crimp_current_ma(facts, loads, crimp)
        if own is None:
            continue
        book.same(crimp.current_ma, own, "current", place, "its current", "mA")
        fitting = facts.fittings.get(crimp.item)
        if fitting:
            origin = f"stock table, {fitting.name}"
            _limit(book, place, fitting.name, own, fitting.carries_ma, origin)
    for post in facts.console.posts:
        if post.kind == "lead":
            carried = wire_current_ma(facts, loads, LEAD + post.id)
        else:
            carried = post_current_ma(facts, loads, post)
        if carried is not None:
            _limit(book, post.id, f"the {post.kind}", carried, post.carries_ma, "console")
    for strap in facts.console.straps:
        for stud in strap.posts:
            carried = strap_current_ma(loads, strap.name, stud)
            if carried is not None:
                place = f"strap {strap.name} on {stud}"
                _limit(book, place, "the strap", carried, strap.carries_ma, "console")


def _limit(book: Book, place: str, what: str, current: Fraction, most: int, origin: str) -> None:
    if most:
        measured, limit = f"{amps_text(int(current))} A", f"{amps_text(most)} A"
        message = f"{what} carries too much"
        book.expect(current <= most, "current limit", place, message, measured, limit, origin)
