"""Places for letters: boxes that are taken, and the nearest free one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

_STEP_MM = 2.0
_RINGS = 40
_GAP_MM = 0.8


@dataclass(frozen=True)
class Box:
    """An upright rectangle by two corners, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def around(cls, x: float, y: float, width: float, height: float) -> Box:
        """The box of a size round a centre."""
        return cls(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    @property
    def corners(self) -> tuple[float, float, float, float]:
        """Its lower left and its upper right corner."""
        return self.x0, self.y0, self.x1, self.y1

    def joined(self, other: Box) -> Box:
        """The smallest box round both."""
        return Box(
            min(self.x0, other.x0),
            min(self.y0, other.y0),
            max(self.x1, other.x1),
            max(self.y1, other.y1),
        )

    def overlaps(self, other: Box) -> bool:
        """True where the two share more than an edge."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def holds(self, other: Box) -> bool:
        """True where the other lies wholly inside."""
        return (
            self.x0 <= other.x0
            and other.x1 <= self.x1
            and self.y0 <= other.y0
            and other.y1 <= self.y1
        )

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """The point of the box nearest to a place."""
        return min(max(x, self.x0), self.x1), min(max(y, self.y0), self.y1)


class Boxes:
    """Boxes that are taken. What is asked for near a place is taken where it is free."""

    def __init__(self, taken: Iterable[Box] = ()) -> None:
        self.taken = list(taken)

    def is_free(self, box: Box) -> bool:
        """True where nothing taken lies under the box."""
        return not any(box.overlaps(other) for other in self.taken)

    def take_near(self, near: Box, width: float, height: float, within: Box) -> Box:
        """The nearest free box of a size beside ``near`` and inside ``within``, now taken.

        Where nothing is free the first place inside is taken; letters over letters are better
        than none.
        """
        inside = [box for box in _round(near, width, height) if within.holds(box)]
        free = next((box for box in inside if self.is_free(box)), None)
        box = free or (inside[0] if inside else Box(near.x0, near.y0 - height, near.x0 + width,
                                                    near.y0))  # fmt: skip
        self.taken.append(box)
        return box


def _round(near: Box, width: float, height: float) -> Iterator[Box]:
    """Boxes round another, nearest first: right, left, above, below, each slid along."""
    middle_x, middle_y = (near.x0 + near.x1) / 2, (near.y0 + near.y1) / 2
    for ring in range(_RINGS):
        away = _GAP_MM + ring * _STEP_MM
        for slide in (s * _STEP_MM for n in range(ring + 2) for s in ((n, -n) if n else (0,))):
            y0 = middle_y - height / 2 + slide
            yield Box(near.x1 + away, y0, near.x1 + away + width, y0 + height)
            yield Box(near.x0 - away - width, y0, near.x0 - away, y0 + height)
            x0 = middle_x - width / 2 + slide
            yield Box(x0, near.y1 + away, x0 + width, near.y1 + away + height)
            yield Box(x0, near.y0 - away - height, x0 + width, near.y0 - away)
