"""What a wire has to go round, and how far from it.

An obstacle of a leg is a body, a keep-out or a foreign stud that is higher than **both** ends of
the leg; so which obstacles there are depends on the higher end alone. A stud counts with its
driver circle (``nuts``). Round each thing lies its margin, the clearance.

A joint may lie inside the margin of an obstacle. It still has to leave, by this rule: the
straight stretch that begins (or ends) at the joint

- ignores the body of the joint's own instrument that the joint lies in,
- keeps, of another body or a keep-out it lies in, the largest margin (whole 0.1 mm) that leaves
  the joint out; a joint inside a solid body or a keep-out cannot leave at all,
- keeps out of a stud's driver circle, whosever stud it is; from a joint inside the circle itself
  it leads outward, no nearer the stud than the joint is; from a joint inside two such circles,
  which may lie on either side of it, it keeps clear of the nuts alone (``Circle``, rule R5a).

Every other stretch of the path keeps the whole margin.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from lugwright.base.scale import ceil_div
from lugwright.limits.schema import Limits
from lugwright.routes.geometry import Box, Outline, Place, cuts, is_inside, rounded_outline
from lugwright.routes.nuts import Circle, nut_radii_dmm
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Instrument, KeepOut, Point, Post

Spot = tuple[Place, str]


@dataclass(frozen=True, order=True)
class Joint:
    """Where a path may begin or end. ``instrument`` is "" in mid-air; ``tie`` names a tie point."""

    at: Point
    id: str
    instrument: str = ""
    tie: str = ""

    @property
    def place(self) -> Place:
        """Its place in the plane, 0.1 mm."""
        return (self.at.x_dmm, self.at.y_dmm)

    @property
    def spot(self) -> Spot:
        """All that decides what is in its way at some height: its place, and whose post it is."""
        return (self.place, self.instrument)


@dataclass(frozen=True)
class Obstacle:
    """One thing in the way: ``box`` grown by ``radius_dmm`` is the thing itself.

    ``margin_dmm`` is kept free round it. ``instrument`` is "" for a keep-out. Of a stud the thing
    is its driver circle, and ``nut_dmm`` the radius of the nut inside.
    """

    name: str
    sort: Literal["body", "keep-out", "nut"]
    instrument: str
    height_dmm: int
    box: Box
    radius_dmm: int
    margin_dmm: int
    nut_dmm: int = 0

    @cached_property
    def outline(self) -> Outline | None:
        """The outline with the whole margin; None when there is nothing to go round."""
        return self.outline_with(self.margin_dmm)

    def outline_with(self, margin_dmm: int) -> Outline | None:
        """The outline with another margin (0: the thing itself)."""
        return rounded_outline(self.box, self.radius_dmm + margin_dmm)

    def outline_leaving_out(self, place: Place) -> Outline | None:
        """The outline with the largest margin that has ``place`` not inside it.

        Where even the thing itself holds the place: the bare outline, which lets nothing out.
        """

        def is_left_in(margin_dmm: int) -> bool:
            outline = self.outline_with(margin_dmm)
            return outline is not None and is_inside(place, outline)

        # Outlines of greater margins hold those of lesser ones, so the margins can be halved.
        least_in = bisect_left(range(self.margin_dmm + 1), True, key=is_left_in)
        return self.outline_with(max(0, least_in - 1))


def obstacles_of(brief: Brief) -> tuple[Obstacle, ...]:
    """Everything behind the panel that a wire may have to go round, lowest first."""
    console, limits = brief.console, brief.limits
    found = [_body(instrument, limits) for instrument in console.instruments]
    found += [_keep_out(keep_out, limits) for keep_out in console.keep_outs]
    nuts_dmm = nut_radii_dmm(brief.stock)
    studs = (post for post in console.posts if post.kind == "stud")
    found += [_nut(post, nuts_dmm.get(post.thread, 0), limits) for post in studs]
    kept = (obstacle for obstacle in found if obstacle.height_dmm > 0 and obstacle.outline)
    return tuple(sorted(kept, key=lambda obstacle: (obstacle.height_dmm, obstacle.name)))


def _body(instrument: Instrument, limits: Limits) -> Obstacle:
    x, y = instrument.centre.x_dmm, instrument.centre.y_dmm
    if instrument.body_width_dmm:
        half_x = ceil_div(instrument.body_width_dmm, 2)
        half_y = ceil_div(instrument.body_height_dmm, 2)
        box, radius_dmm = Box(x - half_x, y - half_y, x + half_x, y + half_y), 0
    else:
        box, radius_dmm = Box(x, y, x, y), ceil_div(instrument.body_dmm, 2)
    return Obstacle(
        name=f"the body of {instrument.name}",
        sort="body",
        instrument=instrument.name,
        # nothing there, nothing to go round
        height_dmm=instrument.body_depth_dmm if box.x0 < box.x1 or radius_dmm else 0,
        box=box,
        radius_dmm=radius_dmm,
        margin_dmm=limits.clearance_dmm,
    )


def _keep_out(keep_out: KeepOut, limits: Limits) -> Obstacle:
    x0, x1 = sorted((keep_out.x0_dmm, keep_out.x1_dmm))
    y0, y1 = sorted((keep_out.y0_dmm, keep_out.y1_dmm))
    return Obstacle(
        name=f"the keep-out {keep_out.name}",
        sort="keep-out",
        instrument="",
        height_dmm=keep_out.height_dmm,
        box=Box(x0, y0, x1, y1),
        radius_dmm=0,
        margin_dmm=limits.clearance_dmm,
    )


def _nut(post: Post, nut_dmm: int, limits: Limits) -> Obstacle:
    x, y = post.at.x_dmm, post.at.y_dmm
    return Obstacle(
        name=f"the nut of {post.id}",
        sort="nut",
        instrument=post.instrument,
        height_dmm=post.at.z_dmm,
        box=Box(x, y, x, y),
        radius_dmm=nut_dmm + limits.nut_driver_room_dmm,
        margin_dmm=limits.clearance_dmm,
        nut_dmm=nut_dmm,
    )


Kept = Outline | Circle | None
"""What a joint's own stretch keeps free of an obstacle the joint lies in; None: nothing."""
Exceptions = Mapping[int, Kept]


class Layer:
    """The obstacles higher than some height, and what one leg meets of them."""

    def __init__(self, obstacles: tuple[Obstacle, ...]) -> None:
        self.obstacles = obstacles
        self.outlines = tuple(
            outline for obstacle in obstacles if (outline := obstacle.outline) is not None
        )
        self._exceptions: dict[Spot, Exceptions] = {}

    def exceptions(self, joint: Joint) -> Exceptions:
        """The obstacles a joint lies in, by index, each with what its own stretch keeps of it."""
        spot = joint.spot
        if spot not in self._exceptions:
            self._exceptions[spot] = dict(self._exceptions_at(*spot))
        return self._exceptions[spot]

    def _exceptions_at(self, place: Place, instrument: str) -> Iterator[tuple[int, Kept]]:
        near = [i for i, outline in enumerate(self.outlines) if is_inside(place, outline)]
        nuts = [i for i in near if self.obstacles[i].sort == "nut"]
        yield from zip(nuts, self._circles_at(place, nuts), strict=True)
        for index in near:
            obstacle = self.obstacles[index]
            if obstacle.sort != "nut":
                own = obstacle.instrument != "" and obstacle.instrument == instrument
                yield index, None if own else obstacle.outline_leaving_out(place)

    def _circles_at(self, place: Place, nuts: Sequence[int]) -> list[Circle]:
        """The circles that a stretch from a place keeps out of, of the studs it lies near."""
        studs = [self.obstacles[index] for index in nuts]
        whole = [Circle((stud.box.x0, stud.box.y0), stud.radius_dmm**2) for stud in studs]
        if sum(circle.holds(place) for circle in whole) < 2:
            return [circle.leaving_out(place) for circle in whole]
        return [
            replace(circle, square=stud.nut_dmm**2).leaving_out(place)
            if circle.holds(place)
            else circle
            for circle, stud in zip(whole, studs, strict=True)
        ]

    def is_wary(self, joint: Joint) -> bool:
        """Whether a joint's own stretch keeps something of a body or keep-out it lies in."""
        return any(isinstance(kept, Outline) for kept in self.exceptions(joint).values())

    def exceptions_of_both(self, a: Joint, b: Joint) -> Exceptions:
        """Exceptions of the straight leg between two joints: the laxer where both have one."""
        ours, theirs = self.exceptions(a), self.exceptions(b)
        if not ours or not theirs:
            return ours or theirs
        both = {**ours, **theirs}
        for index in ours.keys() & theirs.keys():
            both[index] = _smaller(ours[index], theirs[index])
        return both

    def cut_by(self, a: Place, b: Place, exceptions: Exceptions) -> list[int]:
        """Indexes of the obstacles that the straight line cuts through."""
        return [i for i, outline in enumerate(self.outlines) if self.is_cut(i, a, b, exceptions)]

    def is_free(self, a: Place, b: Place, exceptions: Exceptions) -> bool:
        """Whether the straight line cuts through no obstacle."""
        if not exceptions:
            return not any(cuts(a, b, outline) for outline in self.outlines)
        return not any(self.is_cut(i, a, b, exceptions) for i in range(len(self.outlines)))

    def is_cut(self, index: int, a: Place, b: Place, exceptions: Exceptions) -> bool:
        """Whether the straight line cuts through one obstacle."""
        kept = exceptions[index] if index in exceptions else self.outlines[index]
        if isinstance(kept, Circle):
            return kept.is_cut(a, b)
        return kept is not None and cuts(a, b, kept)

    def is_crowded(self, place: Place) -> bool:
        """Whether a place lies inside the margin of an obstacle."""
        return any(is_inside(place, outline) for outline in self.outlines)

    def is_walled_in(self, place: Place) -> bool:
        """Whether a place lies inside a solid body or a keep-out itself."""
        return any(is_inside(place, outline) for outline in self._solid)

    @cached_property
    def _solid(self) -> list[Outline]:
        """Solid bodies and keep-outs without their margins."""
        bare = (obstacle.outline_with(0) for obstacle in self.obstacles if obstacle.sort != "nut")
        return [outline for outline in bare if outline is not None]


def _smaller(one: Kept, other: Kept) -> Kept:
    if one is None or other is None:
        return None
    return min(one, other, key=_size)


def _size(kept: Outline | Circle) -> int:
    return kept.square if isinstance(kept, Circle) else kept.box.x1 - kept.box.x0


class Layers:
    """All layers of a console, one for each set of obstacles a leg can meet."""

    def __init__(self, obstacles: tuple[Obstacle, ...]) -> None:
        """``obstacles`` lowest first."""
        self._obstacles = obstacles
        self.heights_dmm = [obstacle.height_dmm for obstacle in obstacles]
        self._layers: dict[int, Layer] = {}

    def above(self, height_dmm: int) -> Layer:
        """The obstacles that are higher than ``height_dmm``."""
        return self.without_lowest(bisect_right(self.heights_dmm, height_dmm))

    def without_lowest(self, number: int) -> Layer:
        """All obstacles but that many of the lowest."""
        if number not in self._layers:
            self._layers[number] = Layer(self._obstacles[number:])
        return self._layers[number]
