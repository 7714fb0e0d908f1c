"""Where each wire runs: from joint to joint, over the tie points, clear of what stands higher."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from lugwright.base.scale import mm_text
from lugwright.check.book import Book
from lugwright.check.facts import Facts
from lugwright.check.geometry import Outline, linked
from lugwright.plan.schema import Jumper, Waypoint
from lugwright.scenario.console import Console, Point

# A round outline may be routed as a polygon whose corners are rounded to 0.1 mm, so a wire may
# come this much nearer than the clearance; a sixteen-sided outline reaches this much further out.
TOLERANCE_DMM = 2
POLYGON_REACH = 1.02
TOUCH_DMM = 0.001  # below this a leg meets what it should clear


def check_runs(facts: Facts, book: Book) -> None:
    """Corners, tie points and clearances of every cut wire that has a path."""
    outlines = standing_outlines(facts)
    links = linked(facts.console.tie_points)
    for wire in facts.plan.jumpers:
        if not wire.path:
            routed = wire.role == "extension"
            book.expect(routed, "run", wire.label, "the plan does not say where it runs")
            continue
        _ends(facts, book, wire)
        _corner_heights(facts, book, wire)
        _over_ties(facts, book, wire, links)
        _clear(facts, book, wire, outlines)


def place(corner: Waypoint) -> Point:
    """A waypoint as a point."""
    return Point(corner.x_dmm, corner.y_dmm, corner.z_dmm)


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


def wire_ends(facts: Facts, wire: Jumper) -> tuple[Point | None, Point | None]:
    """Where a path must start and end; an extension's is that of the wire it lengthens."""
    for name, extension in facts.extension_of.items():
        if extension.label == wire.label:
            given = facts.panel_wires.get(name)
            return (given.entry, facts.at(given.post)) if given else (None, None)
    return facts.at(wire.from_joint), facts.at(wire.to_joint)


def _ends(facts: Facts, book: Book, wire: Jumper) -> None:
    start, end = wire_ends(facts, wire)
    first, last = place(wire.path[0]), place(wire.path[-1])
    if wire.role == "extension" and first == end:
        first, last = last, first
    for own, stated, which in ((start, first, "start"), (end, last, "end")):
        if own is not None:
            message = f"its path does not {which} at its joint (seen from the back, in mm)"
            book.expect(own == stated, "run", wire.label, message, _mm(stated), _mm(own), "console")


def _mm(point: Point) -> str:
    parts = (point.x_dmm, point.y_dmm, point.z_dmm)
    return "(" + ", ".join(mm_text(part) for part in parts) + ")"


def _spans(console: Console, path: Sequence[Waypoint]) -> Iterator[Sequence[Waypoint]]:
    """The path cut up at its tie points: each span runs from joint or tie to joint or tie."""
    first = 0
    for index, corner in enumerate(path):
        if index and (tie_at(console, corner) or index == len(path) - 1):
            yield path[first : index + 1]
            first = index


def _corner_heights(facts: Facts, book: Book, wire: Jumper) -> None:
    for span in _spans(facts.console, wire.path):
        high = max(span[0].z_dmm, span[-1].z_dmm)
        for corner in span[1:-1]:
            message = f"a corner at {_mm(place(corner))} is not at the height of the higher end"
            level = corner.z_dmm == high
            measured, limit = f"{mm_text(corner.z_dmm)} mm", f"{mm_text(high)} mm"
            book.expect(level, "run", wire.label, message, measured, limit, "the counting rules")


def _over_ties(facts: Facts, book: Book, wire: Jumper, links: dict[str, set[str]]) -> None:
    ties = {tie.name: tie for tie in facts.console.tie_points}
    for corner in wire.path:
        if corner.tie:
            tie = ties.get(corner.tie)
            message = f'there is no tie point "{corner.tie}" at {_mm(place(corner))}'
            there = tie is not None and tie.at == place(corner)
            book.expect(there, "loom", wire.label, message)
    if not ties:
        return
    names = [tie_at(facts.console, corner) for corner in wire.path]
    for a, b in pairwise(names):
        if a and b and a != b:
            message = f"tie point {a} does not lead on to {b}"
            book.expect(b in links.get(a, ()), "loom", wire.label, message)
    instruments = {
        facts.posts[joint].instrument if joint in facts.posts else f"at {joint}"
        for joint in (wire.from_joint, wire.to_joint)
    }
    direct = len(instruments) == 1 and wire.role == "jumper"
    message = "it runs from one instrument to another over no tie point"
    book.expect(direct or any(names), "loom", wire.label, message)


def standing_outlines(facts: Facts) -> list[Outline]:
    """Everything a wire may have to go round: bodies, keep-outs and studs with their nuts."""
    limits, found = facts.limits, []
    for one in facts.console.instruments:
        if one.body_depth_dmm > 0:
            x, y = one.centre.x_dmm, one.centre.y_dmm
            half_x, half_y = one.body_width_dmm / 2, one.body_height_dmm / 2
            radius = 0.0 if half_x else one.body_dmm / 2
            found.append(
                Outline(f"body of {one.name}", x, y, radius, half_x, half_y,
                        one.body_depth_dmm, limits.clearance_dmm)
            )  # fmt: skip
    for zone in facts.console.keep_outs:
        x0, x1 = sorted((zone.x0_dmm, zone.x1_dmm))
        y0, y1 = sorted((zone.y0_dmm, zone.y1_dmm))
        found.append(
            Outline(f"keep-out {zone.name}", (x0 + x1) / 2, (y0 + y1) / 2, 0.0, (x1 - x0) / 2,
                    (y1 - y0) / 2, zone.height_dmm, limits.clearance_dmm)
        )  # fmt: skip
    for post in facts.console.posts:
        if post.kind == "stud":
            nut = facts.hardware.get(post.thread)
            radius = nut.across_flats_um / 200 if nut else 0.0
            found.append(
                Outline(post.id, post.at.x_dmm, post.at.y_dmm, radius, 0.0, 0.0,
                        post.at.z_dmm, limits.nut_driver_room_dmm)
            )  # fmt: skip
    return found


def blocking(
    outlines: Sequence[Outline], span: Sequence[Point], own: Sequence[str]
) -> Outline | None:
    """What a span runs into, or None. ``own``: the wire's own joints, never in its way.

    What an end of the span stands in, its clearance included, is not in the way of the leg that
    begins or ends there; every other leg keeps clear of it.
    """
    legs = list(pairwise(span))
    for outline in outlines:
        if outline.name in own:
            continue
        first = 1 if _stands_in(outline, span[0]) else 0
        last = len(legs) - (1 if _stands_in(outline, span[-1]) else 0)
        core = outline.shrunk(TOLERANCE_DMM)
        for a, b in legs[first:last]:
            lower = outline.height_dmm <= max(a.z_dmm, b.z_dmm)
            if not lower and core.distance_dmm(a, b) < max(outline.clearance_dmm, TOUCH_DMM):
                return outline
    return None


def _stands_in(outline: Outline, end: Point) -> bool:
    grown = (outline.radius_dmm + outline.clearance_dmm) * POLYGON_REACH - outline.radius_dmm
    room = max(grown, outline.clearance_dmm) + TOLERANCE_DMM
    return outline.distance_dmm(end, end) <= room


def _clear(facts: Facts, book: Book, wire: Jumper, outlines: Sequence[Outline]) -> None:
    for span in _spans(facts.console, wire.path):
        if len(span) == 2 and tie_at(facts.console, span[0]) and tie_at(facts.console, span[1]):
            continue  # a stated link: where the loom lies is the scenario's word
        points = [place(corner) for corner in span]
        hit = blocking(outlines, points, (wire.from_joint, wire.to_joint))
        if hit is None:
            book.expect(True, "obstacle", wire.label, "")
            continue
        near = min(hit.distance_dmm(a, b) for a, b in pairwise(points))
        name = "nut_driver_room_dmm" if hit.name in facts.posts else "clearance_dmm"
        message = f"it runs into {hit.name}, which stands higher than both ends of the leg"
        measured, limit = f"{near / 10:.1f} mm", f"{mm_text(hit.clearance_dmm)} mm"
        origin = facts.limits.origin(name)
        book.expect(False, "obstacle", wire.label, message, measured, limit, origin)
