"""What stands up behind the panel, and whether a wire runs into it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from lugwright.checker.facts import Facts
from lugwright.checker.geometry import TOLERANCE_DMM, Outline
from lugwright.checker.nut_room import NutRoom, nut_corner_dmm
from lugwright.scenario.console import Point

POLYGON_REACH = 1.02  # a sixteen-sided outline reaches this much further out than the circle
TOUCH_DMM = 0.001  # below this a leg meets what it should clear


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
            corner_dmm = nut_corner_dmm(nut.across_flats_um) if nut else 0
            found.append(
                NutRoom(post.id, post.at.x_dmm, post.at.y_dmm,
                        corner_dmm + limits.nut_driver_room_dmm, 0.0, 0.0,
                        post.at.z_dmm, limits.clearance_dmm, corner_dmm)
            )  # fmt: skip
    return found


def blocking(
    outlines: Sequence[Outline], span: Sequence[Point], own: Sequence[str]
) -> Outline | None:
    """What a span runs into, or None. ``own``: the wire's own joints, never in its way.

    A body or keep-out that an end of the span stands in, its clearance included, is not in the
    way of the leg that begins or ends there; every other leg keeps clear of it. Of a stud that an
    end stands near, that leg keeps what is left to it (``NutRoom.is_met_leaving``).
    """
    legs = list(pairwise(span))
    least_high = min((max(a.z_dmm, b.z_dmm) for a, b in legs), default=0)
    for outline in outlines:
        if outline.name in own or outline.height_dmm <= least_high:
            continue
        near = [end for end in (span[0], span[-1]) if _stands_in(outline, end)]
        for index, leg in enumerate(legs):
            ends = [leg[at] for at in (0, 1) if _is_end(span, index + at) and leg[at] in near]
            if _is_met(outlines, outline, leg, ends):
                return outline
    return None


def _is_end(span: Sequence[Point], index: int) -> bool:
    return index in (0, len(span) - 1)


def _is_met(
    outlines: Sequence[Outline], outline: Outline, leg: tuple[Point, Point], ends: Sequence[Point]
) -> bool:
    """Whether a leg comes nearer than it may to an outline that is higher than both its ends.

    ``ends``: those ends of the leg where the wire begins or ends, standing in the outline.
    """
    high = max(leg[0].z_dmm, leg[1].z_dmm)
    if outline.height_dmm <= high or outline.is_far_from(*leg):
        return False
    if not isinstance(outline, NutRoom):
        room = max(outline.clearance_dmm, TOUCH_DMM)
        return not ends and outline.core.distance_dmm(*leg) < room
    if not ends:
        return outline.is_nearer(*leg, outline.whole_dmm**2)
    higher = [o for o in outlines if isinstance(o, NutRoom) and o.height_dmm > high]
    crowded = [sum(room.holds(end) for room in higher) > 1 for end in ends]
    return outline.is_met_leaving(*leg, dict(zip(ends, crowded, strict=True)))


def is_surely_free(outlines: Sequence[Outline], a: Point, b: Point, own: str) -> bool:
    """Whether nothing that is higher than both ends comes near the straight leg a to b.

    However the outlines are rounded, and even where an end stands in one: the straight leg is the
    way. ``own`` is the post at ``a``, which is never in the way.
    """
    high = max(a.z_dmm, b.z_dmm)
    return all(
        outline.name == own
        or outline.height_dmm <= high
        or outline.distance_dmm(a, b) > _room(outline)
        for outline in outlines
    )


def _stands_in(outline: Outline, end: Point) -> bool:
    return outline.distance_dmm(end, end) <= _room(outline)


def _room(outline: Outline) -> float:
    """Farther from an outline than this, nothing of it or its clearance is met."""
    grown = (outline.radius_dmm + outline.clearance_dmm) * POLYGON_REACH - outline.radius_dmm
    return max(grown, outline.clearance_dmm) + TOLERANCE_DMM
