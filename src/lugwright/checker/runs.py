"""Where each wire runs: from joint to joint, over the tie points, clear of what stands higher."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from lugwright.base.scale import mm_text
from lugwright.checker.book import Book
from lugwright.checker.facts import Facts
from lugwright.checker.geometry import Outline, place
from lugwright.checker.loom import RULES_OF_COUNTING, check_loom, place_text, tie_at
from lugwright.checker.nut_room import NutRoom
from lugwright.checker.obstacles import blocking, standing_outlines
from lugwright.checker.routed import Routed, routed_wires
from lugwright.plans.schema import Waypoint
from lugwright.scenario.console import Console, Point


def check_runs(facts: Facts, book: Book) -> None:
    """Corners, tie points and clearances of every wire, cut or given, that has a path."""
    outlines = standing_outlines(facts)
    for wire in routed_wires(facts):
        if not wire.path:
            book.complain("run", wire.name, "the plan does not say where it runs")
            continue
        _ends(book, wire)
        _corner_heights(facts, book, wire)
        check_loom(facts, book, wire, outlines)
        _clear(facts, book, wire, outlines)


def _ends(book: Book, wire: Routed) -> None:
    first, last = place(wire.path[0]), place(wire.path[-1])
    if wire.either_way and first == wire.end:
        first, last = last, first
    for own, stated, which in ((wire.start, first, "start"), (wire.end, last, "end")):
        if own is not None:
            message = f"its path does not {which} at its joint (seen from the back, in mm)"
            measured, limit = place_text(stated), place_text(own)
            book.expect(own == stated, "run", wire.name, message, measured, limit, "console")


def _spans(console: Console, path: Sequence[Waypoint]) -> Iterator[Sequence[Waypoint]]:
    """The path cut up at its tie points: each span runs from joint or tie to joint or tie."""
    first = 0
    for index, corner in enumerate(path):
        if index and (tie_at(console, corner) or index == len(path) - 1):
            yield path[first : index + 1]
            first = index


def _corner_heights(facts: Facts, book: Book, wire: Routed) -> None:
    for span in _spans(facts.console, wire.path):
        high = max(span[0].z_dmm, span[-1].z_dmm)
        for corner in span[1:-1]:
            message = (
                f"a corner at {place_text(place(corner))} is not at the height of the higher end"
            )
            level = corner.z_dmm == high
            measured, limit = f"{mm_text(corner.z_dmm)} mm", f"{mm_text(high)} mm"
            book.expect(level, "run", wire.name, message, measured, limit, RULES_OF_COUNTING)


def _clear(facts: Facts, book: Book, wire: Routed, outlines: Sequence[Outline]) -> None:
    for span in _spans(facts.console, wire.path):
        if len(span) == 2 and tie_at(facts.console, span[0]) and tie_at(facts.console, span[1]):
            continue  # a stated link: where the loom lies is the scenario's word
        points = [place(corner) for corner in span]
        hit = blocking(outlines, points, wire.joints)
        if hit is None:
            book.expect(True, "obstacle", wire.name, "")
            continue
        message = f"it runs into {hit.name}, which stands higher than both ends of the leg"
        measured, limit, name = _how_near(hit, points)
        origin = facts.limits.origin(name)
        book.expect(False, "obstacle", wire.name, message, measured, limit, origin)


def _how_near(hit: Outline, points: Sequence[Point]) -> tuple[str, str, str]:
    """How near a span comes to what it runs into, what is wanted, and the limit that says so."""
    wanted_dmm, name, words = hit.clearance_dmm, "clearance_dmm", "mm"
    if isinstance(hit, NutRoom):
        wanted_dmm, name, words = hit.whole_dmm, "nut_driver_room_dmm", "mm from its axis"
        hit = hit.axis
    near_dmm = min(hit.distance_dmm(a, b) for a, b in pairwise(points))
    return f"{near_dmm / 10:.1f} {words}", f"{mm_text(wanted_dmm)} {words}", name
