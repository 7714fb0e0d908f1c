"""Places for letters: boxes that are taken, and the nearest free one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lugwright.outputs.drawing.frame import Box

_STEP_MM = 2.0
_RINGS = 40
_GAP_MM = 0.8


class Boxes:
    """Boxes that are taken. What is asked for near a place is taken where it is free."""

    def __init__(self, taken: Iterable[Box] = ()) -> None:
        self.taken = list(taken)

    def is_free(self, box: Box) -> bool:
        """True where nothing taken lies under the box."""
        return not any(box.meets(other) for other in self.taken)

    def take_near(self, near: Box, width: float, height: float, within: Box) -> Box:
        """The nearest free box of a size beside ``near`` and inside ``within``, now taken.

        Where nothing is free the first place inside is taken; letters over letters are better
        than none.
        """
        box = self._first(near, width, height, within)
        self.taken.append(box)
        return box

    def _first(self, near: Box, width: float, height: float, within: Box) -> Box:
        """The nearest box that is free, else the nearest inside, else one below."""
        inside: Box | None = None
        for box in _round(near, width, height):
            if within.holds((box.x0, box.y0)) and within.holds((box.x1, box.y1)):
                inside = inside or box
                if self.is_free(box):
                    return box
        return inside or Box(near.x0, near.y0 - height, near.x0 + width, near.y0)


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
