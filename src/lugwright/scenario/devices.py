"""The ways of a fitted instrument: each far post with what stands before it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lugwright.base.identity import JointId
from lugwright.base.positions import LANYARD
from lugwright.base.toml import KeyPath
from lugwright.scenario.console import Way
from lugwright.scenario.draft import Draft
from lugwright.scenario.fitting_out import SECTION as INSTRUMENTS
from lugwright.scenario.fitting_out import Fitted
from lugwright.scenario.way_schema import WayPart


@dataclass(frozen=True)
class FittedWay:
    """One way of an instrument, from its near to its far post (names in the instrument).

    ``index`` is its entry under ``ways``, ``number`` its place in that entry's ``to``.
    """

    instrument: Fitted
    index: int
    number: int
    part: WayPart
    far: str

    @property
    def near(self) -> str:
        """Name of the near post."""
        return self.part.near

    @property
    def near_id(self) -> str:
        """The near post as ``instrument.post``."""
        return self.instrument.post_id(self.near)

    @property
    def far_id(self) -> str:
        """The far post as ``instrument.post``."""
        return self.instrument.post_id(self.far)

    @property
    def is_stop(self) -> bool:
        """True for a way that stops an engine by going to ground."""
        return self.part.kind == "stop"

    @property
    def amperes_ma(self) -> int:
        """Rating of its fuse or breaker; 0: an empty holder."""
        return self.instrument.part.amperes.get(self.far) or self.part.amperes or 0

    @property
    def is_empty(self) -> bool:
        """True for a fuse or breaker without a rating: nothing passes."""
        return self.part.kind in ("fuse", "breaker") and not self.amperes_ma

    def path(self, draft: Draft, *keys: str | int) -> KeyPath:
        """Where the file says it: in the instrument's own drawing, else at its name."""
        return ways_path(draft, self.instrument, self.index, *keys)

    def way(self) -> Way:
        """The way as the console has it."""
        part = self.part
        return Way(
            instrument=self.instrument.name,
            near=JointId(self.near_id),
            far=JointId(self.far_id),
            kind=part.kind,
            closed=() if part.is_always else part.closed or (),
            carries_ma=part.carries or 0,
            amperes_ma=self.amperes_ma,
            contact_uohm=part.contact,
            rated_for=tuple(sorted(set(part.rated_for))),
            trip_free=part.trip_free,
            as_switch=part.as_switch,
            suits=tuple(sorted(set(part.suits))),
        )


def ways_path(draft: Draft, instrument: Fitted, *keys: str | int) -> KeyPath:
    """Where the file says what an instrument's ways are: in its own drawing, else at its name."""
    if instrument.part.geometry is None:
        return draft.path(INSTRUMENTS, instrument.index, "name")
    return draft.path(INSTRUMENTS, instrument.index, "geometry", "ways", *keys)


def ways_of(instrument: Fitted) -> tuple[FittedWay, ...]:
    """Every way between two posts that are there, in the order of the file."""
    return tuple(
        FittedWay(instrument, index, number, part, far)
        for index, part in enumerate(instrument.pattern.ways)
        for number, far in enumerate(part.to)
        if part.near in instrument.posts and far in instrument.posts and far != part.near
    )


def all_ways(fitted: Iterable[Fitted]) -> dict[str, FittedWay]:
    """Every way of the panel by its far post's id; the first where a post is far side twice."""
    found: dict[str, FittedWay] = {}
    for instrument in fitted:
        for way in ways_of(instrument):
            found.setdefault(way.far_id, way)
    return found


def ends_of(instrument: Fitted) -> set[str]:
    """Names of the posts at which a way begins or ends."""
    return {post for way in ways_of(instrument) for post in (way.near, way.far)}


def has_bad_ends(instrument: Fitted) -> bool:
    """True where a way begins or ends at no post, or at one post: that is said at the way."""
    return len(ways_of(instrument)) < sum(len(part.to) for part in instrument.pattern.ways)


def is_device(instrument: Fitted) -> bool:
    """True for an instrument that switches, protects or sets what passes."""
    return bool(instrument.pattern.ways)


def positions_of(instrument: Fitted) -> tuple[str, ...]:
    """The positions a way may be closed in, the lanyard's included."""
    own = instrument.pattern.positions
    return (*own, *LANYARD) if instrument.pattern.lanyard else own
