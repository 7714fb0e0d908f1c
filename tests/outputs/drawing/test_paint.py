"""Wire colours as they are painted."""

from itertools import combinations

import pytest

from lugwright.base.errors import OutsideTable
from lugwright.electrics.colours import standard_colours
from lugwright.outputs.drawing.paint import PAPER, Paint, paint_of


def _luminance(paint: str) -> float:
    """Relative luminance, WCAG 2.2 "relative luminance"."""
    parts = [int(paint[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2 "contrast ratio"."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_every_published_colour_has_a_paint_of_its_own() -> None:
    """The closed list of conductor colours is covered and no two are painted alike."""
    paints = {name: paint_of(name) for name in standard_colours()}
    assert [(a, b) for a, b in combinations(paints, 2) if paints[a] == paints[b]] == []


@pytest.mark.parametrize("name", standard_colours())
def test_a_line_stands_out_from_white_paper(name: str) -> None:
    """Fill or border has a contrast of 3 to 1 at least (WCAG 2.2, 1.4.11)."""
    paint = paint_of(name)
    assert _contrast(paint.border or paint.fill, PAPER) >= 3


def test_a_tracer_is_a_stripe_of_the_second_colour() -> None:
    """Base first, then the stripe."""
    assert paint_of("green with yellow stripe") == Paint(
        fill=paint_of("green").fill, stripe=paint_of("yellow").fill
    )


@pytest.mark.parametrize("name", ["beige", "green with stripe", "green with yellow", "with red"])
def test_an_unknown_colour_is_refused(name: str) -> None:
    """A colour is never guessed."""
    with pytest.raises(OutsideTable, match="no paint for wire colour"):
        paint_of(name)
