"""The sentences a rigger works from. Colours are written out, lengths are in millimetres.

Each is short enough for two lines of the printed list where names are of a usual length.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lugwright.assemble.worked_up import WorkedUp
from lugwright.base.scale import mm_text
from lugwright.plans.schema import Cap, Crimp, EndRef, Jumper, Splice, Stack, StackedLug, Tie
from lugwright.scenario.console import Point, ReadyRing
from lugwright.stock.schema import Barrel
from lugwright.trade.names import (
    end_label,
    is_join,
    is_pigtail,
    is_strap,
    lead_wire,
    pigtail_wire,
    ready_words,
    strap_name,
    wire_of_join,
)

PIGTAIL_SPARE = "Do not cut the pigtail to length: service loop, then a drip loop before the post."


def joined(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def coloured(colour: str, code: str) -> str:
    """A colour written out, with its code where it has one."""
    return f"{colour} ({code})" if code else colour


def end_words(work: WorkedUp, end: EndRef) -> str:
    """One end of one wire; a given wire has only one end here."""
    cut = any(jumper.label == end.wire for jumper in work.cut.jumpers)
    return end_label(end.wire, end.end) if cut else end.wire


def cap_sentence(cap: Cap) -> str:
    """How to put an unused pigtail away."""
    first = "LIVE even when unused, do it first: " if cap.live else ""
    what = f'with a cap "{cap.item}"' if cap.item else "by itself (no cap in stock takes it)"
    insulate = "insulate" if first else "Insulate"
    return (
        f"{first}{insulate} the unused {coloured(cap.colour, cap.colour_code)} pigtail "
        f"{cap.pigtail} {what}, tie it back to the harness and leave it long."
    )


def cut_sentence(jumper: Jumper) -> str:
    """How to cut, bare and tag one wire."""
    what = "extension " if jumper.role == "extension" else ""
    return (
        f"Cut {what}{jumper.label}: {mm_text(jumper.length_dmm)} mm of "
        f"{coloured(jumper.colour, jumper.colour_code)} {jumper.wire_size}. "
        f"Bare {mm_text(jumper.strip_a_dmm)} mm at end a (for {jumper.from_joint}) and "
        f"{mm_text(jumper.strip_b_dmm)} mm at end b (for {jumper.to_joint}). "
        f"Tag both ends {jumper.label}."
    )


def _given_kinds(work: WorkedUp) -> dict[str, str]:
    """Colour and size of every wire that bears no tag of ours: given wires and leads."""
    given: dict[str, str] = {
        item.wire: f"{item.colour} {item.wire_size}" for item in work.cut.given
    }
    leads: dict[str, str] = {
        lead_wire(post.id): f"{post.lead.colour} {post.lead.wire_size}"
        for post in work.brief.console.posts
        if post.lead is not None
    }
    return given | leads


def _strip_text(work: WorkedUp, barrel: Barrel) -> str:
    return f"bare {mm_text(barrel.length_dmm + work.brief.limits.strip_clearance_dmm)} mm"


def _wires_in(
    work: WorkedUp, barrel: Barrel, ends: Iterable[EndRef], fold: bool, named: str = ""
) -> str:
    """The wire ends of one barrel, each with what is still to be done to it.

    A wire that was not cut here is told with its kind and its strip; the others bear their tag
    and are bared already. ``named`` is a wire whose kind was told before.
    """
    kinds = _given_kinds(work)
    words = []
    for end in ends:
        notes = []
        if end.wire in kinds:
            notes += [kinds[end.wire]] * (end.wire != named) + [_strip_text(work, barrel)]
        if fold:
            notes.append(f"bare {mm_text(barrel.length_dmm)} mm more and fold it back")
        name = end.wire if end.wire in kinds else end_label(end.wire, end.end)
        name = _short(named) if end.wire == named else name
        words.append(f"{name} ({', '.join(notes)})" if notes else name)
    return " + ".join(words)


def _short(wire: str) -> str:
    """What kind of given wire it is, where its name was told before."""
    kind = wire.partition(" ")[0]
    return kind if kind in ("lead", "pigtail") else "wire"


def _holds(work: WorkedUp, crimp: Crimp, named: str = "") -> str:
    """What is in each barrel of a crimp; a stroke parts the halves of a butt."""
    barrels = work.sheet.rows[crimp.number].barrels
    folds = work.sheet.folds[crimp.number]
    return " / ".join(
        _wires_in(work, barrel, ends, fold, named)
        for barrel, ends, fold in zip(barrels, crimp.barrels, folds, strict=True)
    )


def _item(crimp: Crimp) -> str:
    return crimp.item if crimp.kind in crimp.item else f'{crimp.kind} "{crimp.item}"'


def crimp_sentence(work: WorkedUp, crimp: Crimp) -> str:
    """How to make one crimp, at a glance: what, where, which wires, which die."""
    if is_join(crimp.joint):
        return _join_sentence(work, crimp)
    for splice in work.splices:
        if splice.crimp == crimp.number:
            return _splice_sentence(work, crimp, splice)
    post = work.brief.console.post(crimp.joint)
    if post.kind == "lead":
        return _lead_sentence(work, crimp, post.at)
    twist = " Twist together." if any(len(ends) > 1 for ends in crimp.barrels) else ""
    pigtail = any(is_pigtail(end.wire) for half in crimp.barrels for end in half)
    spare = f" {PIGTAIL_SPARE}" if pigtail else ""
    return (
        f"Crimp {crimp.number}: {_item(crimp)} for {post.id}: {_holds(work, crimp)}."
        f"{twist} {_die(crimp)}{spare}"
    )


def _die(crimp: Crimp) -> str:
    return f"Die {crimp.die}; tug each wire." if crimp.die else "Tug each wire."


def _join_sentence(work: WorkedUp, crimp: Crimp) -> str:
    """How to lengthen a given wire."""
    wire = wire_of_join(crimp.joint)
    ring = "cut off its ready-made ring; " if _ring_cut_off(work, wire) else ""
    return (
        f"Crimp {crimp.number}, to lengthen {wire} ({_given_kinds(work)[wire]}): {ring}"
        f"{_item(crimp)}: {_holds(work, crimp, wire)}. "
        f"{_die(crimp)}"
    )


def _splice_sentence(work: WorkedUp, crimp: Crimp, splice: Splice) -> str:
    """How to make a splice, and where it hangs."""
    return (
        f"Crimp {crimp.number}, {splice.label}: {_item(crimp)} on "
        f"{_splice_ends(work, crimp, splice)}; tug. "
        f"Tag it, hang it {hangs_words(work.splices, splice)}."
    )


def _splice_ends(work: WorkedUp, crimp: Crimp, splice: Splice) -> str:
    """The ends in a splice, the circuit named once: ``ground 2-b + 3-a / 4-a``."""
    if any(work.sheet.folds[crimp.number]):
        return _holds(work, crimp)
    head = f"{splice.circuit} "
    halves = (
        " + ".join(f"{end.wire.removeprefix(head)}-{end.end}" for end in half)
        for half in crimp.barrels
    )
    return head + " / ".join(halves)


def hangs_words(splices: Iterable[Splice], splice: Splice) -> str:
    """Where a splice hangs: by its tie point, if it has one, and from the edges of the panel.

    A tie point's name is the scenario's, told from the front as often as not.
    """
    place = f"{mm_text(splice.at.x_dmm)} mm from left, {mm_text(splice.at.y_dmm)} mm up"
    if not splice.at.tie:
        return f"{place} (seen from the back)"
    there = sum(one.at.tie == splice.at.tie for one in splices)
    staggered = f", {there} there: stagger" if there > 1 else ""
    return f"at tie point {splice.at.tie} ({place}){staggered}"


def _lead_sentence(work: WorkedUp, crimp: Crimp, end: Point) -> str:
    """How to shorten a flying lead to its stated end and join it there."""
    lead = lead_wire(crimp.joint)
    loop = work.brief.limits.drip_loop_dmm
    drip = f" with a {mm_text(loop)} mm drip loop" if loop else ""
    free_dmm = work.brief.console.post(crimp.joint).lead_length_dmm
    if free_dmm:  # its length was given, and where it goes was chosen: there is no loop in it
        over = mm_text(work.brief.limits.re_termination_dmm)
        return (
            f"Crimp {crimp.number}, {lead} ({_given_kinds(work)[lead]}): bring its end to "
            f"{mm_text(end.x_dmm)} mm from left, {mm_text(end.y_dmm)} mm up, leave {over} mm to "
            f"spare for another fitting and cut off the rest; {_item(crimp)}: "
            f"{_holds(work, crimp, lead)}; tug."
        )
    return (
        f"Crimp {crimp.number}, {lead} ({_given_kinds(work)[lead]}): trim so that the end reaches "
        f"{mm_text(end.x_dmm)} mm from left, {mm_text(end.y_dmm)} mm up{drip}; "
        f"{_item(crimp)}: {_holds(work, crimp, lead)}; tug."
    )


def _ring_cut_off(work: WorkedUp, wire: str) -> bool:
    """Whether a wire that is lengthened came with a ready-made ring."""
    rings: dict[str, ReadyRing | None] = {
        pigtail_wire(circuit.name): circuit.pigtail.ring
        for circuit in work.brief.console.circuits
        if circuit.pigtail is not None
    }
    rings |= {item.id: item.ring for one in work.brief.console.boat_blocks for item in one.wires}
    return rings.get(wire) is not None


def lug_words(work: WorkedUp, lug: StackedLug) -> str:
    """A lug by its crimp and wire ends, or the wire whose ready-made ring it is."""
    if not lug.crimp:
        return f"the {ready_words(lug.ready)}"
    return crimp_words(work, work.sheet.crimps[lug.crimp - 1])


def crimp_words(work: WorkedUp, crimp: Crimp) -> str:
    """A crimp by number, kind and the wire ends it holds."""
    ends = [end_words(work, end) for half in crimp.barrels for end in half]
    return f"crimp {crimp.number} ({crimp.kind} on {joined(ends)})"


def short_name(lug: StackedLug) -> str:
    """A lug by its crimp, or by the wire whose ready-made ring it is."""
    if is_strap(lug.ready):
        return f"the {ready_words(lug.ready)}"
    return f"crimp {lug.crimp}" if lug.crimp else f"the ring of {lug.ready}"


def place_label(place: int) -> str:
    """What is written on the label of a lug that waits."""
    return f"lug {place}"


def land_sentence(work: WorkedUp, stack: Stack, place: int, *, back: bool = False) -> str:
    """How to put one lug on its stud; ``place`` counts from the base, from 1.

    ``back``: it waited on the stud and was lifted off.
    """
    lug = stack.lugs[place - 1]
    spare = f" {PIGTAIL_SPARE}" if is_pigtail(lug.ready) and not back else ""
    again = f"back, labelled {place_label(place)}, " if back else ""
    if is_strap(lug.ready):
        others = [other for other in _studs_of(work, lug.ready) if other != stack.post]
        return (
            f"Put {lug_words(work, lug)} {again}on {stack.post} {_on_what(place)}, together with "
            f"its lug on {joined(others)}."
        )
    return (
        f"Put {lug_words(work, lug)} {again}on {stack.post} {_on_what(place)}, "
        f"barrel at {lug.clock} o'clock seen from the back.{spare}"
    )


def _studs_of(work: WorkedUp, ready: str) -> tuple[str, ...]:
    """The studs of a strap, by its name as a ready-made lug."""
    return next(one.posts for one in work.brief.console.straps if strap_name(one.name) == ready)


def wait_sentence(work: WorkedUp, stack: Stack, place: int) -> str:
    """How to put a bench lug that lies above a lug of later on its stud, and what to label it."""
    lug = stack.lugs[place - 1]
    spare = f" {PIGTAIL_SPARE}" if is_pigtail(lug.ready) else ""
    return (
        f'Label {lug_words(work, lug)} "{place_label(place)}" and put it on {stack.post} to wait, '
        f"loose, barrel at {lug.clock} o'clock seen from the back: what comes aboard goes under "
        f"it.{spare}"
    )


def lift_sentence(stack: Stack) -> str:
    """How to take off what waited, so that what comes aboard goes under it."""
    labels = {lug: place_label(place) for place, lug in enumerate(stack.lugs, 1)}
    names = [f"{short_name(lug)} (labelled {labels[lug]})" for lug in reversed(stack.waiting)]
    return f"Lift {joined(names)} off {stack.post}: what comes aboard goes under."


def slip_sentence(work: WorkedUp, stack: Stack, place: int, first: bool) -> str:
    """How to slip a spade under a nut that is only slackened; ``first``: slacken it now."""
    lug = stack.lugs[place - 1]
    above = next((lug for lug in stack.lugs[place:] if lug in stack.waiting), None)
    under = f"the {'lock washer' if stack.lock_washer else 'nut'}"
    if above is not None:
        under = f"{short_name(above)} (labelled {place_label(stack.lugs.index(above) + 1)})"
    slack = f"Slacken the {stack.thread} nut on {stack.post}, slip" if first else "Slip"
    return (
        f"{slack} {lug_words(work, lug)} under {under}{'' if first else f' of {stack.post}'} "
        f"{_on_what(place)}, barrel at {lug.clock} o'clock seen from the back."
    )


def _on_what(place: int) -> str:
    return "against the base" if place == 1 else f"as lug {place} from the base"


def nut_sentence(stack: Stack, verb: str) -> str:
    """What to do with a nut: ``nut loose``, ``nut off`` or ``nut snug``."""
    driver = f" with the {stack.driver}" if stack.driver else ""
    if verb == "nut loose":
        coming = len(stack.lugs) - stack.bench_lugs
        more = "lug is" if coming == 1 else "lugs are"
        count = f"{coming} more" if stack.bench_lugs else f"{coming}"
        return (
            f"Put the {stack.thread} nut on {stack.post} by a few turns only: "
            f"{count} {more} landed aboard."
        )
    if verb == "nut off":
        washer = " and the lock washer" if stack.lock_washer else ""
        return f"Take the loose {stack.thread} nut{washer} off {stack.post} again."
    lugs = len(stack.lugs)
    count = {1: "the lug", 2: "both lugs"}.get(lugs, f"all {lugs} lugs")
    return (
        f"Run the {stack.thread} nut down on {stack.post} over {count}{driver}, hand snug; "
        "the instrument maker's torque governs."
    )


def washer_sentence(stack: Stack, lugs_on: int) -> str:
    """Where the lock washer goes, with so many lugs on."""
    on = "on top of the lugs" if lugs_on else "against the base for now"
    return f"Lay the {stack.thread} lock washer on {stack.post}, {on}."


def tie_sentence(tie: Tie) -> str:
    """Where to tie, and how often."""
    if tie.where.startswith(("along ", "between ")):
        times = "one tie" if tie.count == 1 else f"{tie.count} ties, evenly spread,"
        return f"Put {times} {tie.where}."
    return f"Tie the loom at tie point {tie.where}."
