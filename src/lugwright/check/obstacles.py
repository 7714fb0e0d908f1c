"""What stands up behind the panel, and whether a wire runs into it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from lugwright.check.facts import Facts
from lugwright.check.geometry import TOLERANCE_DMM, Outline
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
    least_high = min((max(a.z_dmm, b.z_dmm) for a, b in legs), default=0)
    for outline in outlines:
        if outline.name in own or outline.height_dmm <= least_high:
            continue
        met = [index for index, leg in enumerate(legs) if _is_met(outline, *leg)]
        if not met:
            continue
        first = 1 if _stands_in(outline, span[0]) else 0
        last = len(legs) - (1 if _stands_in(outline, span[-1]) else 0)
        if any(first <= index < last for index in met):
            return outline
    return None


def _is_met(outline: Outline, a: Point, b: Point) -> bool:
    """Whether a leg comes nearer than it may to an outline that is higher than both its ends."""
    if outline.height_dmm <= max(a.z_dmm, b.z_dmm) or outline.is_far_from(a, b):
        return False
    return outline.core.distance_dmm(a, b) < max(outline.clearance_dmm, TOUCH_DMM)


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
