"""The sentences a rigger works from. Colours are written out, lengths are in millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lugwright.assemble.built import Built
from lugwright.base.scale import mm_text
from lugwright.plan.schema import Cap, Crimp, EndRef, Jumper, Stack, StackedLug, Tie
from lugwright.stock.schema import Barrel


def joined(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def coloured(colour: str, code: str) -> str:
    """A colour written out, with its code where it has one."""
    return f"{colour} ({code})" if code else colour


def end_words(built: Built, end: EndRef) -> str:
    """One end of one wire; a given wire has only one end here."""
    cut = any(jumper.label == end.wire for jumper in built.cut.jumpers)
    return f"{end.wire} end {end.end}" if cut else end.wire


def cap_sentence(cap: Cap) -> str:
    """How to put an unused pigtail away."""
    first = "This one is live even when unused: do it first. " if cap.live else ""
    what = f'with a cap "{cap.item}"' if cap.item else "by itself (no cap in stock takes it)"
    return (
        f"{first}Insulate the unused {coloured(cap.colour, cap.colour_code)} pigtail "
        f"{cap.pigtail} {what}, "
        "tie it back to the harness and leave it long."
    )


def cut_sentence(jumper: Jumper) -> str:
    """How to cut, bare and tag one wire."""
    what = "extension " if jumper.role == "extension" else ""
    return (
        f"Cut {what}{jumper.label}: {mm_text(jumper.length_dmm)} mm of "
        f"{coloured(jumper.colour, jumper.colour_code)} {jumper.wire_size}. "
        f"Bare {mm_text(jumper.strip_a_dmm)} mm at end A (for {jumper.from_joint}) and "
        f"{mm_text(jumper.strip_b_dmm)} mm at end B (for {jumper.to_joint}). "
        f"Tag both ends {jumper.label}."
    )


def _place(built: Built, crimp: Crimp) -> str:
    """Where a fitting sits, in words."""
    if crimp.joint.startswith("join "):
        return f"to lengthen {crimp.joint.removeprefix('join ')}"
    for splice in built.splices:
        if splice.crimp == crimp.number:
            at = f"{mm_text(splice.at.x_dmm)} mm from the left, {mm_text(splice.at.y_dmm)} mm up"
            tie = f", at tie point {splice.at.tie}" if splice.at.tie else ""
            return f"in mid-air at {splice.label} ({at}, seen from the back{tie})"
    post = built.console.post(crimp.joint)
    return f"on the flying lead {post.id}" if post.kind == "lead" else f"for {post.id}"


def _given_kinds(built: Built) -> dict[str, str]:
    """Colour and size of every wire that bears no tag of ours: given wires and leads."""
    given = {item.wire: f"{item.colour} {item.wire_size}" for item in built.cut.given}
    leads = {
        f"lead {post.id}": f"{post.lead.colour} {post.lead.wire_size}"
        for post in built.console.posts
        if post.lead is not None
    }
    return given | leads


def _wires_in(built: Built, barrel: Barrel, ends: Iterable[EndRef], fold: bool) -> str:
    """The wire ends of one barrel, each with what is still to be done to it.

    A wire that was not cut here is told with its kind and its strip; the others bear their tag
    and are bared already.
    """
    kinds = _given_kinds(built)
    words = []
    for end in ends:
        notes = []
        if end.wire in kinds:
            strip = mm_text(barrel.length_dmm + built.limits.strip_clearance_dmm)
            notes += [kinds[end.wire], f"bare {strip} mm"]
        if fold:
            notes.append(f"bare {mm_text(barrel.length_dmm)} mm more and fold it back")
        name = end.wire if end.wire in kinds else f"{end.wire} {end.end}"
        words.append(f"{name} ({', '.join(notes)})" if notes else name)
    return " + ".join(words)


def crimp_sentence(built: Built, crimp: Crimp) -> str:
    """How to make one crimp, at a glance: what, where, which wires, which die."""
    parts = []
    if crimp.joint.startswith("join ") and _ring_cut_off(built, crimp.joint):
        parts.append(f"Cut the ready-made ring off {crimp.joint.removeprefix('join ')}.")
    what = crimp.item if crimp.kind in crimp.item else f'{crimp.kind} "{crimp.item}"'
    barrels = built.sheet.rows[crimp.number].barrels
    folds = built.sheet.folds[crimp.number]
    holds = [
        _wires_in(built, barrel, ends, fold)
        for barrel, ends, fold in zip(barrels, crimp.barrels, folds, strict=True)
    ]
    parts.append(f"Crimp {crimp.number}: {what} {_place(built, crimp)}: {' / '.join(holds)}.")
    if any(len(ends) > 1 for ends in crimp.barrels):
        parts.append("Twist together.")
    parts.append(f"Die {crimp.die}; tug each wire." if crimp.die else "Tug each wire.")
    return " ".join(parts)


def _ring_cut_off(built: Built, joint: str) -> bool:
    """Whether the wire lengthened at a join came with a ready-made ring."""
    wire = joint.removeprefix("join ")
    rings = {
        f"pigtail {circuit.name}": circuit.pigtail.ring
        for circuit in built.console.circuits
        if circuit.pigtail is not None
    }
    rings |= {item.id: item.ring for one in built.console.arrivals for item in one.wires}
    return rings.get(wire) is not None


def lug_words(built: Built, lug: StackedLug) -> str:
    """A lug by its crimp and wire ends, or the wire whose ready-made ring it is."""
    if not lug.crimp:
        return f"the ready-made ring of {lug.ready}"
    return crimp_words(built, built.sheet.crimps[lug.crimp - 1])


def crimp_words(built: Built, crimp: Crimp) -> str:
    """A crimp by number, kind and the wire ends it holds."""
    ends = [end_words(built, end) for half in crimp.barrels for end in half]
    return f"crimp {crimp.number} ({crimp.kind} on {joined(ends)})"


def land_sentence(built: Built, stack: Stack, place: int) -> str:
    """How to put one lug on its stud; ``place`` counts from the base, from 1."""
    lug = stack.lugs[place - 1]
    below = "against the base" if place == 1 else f"as lug {place} from the base"
    return (
        f"Put {lug_words(built, lug)} on {stack.post} {below}, "
        f"barrel at {lug.clock} o'clock seen from the back."
    )


def nut_sentence(stack: Stack, verb: str) -> str:
    """What to do with a nut: ``nut loose``, ``nut off`` or ``nut snug``."""
    driver = f" with the {stack.driver}" if stack.driver else ""
    if verb == "nut loose":
        coming = len(stack.lugs) - stack.bench_lugs
        more = "lug is" if coming == 1 else "lugs are"
        return (
            f"Put the {stack.thread} nut on {stack.post} by a few turns only: "
            f"{coming} more {more} landed aboard."
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


def tie_sentence(tie: Tie) -> str:
    """Where to tie, and how often."""
    if tie.where.startswith(("along ", "between ")):
        times = "one tie" if tie.count == 1 else f"{tie.count} ties, evenly spread,"
        return f"Put {times} {tie.where}."
    return f"Tie the loom at tie point {tie.where}."
