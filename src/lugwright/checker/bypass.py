"""No wire of the plan passes round a way: proved from the plan's wires and the file's devices.

Joints that the plan's wires connect are *islands*; ways lead from island to island, loads conduct
nothing. With every way open (fuses out as well) each pigtail must be apart from all but its own
circuit and what is taken from it; with every way closed it must be apart from all but what the
file feeds from it. So a jumper across a way, two feeds joined, a fuse passed by or a load on the
wrong side of a switch cannot hide. Nothing here looks at where the plan says a wire belongs.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from lugwright.checker.book import Book
from lugwright.checker.facts import PIGTAIL, Facts
from lugwright.checker.positions import is_fitted, reached

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
    for circuit in facts.console.circuits:
        if circuit.pigtail is None or not facts.landing_of.get(circuit.name):
            continue
        start = islands.of_wire(PIGTAIL + circuit.name)
        own = _family(facts, circuit.name)
        open_ = _live_posts(facts, islands, start, closed=False)
        _only(facts, book, circuit.name, open_, own, "with every way open")
        closed = _live_posts(facts, islands, start, closed=True)
        fed = _fed(facts, circuit.name)
        _only(facts, book, circuit.name, closed, fed, "with every way closed")


def _joined(facts: Facts) -> Iterator[tuple[str, str]]:
    """Pairs of parts that are one piece of metal."""
    for row in facts.plan.jumpers:
        for joint in (row.from_joint, row.to_joint):
            yield _WIRE + row.label, _JOINT + joint
    for given in facts.plan.given:
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
            yield _JOINT + post.id, _JOINT + first.setdefault(facts.node(post.id), post.id)


def _each_apart(facts: Facts, book: Book, islands: Islands) -> None:
    """No island holds posts of two circuits, but of one that is taken from the other."""
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


def _live_posts(facts: Facts, islands: Islands, start: str, *, closed: bool) -> frozenset[str]:
    """Posts that current comes to from an island, through all ways or through none."""
    ends = [
        (islands.of_post(way.near), islands.of_post(way.far))
        for way in facts.console.ways
        if closed and way.kind != "stop" and is_fitted(way)
    ]
    seen, grown = {start}, True
    while grown:
        more = {b for pair in ends for a, b in (pair, pair[::-1]) if a in seen} - seen
        seen |= more
        grown = bool(more)
    return frozenset(post.id for post in facts.console.posts if islands.of_post(post.id) in seen)


def _family(facts: Facts, circuit: str) -> frozenset[str]:
    """A circuit and what is taken from it, by plain wire."""
    return frozenset(facts.takers(circuit))


def _fed(facts: Facts, circuit: str) -> frozenset[str]:
    """A circuit and all that the file feeds from it, through any way."""
    every = [way.far for way in facts.console.ways if is_fitted(way)]
    return reached(facts.console, every, [circuit])


def _only(
    facts: Facts, book: Book, circuit: str, posts: Iterable[str], own: frozenset[str], when: str
) -> None:
    """From a circuit's pigtail nothing is reached but posts of these circuits."""
    strange = sorted(post for post in posts if facts.posts[post].circuit not in own)
    told = f"{', '.join(strange[:6])}{' and others' if len(strange) > 6 else ''}"
    message = f"{when} the pigtail of {circuit} reaches {told}"
    book.expect(not strange, "bypass", PIGTAIL + circuit, message)
