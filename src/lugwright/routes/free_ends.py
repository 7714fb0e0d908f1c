"""Leads with a length: where their free ends may go, and routes to where they do. Rule R36."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from lugwright.base.identity import JointId
from lugwright.base.scale import ceil_hypot
from lugwright.limits.schema import Limits
from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Corner, Path, Routes, SplicePoint, Way
from lugwright.scenario.console import Console, Point, Post

Ends = Mapping[JointId, JointId]
"""By a joint's name the candidate splice point at which it lies."""


MOST_TIPS = 6  # of the nearest posts a lead may be brought towards


def farthest_along(path: Path, lead: Post, limits: Limits) -> Point | None:
    """How far a lead goes along a path from its exit, hung at the dress height; None: not at all.

    It stops short of the path's end as a splice does. Rounded towards its exit.
    """
    rise_dmm = abs(lead.at.z_dmm - limits.dress_height_dmm)
    left = min(
        lead.lead_length_dmm - limits.re_termination_dmm - rise_dmm,
        path.path_dmm - limits.splice_to_post_dmm,
    )
    if left <= 0:
        return None
    for one, other in pairwise(corner.at for corner in path.corners):
        dx, dy = other.x_dmm - one.x_dmm, other.y_dmm - one.y_dmm
        long_dmm = ceil_hypot(dx, dy)
        if left <= long_dmm and long_dmm:
            short = max(0, left - 2)  # what rounding to whole tenths of a millimetre may add
            x = one.x_dmm + whole(short * dx, long_dmm)
            y = one.y_dmm + whole(short * dy, long_dmm)
            return Point(x, y, limits.dress_height_dmm)
        left -= long_dmm
    last = path.corners[-1].at
    return Point(last.x_dmm, last.y_dmm, limits.dress_height_dmm)


def whole(part: int, of: int) -> int:
    """A quotient rounded towards nought."""
    return part // of if part >= 0 else -(-part // of)


def free_leads(console: Console) -> tuple[Post, ...]:
    """The leads whose ends are chosen, by id."""
    return tuple(post for post in console.posts if post.lead_length_dmm)


def ends_in_reach(lead: Post, limits: Limits, routes: Routes) -> tuple[SplicePoint, ...]:
    """The candidates of its circuit that a lead's end reaches with one re-termination left over.

    Its path from its exit counts as it is, without slack.
    """
    most_dmm = lead.lead_length_dmm - limits.re_termination_dmm
    return tuple(
        point
        for point in routes.ends_of(lead.id, lead.circuit)
        if (path_dmm := _path_dmm(routes, lead.id, point.id)) is not None and path_dmm <= most_dmm
    )


def _path_dmm(routes: Routes, lead: str, point: str) -> int | None:
    try:
        return routes.between(lead, point).path_dmm
    except NoPath:
        return None


def routes_to_ends(routes: Routes, ends: Ends) -> Routes:
    """The routes with further names for splice points: the ends of leads that lie there.

    Between two joints at one place there is no way to go.
    """
    if not ends:
        return routes
    places = routes.places()
    at = {str(end): str(point) for end, point in ends.items()}

    def find(a: str, b: str) -> Path:
        one, other = at.get(a, a), at.get(b, b)
        if one == other:
            return Path((Corner(places[one]), Corner(places[one])), 0)
        return routes.between(one, other)

    def find_ways(pairs: Sequence[tuple[str, str]]) -> list[Way | None]:
        named = [(at.get(a, a), at.get(b, b)) for a, b in pairs]
        found = iter(routes.ways([pair for pair in named if pair[0] != pair[1]]))
        return [next(found) if a != b else Way(0) for a, b in named]

    def find_entry(entry: Point, post: str) -> Path:
        return routes.from_entry(entry, at.get(post, post))

    return Routes(routes.splices, find, find_entry, find_ways, routes.tips)
