"""The loom: tie points a path runs over, legs between them, and where each joint joins it."""

from __future__ import annotations

import heapq
from collections.abc import Mapping, Sequence
from itertools import pairwise

from lugwright.base.scale import mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.geometry import Outline, leg_dmm, linked, path_dmm, place
from lugwright.checker.obstacles import is_surely_free
from lugwright.checker.routed import Routed
from lugwright.plans.schema import Waypoint
from lugwright.scenario.console import Console, Point, TiePoint

RULES_OF_COUNTING = "the counting rules"


def tie_at(console: Console, corner: Waypoint) -> str:
    """The tie point a waypoint is, by name or else by place; "" when it is none."""
    if corner.tie:
        return corner.tie
    here = place(corner)
    return next((tie.name for tie in console.tie_points if tie.at == here), "")


def loom_legs(
    console: Console, path: Sequence[Waypoint]
) -> tuple[tuple[tuple[str, str], ...], bool]:
    """The loom legs a path uses, as sorted pairs of tie points, and whether any leg is off them."""
    links = linked(console.tie_points)
    legs: list[tuple[str, str]] = []
    off_loom = False
    names = [tie_at(console, corner) for corner in path]
    for a, b in pairwise(names):
        if a and b and b in links.get(a, ()):
            legs.append((min(a, b), max(a, b)))
        else:
            off_loom = True
    return tuple(legs), off_loom


def along_links_dmm(
    points: Mapping[str, TiePoint], links: Mapping[str, set[str]], first: str, last: str
) -> int | None:
    """Shortest way along the links between two tie points, 0.1 mm; None where none leads.

    E. W. Dijkstra, "A note on two problems in connexion with graphs", Numerische Mathematik 1,
    1959.
    """
    waiting, done = [(0, first)], set()
    while waiting:
        length, here = heapq.heappop(waiting)
        if here == last:
            return length
        if here in done:
            continue
        done.add(here)
        for other in links.get(here, set()) & points.keys():
            heapq.heappush(waiting, (length + leg_dmm(points[here].at, points[other].at), other))
    return None


def check_loom(facts: Facts, book: Book, wire: Routed, outlines: Sequence[Outline]) -> None:
    """Tie points that are there, joined along stated links, the nearest one at each end.

    Rule R5.
    """
    points = {tie.name: tie for tie in facts.console.tie_points}
    for corner in wire.path:
        if corner.tie:
            tie = points.get(corner.tie)
            message = f'there is no tie point "{corner.tie}" at {_where(corner)}'
            there = tie is not None and tie.at == place(corner)
            book.expect(there, "loom", wire.name, message)
    if not points:
        return
    message = "it runs from one instrument to another over no tie point"
    over = [at for at, corner in enumerate(wire.path) if tie_at(facts.console, corner) in points]
    if not book.expect(bool(over) or wire.direct, "loom", wire.name, message) or wire.direct:
        return
    _along(facts, book, wire, wire.path[over[0] : over[-1] + 1])
    start, end = wire.joints
    _nearest(facts, book, wire, start, wire.path[: over[0] + 1], outlines)
    _nearest(facts, book, wire, end, wire.path[over[-1] :][::-1], outlines)


def _along(facts: Facts, book: Book, wire: Routed, part: Sequence[Waypoint]) -> None:
    """From its first to its last tie point a wire keeps to the links, the shortest way."""
    points = {tie.name: tie for tie in facts.console.tie_points}
    links = linked(facts.console.tie_points)
    names = [tie_at(facts.console, corner) for corner in part]
    for a, b in pairwise(names):
        message = f"tie point {a or 'none'} does not lead on to {b or 'none'}"
        book.expect(a == b or b in links.get(a, ()), "loom", wire.name, message)
    shortest = along_links_dmm(points, links, names[0], names[-1])
    length = path_dmm(part)
    if shortest is not None:
        message = f"it does not take the shortest way from {names[0]} to {names[-1]}"
        measured, limit = f"{mm_text(length)} mm", f"{mm_text(shortest)} mm"
        fine = length <= shortest
        book.expect(fine, "loom", wire.name, message, measured, limit, RULES_OF_COUNTING)


def _nearest(
    facts: Facts,
    book: Book,
    wire: Routed,
    joint: str,
    spur: Sequence[Waypoint],
    outlines: Sequence[Outline],
) -> None:
    """A joint joins the loom at its nearest tie point, as far as straight spurs can tell.

    ``spur`` leads from the joint to the tie point. A tie point counts as nearer only where
    nothing stands in the straight spur to it.
    """
    start, name = place(spur[0]), tie_at(facts.console, spur[-1])
    length = path_dmm(spur)
    nearer = [
        (leg_dmm(start, tie.at), tie.name)
        for tie in facts.console.tie_points
        if tie.name != name
        and (leg_dmm(start, tie.at), tie.name) < (length, name)
        and is_surely_free(outlines, start, tie.at, joint)
    ]
    near_dmm, near = min(nearer, default=(length, name))
    message = f"from {_where(spur[0])} it joins the loom at {name}, but {near} is nearer"
    measured, limit = f"{mm_text(length)} mm", f"{mm_text(near_dmm)} mm"
    book.expect(not nearer, "loom", wire.name, message, measured, limit, RULES_OF_COUNTING)


def _where(corner: Waypoint) -> str:
    return place_text(place(corner))


def place_text(point: Point) -> str:
    """A place in mm, back view."""
    return "(" + ", ".join(mm_text(part) for part in (point.x_dmm, point.y_dmm, point.z_dmm)) + ")"
