"""Rectangular cut-outs, screws and grommets measured in the printed template, to 0.1 mm.

What is looked for is worked out here from what the scenario file says, by plane trigonometry.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from math import cos, hypot, radians, sin
from pathlib import Path

import pytest
from support.printed import MM, Point, Tile, bezier, marked_corner, moved, pages, rounds, tiles, up
from support.scenario_text import toml_of

from lugwright.assemble.panel import panel_of
from lugwright.outputs.paper.drill_template import drill_template
from lugwright.outputs.paper.frame import Head
from lugwright.outputs.paper_size import Paper
from lugwright.pipeline import read_inputs
from lugwright.plans.panel import Panel

HEAD = Head("T", "Drilling template", "usual", "0123456789ab", ("Battery off.",))
PLAIN = (Fraction(1), Fraction(1))
STRETCHED = (Fraction(1000, 992), Fraction(1000, 1004))
ROW = Path(__file__).parents[3] / "scenarios" / "rocker-row.toml"
# As rocker-row.toml and its pattern state them, front view: centre, sides, corner radius, turn.
RECTANGLES = {
    "deck light": (125, 95, 22, 37, 1.5, 0),
    "wash pump": (160, 95, 22, 37, 1.5, 0),
    "bilge pump": (195, 95, 22, 37, 1.5, 0),
    "horn": (245, 95, 22, 37, 1.5, 90),
    "socket": (195, 32, 30, 18, 1.5, 0),
}
ROUNDS = {
    *((x, y, 5.0) for x in (14, 406) for y in (14, 146)),
    (300, 28, 25.0),
    (60, 95, 52.0),
    *((345 + dx, 95, 4.3) for dx in (-38, 38)),
    *((195 + dx, 32, 3.2) for dx in (-18.5, 18.5)),
}


@cache
def panel(horn_turn: str = "90 deg") -> Panel:
    """The demo's panel, its horn turned so far."""
    text = ROW.read_text(encoding="utf-8")
    assert text.count('turn = "90 deg"') == 1
    turned = text.replace('turn = "90 deg"', f'turn = "{horn_turn}"')
    return panel_of(read_inputs(toml_of(turned)))


@cache
def joined(turn: str, page: str, scale: tuple[Fraction, Fraction]) -> tuple[Tile, ...]:
    """The 1:1 pages of its template, put together."""
    return tuple(tiles(drill_template(panel(turn), HEAD, Paper(page, *scale))))


def corners(row: tuple[float, ...]) -> list[Point]:
    """Where each rounded corner begins, is halfway, and ends; clockwise turn as seen in front."""
    x, y, wide, high, radius, turn = row
    found = []
    for number, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        cx, cy = sx * (wide / 2 - radius), sy * (high / 2 - radius)
        for half in range(3):
            angle = radians(90 * number + 45 * half)
            px, py = cx + radius * cos(angle), cy + radius * sin(angle)
            c, s = cos(radians(-turn)), sin(radians(-turn))
            found.append((x + px * c - py * s, y + px * s + py * c))
    return found


def rectangles_found(
    sheet: tuple[Tile, ...], scale: tuple[Fraction, Fraction]
) -> Iterator[list[Point]]:
    """Points of every closed path of straight sides and four arcs, from the marked corner, mm."""
    origin = marked_corner(sheet)
    for tile in sheet:
        for curve in tile.page.curves:
            operators = [step[0] for step in curve["path"]]
            if operators.count("c") == 4 and "l" in operators and curve["linewidth"] / MM > 0.25:
                points = [moved(point, tile) for point in _points(tile, curve["path"])]
                if any(map(tile.shows, points)):
                    yield [_true(point, origin, scale) for point in points]


def _points(tile: Tile, path: list[tuple[str, *tuple[Point, ...]]]) -> Iterator[Point]:
    """Start, half and end of every arc of a path."""
    here: Point = (0.0, 0.0)
    for operator, *raw in path:
        placed = [up(tile.page, point) for point in raw]
        if operator == "c":
            yield from (here, bezier([here, *placed], 0.5), placed[-1])
        here = placed[-1] if placed else here


def _true(point: Point, origin: Point, scale: tuple[Fraction, Fraction]) -> Point:
    return (
        (point[0] - origin[0]) / float(scale[0]),
        (point[1] - origin[1]) / float(scale[1]),
    )


def is_printed(found: list[list[Point]], row: tuple[float, ...]) -> bool:
    """Whether a path has each of the twelve points within 0.1 mm."""
    return any(
        all(min(hypot(x - a, y - b) for a, b in path) <= 0.1 for x, y in corners(row))
        for path in found
    )


@pytest.mark.parametrize("scale", [PLAIN, STRETCHED])
@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("turn", [90, 30, 211.5])
def test_every_rectangle_is_where_the_scenario_has_it(
    turn: float, page: str, scale: tuple[Fraction, Fraction]
) -> None:
    """Sides, corners and turn, from the lower left corner of the front; and no other is drawn."""
    wanted = {**RECTANGLES, "horn": (*RECTANGLES["horn"][:5], turn)}
    found = list(rectangles_found(joined(f"{turn} deg", page, scale), scale))
    assert {name for name, row in wanted.items() if not is_printed(found, row)} == set()
    assert all(
        any(is_printed([path], row) for row in wanted.values()) for path in found
    )


def test_a_turn_the_wrong_way_round_is_caught() -> None:
    """The classic mistake of a mirrored panel: 30 degrees anticlockwise is not what is printed."""
    found = list(rectangles_found(joined("30 deg", "A4", PLAIN), PLAIN))
    assert is_printed(found, (*RECTANGLES["horn"][:5], 30))
    assert not is_printed(found, (*RECTANGLES["horn"][:5], -30))


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_every_screw_and_grommet_is_there(page: str) -> None:
    """Mounting screws, a grommet, screws of the bar and the socket: centre and diameter."""
    sheet = joined("90 deg", page, PLAIN)
    origin = marked_corner(sheet)
    found = set()
    for tile in sheet:
        for one in rounds(tile.page):
            centre = moved((one.x, one.y), tile)
            if tile.shows(centre):
                x, y = _true(centre, origin, PLAIN)
                found.add((x, y, 2 * sum(one.radii) / len(one.radii)))
    for wanted in ROUNDS:
        near = [f for f in found if max(abs(a - b) for a, b in zip(f, wanted, strict=True)) <= 0.1]
        assert near, wanted


def test_the_list_of_holes_says_all() -> None:
    """Sides, corners, turn, screws by letter, the flange behind, drills; each with its place."""
    text = " ".join(
        " ".join(page.extract_text().split())
        for page in pages(drill_template(panel("30 deg"), HEAD, Paper()))
    )
    for words in (
        "4 deck light 22 × 37 corners r 1.5 125 95 46.5 mm above",
        "horn (turned 30° clockwise)",
        "6a socket, screw 3.2 1/8 in 176.5 32 30.4 mm below",
        "grommet 25 300 28 15.5 mm below",
        "10b bar, screw 4.3 383 95 34.8 mm right",
        "4 × 22 × 37 mm, corners r 1.5",
        "1 × ⌀ 25 mm, 4 × ⌀ 5 mm, 2 × ⌀ 4.3 mm",
        "Put in from behind, the flange stays there: socket.",
        "hole 22 × 37 mm, corners r 1.5",
        "x 245 y 95 mm, turned 30° clockwise",
        "6a ⌀ 3.2 mm (1/8 in)",
    ):
        assert words in text, words


def test_a_turned_cut_out_reaches_as_far_as_its_corners() -> None:
    """Nearest edge by hand: half of 37 sin 30 + half of 22 cos 30 less 1.5 at each corner."""
    reach = (18.5 - 1.5) * sin(radians(60)) + (11 - 1.5) * cos(radians(60)) + 1.5
    text = " ".join(pages(drill_template(panel("30 deg"), HEAD, Paper()))[0].extract_text().split())
    above = int((160 - 95 - reach) * 10) / 10
    assert f"horn (turned 30° clockwise) 22 × 37 corners r 1.5 245 95 {above:g} mm above" in text
