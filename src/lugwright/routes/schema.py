"""Routed paths and candidate splice points."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from lugwright.base.identity import JointId
from lugwright.routes.errors import NoPath
from lugwright.scenario.console import Point


@dataclass(frozen=True)
class Corner:
    """A point of a path; ``tie`` names the tie point it is, or ""."""

    at: Point
    tie: str = ""


@dataclass(frozen=True)
class Path:
    """Where a wire runs: corners from joint to joint, and its length (0.1 mm, heights included).

    ``loom_legs`` are the legs between linked tie points it uses, each as a sorted name pair.
    """

    corners: tuple[Corner, ...]
    path_dmm: int
    loom_legs: tuple[tuple[str, str], ...] = ()


class Way(NamedTuple):
    """A path without its corners: its length (0.1 mm) and the loom legs it uses."""

    path_dmm: int
    loom_legs: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, order=True)
class SplicePoint:
    """A place where a splice of ``circuit`` may hang. ``id`` is unique over all circuits."""

    id: JointId
    circuit: str
    at: Point
    tie: str = ""


@dataclass(frozen=True)
class Routes:
    """Paths between joints. A joint is a post id or a splice point's id.

    ``find`` maps an ordered pair of joint ids to a Path (cached by the builder);
    ``find_entry`` maps an entry point and a post id to a Path. ``find_ways`` finds the ways of
    many pairs at once, None where there is no path; without it they are found one by one.
    ``tips``: by lead with a length, places for its end alone.
    """

    splices: Mapping[str, tuple[SplicePoint, ...]]
    find: Callable[[str, str], Path]
    find_entry: Callable[[Point, str], Path]
    find_ways: Callable[[Sequence[tuple[str, str]]], list[Way | None]] | None = None
    tips: Mapping[str, tuple[SplicePoint, ...]] = field(default_factory=dict)

    def between(self, a: str, b: str) -> Path:
        """The path of a wire from joint ``a`` to joint ``b`` (the reverse of b to a)."""
        return self.find(a, b)

    def ways(self, pairs: Sequence[tuple[str, str]]) -> list[Way | None]:
        """The way between each pair of joints, None where every way is shut."""
        if self.find_ways is not None:
            return self.find_ways(pairs)
        return [self._way(a, b) for a, b in pairs]

    def _way(self, a: str, b: str) -> Way | None:
        try:
            path = self.between(a, b)
        except NoPath:
            return None
        return Way(path.path_dmm, path.loom_legs)

    def from_entry(self, entry: Point, post: str) -> Path:
        """The path of a pigtail or boat wire from its entry to a post."""
        return self.find_entry(entry, post)

    def splice_points(self, circuit: str) -> tuple[SplicePoint, ...]:
        """Candidate splice points of a circuit, by id."""
        return self.splices.get(circuit, ())

    def ends_of(self, lead: str, circuit: str) -> tuple[SplicePoint, ...]:
        """Candidates for the end of a lead with a length, in reach or not. Rule R36."""
        return (*self.splice_points(circuit), *self.tips.get(lead, ()))

    def places(self) -> dict[str, Point]:
        """Where every candidate lies, for splices and for leads' ends."""
        every = (*self.splices.values(), *self.tips.values())
        return {point.id: point.at for points in every for point in points}
