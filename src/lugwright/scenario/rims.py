"""What is cut for an instrument: hole, front rim and body together, and whether they fit.

From the front an instrument's body passes its hole and its bezel covers it. From the back its
front part (the bezel) passes, and its flange (the body) does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal, Protocol

from lugwright.base.shapes import Shape, circle, covers, quarter_turned

_NIL = Fraction(0)


class Screw(Protocol):
    """A screw's hole, from the instrument's centre."""

    @property
    def at(self) -> tuple[Fraction, Fraction]:
        """Seen from the back, before turning, mm."""

    @property
    def diameter(self) -> Fraction:
        """Of the hole, mm."""


class Rimmed(Protocol):
    """What of a pattern says how it sits in the plate; mm."""

    cut_out: Fraction | None
    cut_out_width: Fraction | None
    cut_out_height: Fraction | None
    cut_out_radius: Fraction
    bezel: Fraction | None
    bezel_width: Fraction | None
    bezel_height: Fraction | None
    body: Fraction | None
    body_width: Fraction | None
    body_height: Fraction | None
    mounted_from: Literal["front", "back"]

    @property
    def screws(self) -> Sequence[Screw]:
        """Holes for its screws."""


def cut_out_of(pattern: Rimmed) -> Shape | None:
    """The hole, upright round the instrument's centre; None where there is none."""
    return _shape(
        pattern.cut_out, pattern.cut_out_width, pattern.cut_out_height, pattern.cut_out_radius
    )


def bezel_of(pattern: Rimmed) -> Shape | None:
    """The front rim, upright; None where there is none."""
    return _shape(pattern.bezel, pattern.bezel_width, pattern.bezel_height)


def body_of(pattern: Rimmed) -> Shape:
    """The body behind the panel, upright."""
    found = _shape(pattern.body, pattern.body_width, pattern.body_height)
    return found or circle(0, 0, 0)


def screws_of(pattern: Rimmed) -> list[Shape]:
    """Its screws' holes, seen from the back."""
    return [circle(*screw.at, screw.diameter) for screw in pattern.screws]


def _shape(
    across: Fraction | None, wide: Fraction | None, high: Fraction | None, radius: Fraction = _NIL
) -> Shape | None:
    if across is not None:
        return circle(0, 0, across)
    if wide is None or high is None:
        return None
    return Shape(_NIL, _NIL, wide / 2, high / 2, radius)


def rim_faults(pattern: Rimmed) -> Iterator[str]:
    """What does not fit of hole, rim, body and screws: a sentence each, without a stop."""
    faults = list(_form_faults(pattern))
    yield from faults
    if faults:
        return
    cut_out, bezel = cut_out_of(pattern), bezel_of(pattern)
    if cut_out and bezel:
        judged = _from_the_back if pattern.mounted_from == "back" else _from_the_front
        yield from judged(cut_out, bezel, body_of(pattern))
    elif pattern.mounted_from == "back":
        yield 'mounted_from = "back" wants a cut-out that its front part goes through'
    yield from _screw_faults(cut_out, screws_of(pattern))


def _form_faults(pattern: Rimmed) -> Iterator[str]:
    """What is stated twice, by half, or without what it belongs to."""
    for name, across, sides in (
        ("cut_out", pattern.cut_out, (pattern.cut_out_width, pattern.cut_out_height)),
        ("bezel", pattern.bezel, (pattern.bezel_width, pattern.bezel_height)),
    ):
        count = sum(side is not None for side in sides)
        if count == 1 or (count and across is not None):
            yield f"state either {name} (round) or both {name}_width and {name}_height"
    hole = pattern.cut_out, pattern.cut_out_width, pattern.cut_out_height
    rim = pattern.bezel, pattern.bezel_width, pattern.bezel_height
    if (hole == (None, None, None)) != (rim == (None, None, None)):
        yield "cut_out and bezel belong together: state both, or neither"
    stated = [side for side in hole[1:] if side is not None]
    if pattern.cut_out_radius and not stated:
        yield "cut_out_radius is of a rectangular cut-out: it has a width and a height"
    elif stated and 2 * pattern.cut_out_radius > min(stated):
        yield "cut_out_radius is at most half the cut-out's shorter side"


def _from_the_front(cut_out: Shape, bezel: Shape, body: Shape) -> Iterator[str]:
    if not covers(bezel, cut_out):
        yield "the bezel must cover the cut-out: it is smaller than the hole"
    if not covers(cut_out, body):
        corners = covers(cut_out, Shape(_NIL, _NIL, body.half_width, _NIL)) and covers(
            cut_out, Shape(_NIL, _NIL, _NIL, body.half_height)
        )
        wider = "its corners stand beyond the hole" if corners else "it is wider than the hole"
        yield (
            f"the body does not go through the cut-out: {wider}; measure both, and where it is "
            'put in from behind, say mounted_from = "back"'
        )


def _from_the_back(cut_out: Shape, bezel: Shape, body: Shape) -> Iterator[str]:
    if not covers(cut_out, bezel):
        yield (
            'mounted_from = "back": the front part (bezel) does not go through the cut-out; '
            'measure both, and where its rim covers the hole from the front, say "front"'
        )
    if covers(cut_out, body) or covers(cut_out, quarter_turned(body)):
        yield (
            'mounted_from = "back": the flange (body) goes through the cut-out and would hold '
            "nothing; it must be larger than the hole"
        )


def _screw_faults(cut_out: Shape | None, screws: list[Shape]) -> Iterator[str]:
    """Screws that leave no plate to the instrument's own hole, or to each other."""
    for number, screw in enumerate(screws, 1):
        if cut_out and screw.overlaps(cut_out):
            yield f"screw {number} overlaps the cut-out: it would have no plate to hold in"
        for earlier, other in enumerate(screws[: number - 1], 1):
            if screw.overlaps(other):
                yield f"screw {number} overlaps screw {earlier}: no plate is left between them"
