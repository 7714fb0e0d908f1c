"""Whether the plan hangs together as a list: names, labels, numbers, and every wire end once."""

from __future__ import annotations

from collections import Counter, defaultdict

from lugwright.base.identity import WireId
from lugwright.checker.book import Book
from lugwright.checker.facts import JOIN, Facts, end_text
from lugwright.electrics.tables import colour_codes
from lugwright.plans.schema import Crimp, EndRef, Jumper


def check_shape(facts: Facts, book: Book) -> None:
    """Names, labels and numbers of everything in the plan, then every wire end."""
    _names_of_landings(facts, book)
    _names_of_wires(facts, book)
    _names_of_fittings(facts, book)
    _given_wires(facts, book)
    _labels(facts, book)
    _numbers(facts, book)
    _wire_ends(facts, book)


def _known(book: Book, there: bool, place: str, kind: str, name: str) -> None:
    book.expect(there, "names", place, f'there is no {kind} "{name}"')


def _names_of_landings(facts: Facts, book: Book) -> None:
    for row in facts.plan.landings:
        place = f"landing of {row.circuit}"
        _known(book, row.circuit in facts.circuits, place, "circuit", row.circuit)
        _known(book, row.post in facts.posts, place, "post", row.post)
        if row.extension:
            _known(book, row.extension in facts.jumpers, place, "extension", row.extension)
    for wire in facts.plan.circuit_wires:
        _known(book, wire.circuit in facts.circuits, "circuit wires", "circuit", wire.circuit)


def _names_of_wires(facts: Facts, book: Book) -> None:
    for wire in facts.plan.jumpers:
        signal_extension = wire.role == "extension" and not wire.circuit
        known = signal_extension or wire.circuit in facts.circuits
        _known(book, known, wire.label, "circuit", wire.circuit)
        for joint in (wire.from_joint, wire.to_joint):
            _known(book, _is_joint(facts, wire, joint), wire.label, "joint", joint)
        _known(book, facts.spool(wire) is not None, wire.label, "spool", wire.spool)


def _is_joint(facts: Facts, wire: Jumper, joint: str) -> bool:
    if joint.startswith(JOIN):
        return wire.role == "extension" and joint.removeprefix(JOIN) in facts.panel_wires
    return joint in facts.posts or joint in facts.splices


def _names_of_fittings(facts: Facts, book: Book) -> None:
    for crimp in facts.plan.crimps:
        place = f"crimp {crimp.number}"
        _known(book, crimp.item in facts.fittings, place, "fitting in stock", crimp.item)
    for splice in facts.plan.splices:
        _known(book, splice.crimp in facts.crimps, splice.label, "crimp", str(splice.crimp))
        _known(book, splice.circuit in facts.circuits, splice.label, "circuit", splice.circuit)
    for stack in facts.plan.stacks:
        place = f"stack on {stack.post}"
        post = facts.posts.get(stack.post)
        _known(book, post is not None and post.kind == "stud", place, "stud", stack.post)
        for lug in stack.lugs:
            if lug.crimp:
                _known(book, lug.crimp in facts.crimps, place, "crimp", str(lug.crimp))
            else:
                ready = facts.is_ready(lug.ready) or facts.strap_of(lug.ready, stack.post)
                _known(book, bool(ready), place, "ready-made lug on", lug.ready)


def _given_wires(facts: Facts, book: Book) -> None:
    """Every pigtail in use and every boat wire is listed once, with its true joint. Rule R30."""
    for row in facts.plan.given:
        wire = facts.panel_wires.get(row.wire)
        _known(book, wire is not None, "given wires", "wire", row.wire)
        if wire is None or wire.sort == "lead":
            continue
        joint = JOIN + wire.name if wire.name in facts.extension_of else wire.post
        book.same(row.joint, joint, "wire ends", row.wire, "the joint its end goes to")
        book.same(row.stage, wire.stage, "step stage", row.wire, "its stage")
        own = (wire.wire.wire_size, wire.wire.colour)
        book.same((row.wire_size, row.colour), own, "colour", row.wire, "size and colour")
        if row.colour_code:
            code = colour_codes().get(row.colour, "")
            book.same(row.colour_code, code, "colour", row.wire, "the code of its colour")
        ready = facts.is_ready(row.wire)
        book.same(row.ready_ring, ready, "wire ends", row.wire, "whether it keeps its own ring")
    listed: Counter[str] = Counter(row.wire for row in facts.plan.given)
    for wire in facts.panel_wires.values():
        if wire.sort != "lead":
            times = listed[wire.name]
            message = f"is listed {times} times among the given wires, not once"
            book.expect(times == 1, "names", wire.name, message)


def _labels(facts: Facts, book: Book) -> None:
    label: str
    for label, times in Counter(wire.label for wire in facts.plan.jumpers).items():
        book.expect(times == 1, "labels", label, f"{times} wires have this label")
    for label, times in Counter(splice.label for splice in facts.plan.splices).items():
        book.expect(times == 1, "labels", label, f"{times} splices have this label")
    for post, times in Counter(stack.post for stack in facts.plan.stacks).items():
        book.expect(times == 1, "stack", post, f"the stud has {times} stacks")
    for wire in facts.plan.jumpers:
        if wire.role == "jumper":
            book.same(wire.label, f"{wire.circuit} {wire.number}", "labels", wire.label, "label")


def _numbers(facts: Facts, book: Book) -> None:
    """Jumpers are numbered 1 to n in their circuit; extensions may be numbered along with them.

    In a family the numbers of parts that only other variants have are left out.
    """
    jumpers: dict[str, list[int]] = defaultdict(list)
    everything: dict[str, list[int]] = defaultdict(list)
    for wire in facts.plan.jumpers:
        everything[wire.circuit].append(wire.number)
        if wire.role == "jumper":
            jumpers[wire.circuit].append(wire.number)
    for circuit, numbers in jumpers.items():
        good = any(
            sorted(found) == list(range(1, len(found) + 1))
            for found in (numbers, everything[circuit])
        )
        good = good or (facts.plan.family != "" and min(numbers) >= 1)
        message = f"its jumpers are not numbered 1 to {len(numbers)}: {sorted(numbers)}"
        book.expect(good, "labels", circuit, message)
    crimps = [crimp.number for crimp in facts.plan.crimps]
    good = sorted(crimps) == list(range(1, len(crimps) + 1))
    book.expect(good, "labels", "crimp list", f"crimps are not numbered 1 to {len(crimps)}")


def _wire_ends(facts: Facts, book: Book) -> None:
    places: dict[tuple[str, str], list[str]] = defaultdict(list)
    for crimp in facts.plan.crimps:
        for end in (end for barrel in crimp.barrels for end in barrel):
            places[(end.wire, end.end)].append(f"crimp {crimp.number}")
            _end_is_at_home(facts, book, crimp, end)
    for stack in facts.plan.stacks:
        for lug in stack.lugs:
            if not lug.crimp and not facts.strap_of(lug.ready, stack.post):
                places[(lug.ready, "a")].append(f"ready-made lug on {stack.post}")
                wire = facts.panel_wires.get(lug.ready)
                if wire:
                    book.same(stack.post, wire.post, "wire ends", lug.ready, "the stud it is on")
    for end in _ends_there_are(facts):
        found = places.pop((end.wire, end.end), [])
        message = f"the end is in {', '.join(found) or 'no barrel'}, not in exactly one"
        book.expect(len(found) == 1, "wire ends", end_text(end), message)
    for name, _ in sorted(places):
        used = name in facts.jumpers or name in facts.panel_wires
        _known(book, used, "crimp list", "wire", name)


def _end_is_at_home(facts: Facts, book: Book, crimp: Crimp, end: EndRef) -> None:
    joint = facts.end_joint(end)
    if joint:
        message = f"the end belongs to {joint}, but is crimped at {crimp.joint}"
        book.expect(joint == crimp.joint, "wire ends", end_text(end), message)


def _ends_there_are(facts: Facts) -> list[EndRef]:
    """Both ends of every cut wire, the panel end of every given wire in use."""
    ends = [EndRef(wire=wire.label, end=side) for wire in facts.plan.jumpers for side in ("a", "b")]
    for wire in facts.panel_wires.values():
        post = facts.posts.get(wire.post)
        unused_lead = wire.sort == "lead" and post is not None and not _lead_in_use(facts, post.id)
        if not unused_lead and wire.post:
            ends.append(EndRef(wire=WireId(wire.name), end="a"))
    return ends


def _lead_in_use(facts: Facts, post: str) -> bool:
    """A lead is in use when a wire runs to it or a fitting is crimped on it."""
    runs = any(post in (wire.from_joint, wire.to_joint) for wire in facts.plan.jumpers)
    return runs or bool(facts.crimps_at.get(post))
