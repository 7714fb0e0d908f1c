"""Routes for tests: straight lines, nothing in the way; over the tie points where there are any."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from itertools import combinations, pairwise
from math import hypot

from lugwright.base.scale import ceil_hypot
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Corner, Path, Routes, SplicePoint
from lugwright.scenario.console import Console, Point


def leg_dmm(a: Point, b: Point) -> int:
    """Length of one straight leg: the plane part rounded up, and the height difference."""
    return ceil_hypot(a.x_dmm - b.x_dmm, a.y_dmm - b.y_dmm) + abs(a.z_dmm - b.z_dmm)


def path_over(corners: Iterable[Corner]) -> Path:
    """The path through these corners; a leg between two tie points is a loom leg."""
    points = tuple(corners)
    legs: list[tuple[str, str]] = []
    length = 0
    for one, other in pairwise(points):
        length += leg_dmm(one.at, other.at)
        if one.tie and other.tie and one.tie != other.tie:
            low, high = sorted((one.tie, other.tie))
            legs.append((low, high))
    return Path(points, length, tuple(legs))


class _Loom:
    """Shortest ways over the tie points of a console.

    E. W. Dijkstra, "A note on two problems in connexion with graphs", Numerische
    Mathematik 1, 1959.
    """

    def __init__(self, console: Console) -> None:
        self.at = {tie.name: tie.at for tie in console.tie_points}
        self.next: dict[str, set[str]] = {name: set() for name in self.at}
        for tie in console.tie_points:
            for other in tie.to:
                self.next[tie.name].add(other)
                self.next[other].add(tie.name)

    def nearest(self, place: Point) -> str:
        """The tie point at which a wire from here joins the loom; equally near ones by name."""
        return min(self.at, key=lambda name: (leg_dmm(place, self.at[name]), name))

    def between(self, start: Point, end: Point) -> Path:
        """From one place over the tie points nearest to both ends; equal lengths go by name.

        Raises NoPath when the links do not join those two tie points.
        """
        first, last = self.nearest(start), self.nearest(end)
        waiting: list[tuple[int, tuple[str, ...]]] = [(0, (first,))]
        done: set[str] = set()
        while waiting:
            waiting.sort()
            length, names = waiting.pop(0)
            here = names[-1]
            if here == last:
                corners = (Corner(self.at[name], name) for name in names)
                return path_over((Corner(start), *corners, Corner(end)))
            if here in done:
                continue
            done.add(here)
            for other in sorted(self.next[here] - done):
                further = length + leg_dmm(self.at[here], self.at[other])
                waiting.append((further, (*names, other)))
        raise NoPath(first, last, ("no links",))


def straight_routes(console: Console, splices: Mapping[str, tuple[SplicePoint, ...]]) -> Routes:
    """Routes of a console without obstacles, with these candidate splice points per circuit."""
    loom = _Loom(console) if console.tie_points else None
    instrument = {post.id: post.instrument for post in console.posts}
    places = {post.id: post.at for post in console.posts}
    places.update({point.id: point.at for points in splices.values() for point in points})

    def run(a: str, b: str) -> Path:
        same = a in instrument and b in instrument and instrument[a] == instrument[b]
        if loom is None or same:
            return path_over((Corner(places[a]), Corner(places[b])))
        return loom.between(places[a], places[b])

    @cache
    def find(a: str, b: str) -> Path:
        if a <= b:
            return run(a, b)
        forth = run(b, a)
        return Path(forth.corners[::-1], forth.path_dmm, forth.loom_legs[::-1])

    @cache
    def find_entry(entry: Point, post: str) -> Path:
        if loom is None:
            return path_over((Corner(entry), Corner(places[post])))
        return loom.between(entry, places[post])

    return Routes(splices, find, find_entry)


def middle_of(points: tuple[Point, ...], height_dmm: int) -> Point:
    """The place with nearly the least summed plane distance to some points, to 0.1 mm.

    Fifty rounds of E. Weiszfeld, "Sur le point pour lequel la somme des distances de n points
    donnés est minimum", Tohoku Mathematical Journal 43, 1937.
    """
    x = sum(point.x_dmm for point in points) / len(points)
    y = sum(point.y_dmm for point in points) / len(points)
    for _ in range(50):
        pulls = [1 / max(1.0, hypot(x - p.x_dmm, y - p.y_dmm)) for p in points]
        x = sum(w * p.x_dmm for w, p in zip(pulls, points, strict=True)) / sum(pulls)
        y = sum(w * p.y_dmm for w, p in zip(pulls, points, strict=True)) / sum(pulls)
    return Point(round(x), round(y), height_dmm)


def splice_candidates(
    console: Console, circuit: str, height_dmm: int, most: int
) -> tuple[SplicePoint, ...]:
    """Up to ``most`` candidate splice points of a circuit: tie points first, then meeting points.

    The meeting points are those of the tightest triples of the circuit's posts.
    """
    places = [(tie.at, tie.name) for tie in console.tie_points]
    posts = [console.post(post).at for post in console.circuit(circuit).posts]
    triples = list(combinations(posts, 3))
    triples.sort(key=lambda three: sum(leg_dmm(a, b) for a, b in combinations(three, 2)))
    places += [(middle_of(three, height_dmm), "") for three in triples]
    chosen = list(dict.fromkeys(places))[:most]
    named = [
        SplicePoint(f"{circuit}~{number}", circuit, at, tie)
        for number, (at, tie) in enumerate(chosen, start=1)
    ]
    return tuple(named)
