"""What a wire has to go round, and how far from it.

An obstacle of a leg is a body, a keep-out or a foreign stud that is higher than **both** ends of
the leg; so which obstacles there are depends on the higher end alone. Round each lies its margin:
the clearance, and for a stud also the room of its nut driver.

A joint may lie inside the margin of an obstacle. It still has to leave, by this rule: the
straight stretch that begins (or ends) at the joint

- ignores an obstacle of the joint's own instrument that the joint lies in,
- keeps, of any other obstacle it lies in, the largest margin (whole 0.1 mm) that leaves the
  joint out; a nut right overhead is passed beneath; a joint inside a solid body or a keep-out
  cannot leave at all.

Every other stretch of the path keeps the whole margin.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import isqrt
from typing import Literal

from lugwright.base.errors import OutsideTable
from lugwright.base.scale import ceil_div
from lugwright.limits.schema import Limits
from lugwright.routes.geometry import Box, Outline, Place, cuts, is_inside, rounded_outline
from lugwright.scenario.console import Console, Instrument, KeepOut, Point, Post

# Width across flats of the nut, micrometres, by size of thread. Unified: ASME B18.6.3 machine
# screw nuts (5/16, 11/32, 3/8, 7/16 in). Metric: from memory (ISO 4032).
_ACROSS_FLATS_UM = {
    "#6": 7938,
    "#8": 8732,
    "#10": 9525,
    "1/4": 11113,
    "M3.5": 6000,
    "M4": 7000,
    "M5": 8000,
    "M6": 10000,
}


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

    ``margin_dmm`` is kept free round it. ``instrument`` is "" for a keep-out.
    """

    name: str
    sort: Literal["body", "keep-out", "nut"]
    instrument: str
    height_dmm: int
    box: Box
    radius_dmm: int
    margin_dmm: int

    @cached_property
    def outline(self) -> Outline | None:
        """The outline with the whole margin; None when there is nothing to go round."""
        return self.outline_with(self.margin_dmm)

    def outline_with(self, margin_dmm: int) -> Outline | None:
        """The outline with another margin (0: the thing itself)."""
        return rounded_outline(self.box, self.radius_dmm + margin_dmm)

    def outline_leaving_out(self, place: Place) -> Outline | None:
        """The outline with the largest margin that has ``place`` not inside it.

        Where even the thing itself holds the place: None for a nut (the wire passes beneath),
        else the bare outline, which lets nothing out.
        """

        def is_left_in(margin_dmm: int) -> bool:
            outline = self.outline_with(margin_dmm)
            return outline is not None and is_inside(place, outline)

        # Outlines of greater margins hold those of lesser ones, so the margins can be halved.
        least_in = bisect_left(range(self.margin_dmm + 1), True, key=is_left_in)
        if least_in == 0:
            return None if self.sort == "nut" else self.outline_with(0)
        return self.outline_with(least_in - 1)


def nut_radius_dmm(thread: str) -> int:
    """Radius of the circle round a stud's nut, 0.1 mm, rounded up.

    A hexagon of width s across flats has corners at s / sqrt(3) (elementary geometry). Raises
    OutsideTable for a thread whose nut is not known.
    """
    size = thread.split(" ")[0].split("-")[0]
    if size not in _ACROSS_FLATS_UM:
        known = ", ".join(_ACROSS_FLATS_UM)
        raise OutsideTable(f"thread {thread!r}: the width of its nut is not known (known: {known})")
    across_um = _ACROSS_FLATS_UM[size]
    # isqrt rounds down and the quotient up: s / sqrt(3) = sqrt(s^2 / 3)
    return ceil_div(isqrt(across_um * across_um // 3) + 1, 100)


def obstacles_of(console: Console, limits: Limits) -> tuple[Obstacle, ...]:
    """Everything behind the panel that a wire may have to go round, lowest first.

    Raises OutsideTable for a stud whose thread is not in the table of nuts.
    """
    found = [_body(instrument, limits) for instrument in console.instruments]
    found += [_keep_out(keep_out, limits) for keep_out in console.keep_outs]
    found += [_nut(post, limits) for post in console.posts if post.kind == "stud"]
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


def _nut(post: Post, limits: Limits) -> Obstacle:
    x, y = post.at.x_dmm, post.at.y_dmm
    return Obstacle(
        name=f"the nut of {post.id}",
        sort="nut",
        instrument=post.instrument,
        height_dmm=post.at.z_dmm,
        box=Box(x, y, x, y),
        radius_dmm=nut_radius_dmm(post.thread),
        margin_dmm=limits.nut_driver_room_dmm + limits.clearance_dmm,
    )


Exceptions = Mapping[int, Outline | None]


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

    def _exceptions_at(self, place: Place, instrument: str) -> Iterator[tuple[int, Outline | None]]:
        for index, outline in enumerate(self.outlines):
            if is_inside(place, outline):
                obstacle = self.obstacles[index]
                own = obstacle.instrument != "" and obstacle.instrument == instrument
                yield index, None if own else obstacle.outline_leaving_out(place)

    def is_wary(self, joint: Joint) -> bool:
        """Whether a joint's own stretch keeps anything of the obstacles it lies in."""
        return any(outline is not None for outline in self.exceptions(joint).values())

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
        outline = exceptions[index] if index in exceptions else self.outlines[index]
        return outline is not None and cuts(a, b, outline)

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


def _smaller(one: Outline | None, other: Outline | None) -> Outline | None:
    if one is None or other is None:
        return None
    return min(one, other, key=lambda outline: outline.box.x1 - outline.box.x0)


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
