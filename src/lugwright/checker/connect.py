"""Whether each circuit is one tree from its supply to every post it must reach."""

from __future__ import annotations

from collections import defaultdict, deque

from lugwright.base.scale import mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import PIGTAIL, Facts
from lugwright.checker.hub import check_hub, lands
from lugwright.checker.loom import tie_at
from lugwright.plans.schema import Jumper, Landing, Splice
from lugwright.scenario.console import Circuit, Post


def check_connections(facts: Facts, book: Book) -> None:
    """Hub, landings, foreign posts, take-offs, trees and splices of every circuit."""
    check_hub(facts, book)
    for circuit in facts.console.circuits:
        wires = [
            wire
            for wire in facts.plan.jumpers
            if wire.circuit == circuit.name and wire.role == "jumper"
        ]
        _landing(facts, book, circuit)
        roots = _roots(facts, book, circuit, wires)
        _posts_touched(facts, book, circuit, wires)
        _tree(facts, book, circuit, wires, roots)
    _splices(facts, book)


def _landing(facts: Facts, book: Book, circuit: Circuit) -> None:
    rows = [row for row in facts.plan.landings if row.circuit == circuit.name]
    place = f"supply of {circuit.name}"
    wanted = 1 if lands(facts, circuit) else 0
    message = f"it lands {len(rows)} times, not {wanted}"
    book.expect(len(rows) == wanted, "landing", place, message)
    for row in rows:
        post = facts.posts.get(row.post)
        if post is None:
            continue
        book.same(row.way, circuit.supplied_by, "landing", place, "the way it comes by")
        if circuit.supplied_by:
            _landing_of_way(facts, book, circuit, post, row)
        elif circuit.pigtail is not None:
            _landing_of_pigtail(facts, book, circuit, post, row)


def _landing_of_pigtail(
    facts: Facts, book: Book, circuit: Circuit, post: Post, row: Landing
) -> None:
    place = f"supply of {circuit.name}"
    anywhere = circuit.side in ("stop", "signal")  # rule R34: a signal has no hub, nor has a stop
    kinds = ("stud", "tab", "lead") if anywhere else ("stud", "tab")
    good = post.circuit == circuit.name and post.kind in kinds
    good = good and circuit.lands_on in ("", post.id)
    message = f"{post.id} is not a {' or '.join(kinds)} of {circuit.name}"
    book.expect(good, "landing", place, message)
    label = circuit.pigtail.label if circuit.pigtail else ""
    named = row.pigtail in (label, PIGTAIL + circuit.name)
    book.expect(named, "landing", place, f'its pigtail is not "{row.pigtail}"')
    extension = facts.extension_of.get(PIGTAIL + circuit.name)
    label = extension.label if extension else ""
    book.same(row.extension, label, "landing", place, "its extension")
    if extension:
        book.same(extension.to_joint, row.post, "landing", label, "where the extension ends")


def _landing_of_way(facts: Facts, book: Book, circuit: Circuit, post: Post, row: Landing) -> None:
    """What a way supplies: one jumper leaves its far post, and ends on the landing post.

    Or it lands on the far post itself, where that is all it has or the limit says so.
    """
    limits, far, place = facts.limits, circuit.supplied_by, f"supply of {circuit.name}"
    book.same((row.pigtail, row.extension), ("", ""), "landing", place, "its pigtail")
    others = [one for one in circuit.posts if facts.node(one) != facts.node(far)]
    origin = limits.origin("way_take_off")
    if not others or limits.way_take_off == "any":
        message = "it does not land on the far post of its way"
        book.expect(post.id == far, "landing", place, message, post.id, far, origin)
        return
    good = post.circuit == circuit.name and post.kind in ("stud", "tab")
    good = good and facts.node(post.id) != facts.node(far)
    book.expect(good, "landing", place, f"{post.id} is not a stud or tab of {circuit.name}")
    out = [
        wire
        for wire in facts.plan.jumpers
        if wire.circuit == circuit.name
        and facts.node(far) in (facts.node(wire.from_joint), facts.node(wire.to_joint))
    ]
    message = f"jumpers of {circuit.name} at {far}"
    book.expect(len(out) == 1, "take-off", place, message, len(out), "exactly 1", origin)
    for wire in out:
        ends = (wire.from_joint, wire.to_joint)
        message = f"it does not lead from {far} to {row.post}"
        book.expect(ends == (far, row.post), "take-off", wire.label, message, " to ".join(ends))


def _roots(facts: Facts, book: Book, circuit: Circuit, wires: list[Jumper]) -> list[str]:
    """Nodes the circuit is fed at: its landing, or the posts it is taken off from."""
    if circuit.supplied_by:
        return [facts.node(circuit.supplied_by)]
    if not circuit.taken_from:
        landing = facts.landing_of.get(circuit.name)
        return [facts.node(landing)] if landing else []
    taken = [wire for wire in wires if _circuit_at(facts, wire.from_joint) == circuit.taken_from]
    _take_offs(facts, book, circuit, wires, taken)
    return sorted({facts.node(wire.from_joint) for wire in taken})


def _circuit_at(facts: Facts, joint: str) -> str:
    post = facts.posts.get(joint)
    if post:
        return post.circuit
    splice = facts.splices.get(joint)
    return splice.circuit if splice else ""


def _take_offs(
    facts: Facts, book: Book, circuit: Circuit, wires: list[Jumper], taken: list[Jumper]
) -> None:
    """Taken circuits leave their host at a stud: once at its landing, or wherever it is fed.

    Rule R10.
    """
    host, limits = circuit.taken_from, facts.limits
    origin, landing = limits.origin("lamp_take_off"), _supply_post(facts, host)
    for wire in taken:
        message = f"{circuit.name} is taken off at {wire.from_joint}, which is not a stud"
        good = _may_start(facts, host, wire)
        book.expect(good, "take-off", wire.label, message)
    if limits.lamp_take_off == "any":
        nodes = _fed_nodes(facts, host, landing)
        for wire in taken:
            message = f"{wire.from_joint} is not fed by {host}"
            good = facts.node(wire.from_joint) in nodes
            book.expect(good, "take-off", wire.label, message)
        return
    if wires:
        message = f"jumpers of {circuit.name} that leave {host}"
        book.expect(
            len(taken) == 1, "take-off", circuit.name, message, len(taken), "exactly 1", origin
        )
    for wire in taken:
        good = wire.from_joint == landing
        message = f"{circuit.name} does not leave {host} at its landing post"
        book.expect(good, "take-off", wire.label, message, wire.from_joint, landing, origin)


def _supply_post(facts: Facts, name: str) -> str:
    """The post a circuit's supply lands on: the far post of its way where it is that alone."""
    row = facts.circuits.get(name)
    return facts.landing_of.get(name, "") or (row.supplied_by if row else "")


def _may_start(facts: Facts, host: str, wire: Jumper) -> bool:
    """It starts on a stud, or on a far tab that is its host's only post and holds nothing else."""
    post = facts.posts.get(wire.from_joint)
    if post is None or post.kind != "tab":
        return post is not None and post.kind == "stud"
    alone = {facts.node(one) for one in facts.circuits[host].posts} == {facts.node(post.id)}
    ends = [joint for one in facts.plan.jumpers for joint in (one.from_joint, one.to_joint)]
    ends += [given.joint for given in facts.plan.given]
    return alone and post.id == facts.circuits[host].supplied_by and ends.count(post.id) == 1


def _fed_nodes(facts: Facts, host: str, landing: str) -> set[str]:
    """Where a host is fed; what a way supplies is not taken off at its far post, but where it
    lands on that.
    """
    fed: set[str] = {end for wire in facts.plan.jumpers if wire.circuit == host
           for end in (wire.from_joint, wire.to_joint)}  # fmt: skip
    far = facts.circuits[host].supplied_by if host in facts.circuits else ""
    nodes = {facts.node(joint) for joint in {*fed, landing}}
    return nodes if landing == far else nodes - {facts.node(far)}


def _posts_touched(facts: Facts, book: Book, circuit: Circuit, wires: list[Jumper]) -> None:
    for wire in wires:
        for joint in (wire.from_joint, wire.to_joint):
            own = _circuit_at(facts, joint)
            host_end = joint == wire.from_joint and circuit.taken_from and own == circuit.taken_from
            known = joint in facts.posts or joint in facts.splices
            if own == circuit.name or host_end or not known:
                continue
            post = facts.posts.get(joint)
            if post is not None and post.function == "signal":
                message = f"{joint} is fed by a sender; {circuit.name} must not reach it"
                book.complain("signal post", wire.label, message)
            else:
                message = f"{joint} does not belong to {circuit.name}"
                book.complain("foreign post", wire.label, message)


def _tree(
    facts: Facts, book: Book, circuit: Circuit, wires: list[Jumper], roots: list[str]
) -> None:
    """Walk outwards from the roots: each wire leads to a new node, end a first. Rule R8."""
    beyond: dict[str, list[Jumper]] = defaultdict(list)
    for wire in wires:
        beyond[facts.node(wire.from_joint)].append(wire)
        beyond[facts.node(wire.to_joint)].append(wire)
    seen, walked, waiting = set(roots), set[str](), deque(roots)
    while waiting:
        here = waiting.popleft()
        foreign = circuit.taken_from and here in roots
        for wire in beyond[here]:
            if wire.label in walked or (foreign and facts.node(wire.from_joint) != here):
                continue
            walked.add(wire.label)
            forward = facts.node(wire.from_joint) == here
            message = f"its end a is not the one nearer the supply of {circuit.name}"
            book.expect(forward, "direction", wire.label, message)
            there = facts.node(wire.to_joint if forward else wire.from_joint)
            message = f"it closes a ring in {circuit.name}: both its ends were already wired"
            if book.expect(there not in seen, "cycle", wire.label, message):
                seen.add(there)
                waiting.append(there)
    _all_reached(facts, book, circuit, wires, seen, walked)


def _all_reached(
    facts: Facts,
    book: Book,
    circuit: Circuit,
    wires: list[Jumper],
    seen: set[str],
    walked: set[str],
) -> None:
    nodes: dict[str, list[str]] = defaultdict(list)
    for post in circuit.posts:
        nodes[facts.node(post)].append(post)
    for node, posts in nodes.items():
        needed = any(post in facts.posts and not facts.posts[post].optional for post in posts)
        if needed:
            message = f"no wire of {circuit.name} leads here from its supply"
            book.expect(node in seen, "missing post", " / ".join(posts), message)
    for wire in wires:
        message = f"it is not joined to the supply of {circuit.name}"
        book.expect(wire.label in walked, "missing post", wire.label, message)


def _splices(facts: Facts, book: Book) -> None:
    """A splice joins ends of one circuit: three at least, no more than the limit. Rule R9."""
    limits = facts.limits
    for splice in facts.plan.splices:
        place = splice.label
        origin = limits.origin("splices")
        book.expect(limits.splices, "splice", place, "splices are not allowed", 1, 0, origin)
        ends = [wire for wire in facts.plan.jumpers
                for joint in (wire.from_joint, wire.to_joint) if joint == place]  # fmt: skip
        message = "a splice joins at least three wire ends"
        book.expect(len(ends) >= 3, "splice", place, message, len(ends), 3, "the counting rules")
        origin, most = limits.origin("wires_per_splice"), limits.wires_per_splice
        message = "too many wire ends in one splice"
        book.expect(len(ends) <= most, "splice", place, message, len(ends), most, origin)
        for wire in ends:
            own = wire.circuit == splice.circuit
            book.expect(own, "splice", place, f"{wire.label} is of another circuit")
        _splice_height(facts, book, splice)
        made = [crimp.number for crimp in facts.crimps_at.get(place, [])]
        book.expect(made == [splice.crimp], "splice", place, f"its crimps are {made}")


def _splice_height(facts: Facts, book: Book, splice: Splice) -> None:
    """A splice hangs at its tie point, or at the height wires are dressed at. Rule R6."""
    limits, place = facts.limits, splice.label
    name = tie_at(facts.console, splice.at)
    tie = next((one for one in facts.console.tie_points if one.name == name), None)
    height, origin = limits.dress_height_dmm, limits.origin("dress_height_dmm")
    if tie:
        height, origin = tie.at.z_dmm, f"tie point {name}"
    message = "it does not hang at the height of its tie point, or the dress height"
    level = splice.at.z_dmm == height
    measured, limit = f"{mm_text(splice.at.z_dmm)} mm", f"{mm_text(height)} mm"
    book.expect(level, "splice", place, message, measured, limit, origin)
