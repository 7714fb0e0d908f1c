"""No wire of the plan passes round a way: proved from the plan's wires and the file's devices.

Joints that the plan's wires connect are *islands*; ways lead from island to island, loads conduct
nothing. With every way open (fuses out as well) each pigtail must be apart from all but its own
circuit and what is taken from it; with every way closed it must be apart from all but what the
file feeds from it; and in each state of the live table the posts with current are those of the
circuits it names. So a jumper across a way, two feeds joined, a fuse passed by or a load on the
wrong side of a switch cannot hide. Nothing here looks at where the plan says a wire belongs.
Rule R32.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator

from lugwright.checker.book import Book
from lugwright.checker.facts import PIGTAIL, STRAP, Facts
from lugwright.checker.live import live_settings
from lugwright.checker.positions import feed_ways, is_fitted, pigtail_feeds, reached

_WIRE, _JOINT = "wire ", "joint "


class Islands:
    """Metal that wires, lugs, barrels and links make one; by the name of any part of it."""

    def __init__(self, facts: Facts) -> None:
        self._same: dict[str, str] = {}
        for a, b in _joined(facts):
            self._same[self.of(a)] = self.of(b)

    def of(self, part: str) -> str:
        """The island of a part."""
        while self._same.get(part, part) != part:
            part = self._same[part]
        return part

    def of_post(self, post: str) -> str:
        """The island of a post."""
        return self.of(_JOINT + post)

    def of_wire(self, wire: str) -> str:
        """The island of a wire."""
        return self.of(_WIRE + wire)


def check_bypass(facts: Facts, book: Book) -> None:
    """Every post is live from the pigtails the file feeds it from, and from no other."""
    islands = Islands(facts)
    _each_apart(facts, book, islands)
    _each_at_home(facts, book, islands)
    _caps_alone(facts, book)
    every = [way.far for way in feed_ways(facts.console) if is_fitted(way)]
    for circuit in facts.console.circuits:
        if circuit.pigtail is None or not facts.landing_of.get(circuit.name):
            continue
        start = {islands.of_wire(PIGTAIL + circuit.name)}
        open_ = _live_posts(facts, islands, start, ())
        own = frozenset(facts.takers(circuit.name))
        _only(facts, book, circuit.name, open_, own, "with every way open")
        closed = _live_posts(facts, islands, start, every)
        fed = reached(facts.console, every, [circuit.name])
        _only(facts, book, circuit.name, closed, fed, "with every way closed")
    if facts.console.ways:
        _live_as_told(facts, book, islands)


def _joined(facts: Facts) -> Iterator[tuple[str, str]]:
    """Pairs of parts that are one piece of metal."""
    for row in facts.plan.jumpers:
        for joint in (row.from_joint, row.to_joint):
            yield _WIRE + row.label, _JOINT + joint
    for given in facts.plan.given:
        if given.joint:
            yield _WIRE + given.wire, _JOINT + given.joint
    for crimp in facts.plan.crimps:
        for half in crimp.barrels:
            for end in half:
                yield _WIRE + end.wire, _JOINT + crimp.joint
    for stack in facts.plan.stacks:
        for lug in stack.lugs:
            if lug.ready:
                yield _WIRE + lug.ready, _JOINT + stack.post
            for half in facts.crimps[lug.crimp].barrels if lug.crimp in facts.crimps else ():
                for end in half:
                    yield _WIRE + end.wire, _JOINT + stack.post
    first: dict[str, str] = {}
    for post in facts.console.posts:
        if post.link:
            yield _JOINT + post.id, _JOINT + first.setdefault(facts.inside(post.id), post.id)
    for strap in facts.console.straps:
        for stud in strap.posts:
            yield _WIRE + STRAP + strap.name, _JOINT + stud


def _each_apart(facts: Facts, book: Book, islands: Islands) -> None:
    """No island holds posts of two circuits, but of one that is taken from the other.

    Signals meet nothing else: rule R34.
    """
    posts: dict[str, list[str]] = defaultdict(list)
    for post in facts.console.posts:
        posts[islands.of_post(post.id)].append(post.id)
    for island in sorted(posts):
        names = sorted({_name(facts, post) for post in posts[island]})
        message = f"wires join {' and '.join(names)}"
        told = ", ".join(sorted(posts[island])[:6])
        book.expect(len(names) == 1, "bypass", told, message)
    for way in facts.console.ways:
        apart = islands.of_post(way.near) != islands.of_post(way.far)
        message = f"a wire of the plan passes round the {way.kind} to {way.far}"
        book.expect(apart, "bypass", way.far, message)


def _name(facts: Facts, post: str) -> str:
    """What a post belongs to: the circuit that taken circuits hang on, or itself."""
    name = facts.posts[post].circuit
    seen = set[str]()
    while name in facts.circuits and name not in seen and facts.circuits[name].taken_from:
        seen.add(name)
        name = facts.circuits[name].taken_from
    return f"circuit {name}" if name else f"post {facts.node(post)}, which no circuit feeds"


def _each_at_home(facts: Facts, book: Book, islands: Islands) -> None:
    """Leads and boat wires are one metal with the post they are for: no load changes sides."""
    for wire in facts.panel_wires.values():
        if wire.sort != "pigtail" and wire.post in facts.posts and _is_wired(facts, wire.name):
            at_home = islands.of_wire(wire.name) == islands.of_post(wire.post)
            book.expect(at_home, "bypass", wire.name, f"it does not hang on {wire.post}")


def _is_wired(facts: Facts, wire: str) -> bool:
    """False for a lead that the plan leaves alone."""
    return wire in facts.given or any(
        end.wire == wire
        for crimp in facts.plan.crimps
        for half in crimp.barrels
        for end in half
    )


def _caps_alone(facts: Facts, book: Book) -> None:
    """A pigtail that is capped off shares no barrel and no stud with anything."""
    touched = {part for pair in _joined(facts) for part in pair}
    for pigtail in facts.console.unused_pigtails:
        name = PIGTAIL + pigtail.label
        is_apart = _WIRE + name not in touched
        book.expect(is_apart, "bypass", name, "it is to be capped off, and meets other wires")


def _live_as_told(facts: Facts, book: Book, islands: Islands) -> None:
    """In each state current comes to the posts of the circuits that are live then, and no others.

    A post that nothing need reach may be dead.
    """
    feeds = pigtail_feeds(facts.console) & facts.landing_of.keys()
    starts = {islands.of_wire(PIGTAIL + name) for name in feeds}
    for state, closed, names in live_settings(facts.console):
        live = _live_posts(facts, islands, starts, closed)
        for circuit in facts.console.circuits:
            needed = {post for post in circuit.posts if not facts.posts[post].optional}
            told = circuit.name in names
            wrong = sorted(needed - live if told else live.intersection(circuit.posts))
            is_live = "dead" if told else "live"
            message = f"{state}: {', '.join(wrong[:6])} of {circuit.name} would be {is_live}"
            book.expect(not wrong, "bypass", circuit.name, message)


def _live_posts(
    facts: Facts, islands: Islands, starts: Collection[str], closed: Collection[str]
) -> frozenset[str]:
    """Posts that current comes to from some islands, through closed ways, named by far post."""
    ends = [
        (islands.of_post(way.near), islands.of_post(way.far))
        for way in facts.console.ways
        if way.far in closed
    ]
    seen, grown = set(starts), True
    while grown:
        more = {b for pair in ends for a, b in (pair, pair[::-1]) if a in seen} - seen
        seen |= more
        grown = bool(more)
    return frozenset(post.id for post in facts.console.posts if islands.of_post(post.id) in seen)


def _only(
    facts: Facts, book: Book, circuit: str, posts: Iterable[str], own: frozenset[str], when: str
) -> None:
    """From a circuit's pigtail nothing is reached but posts of these circuits."""
    strange = sorted(post for post in posts if facts.posts[post].circuit not in own)
    told = f"{', '.join(strange[:6])}{' and others' if len(strange) > 6 else ''}"
    message = f"{when} the pigtail of {circuit} reaches {told}"
    book.expect(not strange, "bypass", PIGTAIL + circuit, message)
