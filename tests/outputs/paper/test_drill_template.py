"""The drilling template measured in the file: every hole of the scenario, to 0.1 mm."""

from __future__ import annotations

import shutil
import subprocess
from fractions import Fraction
from functools import cache
from math import cos, hypot, pi, sin
from pathlib import Path

import pytest
from PIL import Image
from support.made_plan import small_plan
from support.printed import Point, Tile, lines, marked_corner, moved, pages, rounds, tiles

from lugwright.assemble.panel import panel_of
from lugwright.outputs.paper.drill_template import drill_template, sheet_files
from lugwright.outputs.paper.frame import Head
from lugwright.outputs.paper.holes import inch_text
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.pipeline import read_inputs
from lugwright.plans.panel import Panel

SCENARIOS = Path(__file__).parents[3] / "scenarios"
IN = 25.4
# Front view, as the scenario files and their patterns state it: x, y, diameter of the hole, mm.
SKIFF = {
    "speed": (80, 3.5 * IN, 3.375 * IN),
    "fuel": (185, 90, 2.0625 * IN),
    "volts": (260, 90, 52),
    "depth": (350, 3.5 * IN, 3.375 * IN),
}
SIX_DIALS = {
    "tachometer": (80, 180, 3.375 * IN),
    "speed": (190, 180, 3.375 * IN),
    "depth": (300, 180, 3.375 * IN),
    "fuel": (385, 190, 2.0625 * IN),
    "water": (460, 190, 52),
    "volts": (535, 190, 52),
    "pump switch": (430, 70, 20.2),
    "socket": (510, 70, 1.125 * IN),
}  # the bus bars stand on standoffs and have no hole
EXPECTED = {"sandbar-skiff": SKIFF, "six-dial-console": SIX_DIALS}
HEAD = Head("T", "Drilling template", "usual", "0123456789ab", ("Battery off.",))
PLAIN = (Fraction(1), Fraction(1))
STRETCHED = (Fraction(1000, 992), Fraction(1000, 1004))


@cache
def panel(name: str) -> Panel:
    """The panel of a demo console; nothing is planned for it."""
    inputs = read_inputs(SCENARIOS / f"{name}.toml")
    return panel_of(inputs)


@cache
def joined(name: str, page: str, scale: tuple[Fraction, Fraction]) -> tuple[Tile, ...]:
    """The 1:1 pages of a demo console's template, put together."""
    return tuple(tiles(drill_template(panel(name), HEAD, Paper(page, *scale))))


def holes_found(
    sheet: tuple[Tile, ...], scale: tuple[Fraction, Fraction], sizes: set[float]
) -> set[tuple[float, float, float]]:
    """Circles of the wanted sizes: centre from the marked corner, diameter; as printed, mm.

    Each is looked for on every page that shows its centre, and must be round on it.
    """
    corner = marked_corner(sheet)
    found = set()
    for tile in sheet:
        for one in rounds(tile.page):
            centre = moved((one.x, one.y), tile)
            points = [_true(point, (one.x, one.y), scale) for point in one.around]
            radii = [hypot(*point) for point in points]
            mean = sum(radii) / len(radii)
            if tile.shows(centre) and any(abs(2 * mean - size) <= 0.1 for size in sizes):
                assert max(radii) - min(radii) < 0.02  # round at 45 degrees as on the axes
                x, y = _true(centre, corner, scale)
                found.add((round(x, 1), round(y, 1), round(2 * mean, 1)))
    return found


def _true(point: Point, origin: Point, scale: tuple[Fraction, Fraction]) -> Point:
    """Offset of a point with the correction of the printer taken out, mm."""
    return (
        (point[0] - origin[0]) / float(scale[0]),
        (point[1] - origin[1]) / float(scale[1]),
    )


def matches(found: set[tuple[float, float, float]], wanted: dict[str, Point]) -> bool:
    """True when there is exactly one hole for each wanted, and each within 0.1 mm."""
    return len(found) == len(wanted) and all(
        any(max(abs(a - b) for a, b in zip(hole, want, strict=True)) <= 0.1001 for hole in found)
        for want in wanted.values()
    )


@pytest.mark.parametrize("scale", [PLAIN, STRETCHED])
@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_every_hole_is_where_the_scenario_has_it(
    name: str, page: str, scale: tuple[Fraction, Fraction]
) -> None:
    """Front view, from the lower left corner, on every page that shows a hole, to 0.1 mm."""
    wanted = EXPECTED[name]
    sizes = {size for _, _, size in wanted.values()}
    assert matches(holes_found(joined(name, page, scale), scale, sizes), wanted)


def test_a_mirrored_panel_is_caught() -> None:
    """The classic bench mistake: the same comparison fails on a panel turned over."""
    true = panel("sandbar-skiff")
    turned = true.model_copy(
        update={
            "instruments": tuple(
                one.model_copy(update={"x_dmm": true.width_dmm - one.x_dmm})
                for one in true.instruments
            )
        }
    )
    sheet = tuple(tiles(drill_template(turned, HEAD, Paper())))
    sizes = {size for _, _, size in SKIFF.values()}
    assert not matches(holes_found(sheet, PLAIN, sizes), SKIFF)


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_tiles_together_show_the_whole_plate(name: str) -> None:
    """Every place of the plate and a little beyond is on a page; each names its row and column."""
    sheet = joined(name, "A4", PLAIN)
    left, low = marked_corner(sheet)
    wide, high = panel(name).width_dmm / 10, panel(name).height_dmm / 10
    for column in range(41):
        for row in range(41):
            point = (left - 3 + (wide + 6) * column / 40, low - 3 + (high + 6) * row / 40)
            assert any(tile.shows(point) for tile in sheet)
    places = [tile.page.extract_text().split("1:1, ")[1].split(".")[0] for tile in sheet]
    assert len(set(places)) == len(sheet)


@pytest.mark.parametrize("scale", [PLAIN, STRETCHED])
def test_rulers_stand_on_every_page(scale: tuple[Fraction, Fraction]) -> None:
    """100 mm in x and in y with 101 ticks, drawn as much too long as the printer prints short."""
    for tile in joined("sandbar-skiff", "A4", scale):
        for axis in (0, 1):
            length = 100 * float(scale[axis])
            rulers = [
                line
                for line in lines(tile.page)
                if abs(abs(line[1][axis] - line[0][axis]) - length) < 0.001
                and abs(line[1][1 - axis] - line[0][1 - axis]) < 0.001
            ]
            assert len(rulers) == 1
            start, _ = rulers[0]
            ticks = {
                round((line[0][axis] - start[axis]) / float(scale[axis]), 3)
                for line in lines(tile.page)
                if abs(line[0][1 - axis] - start[1 - axis]) < 0.001
                and abs(line[0][axis] - line[1][axis]) < 0.001
            }
            assert {float(at) for at in range(101)} <= ticks


def test_every_page_says_side_scale_and_cautions() -> None:
    """FRONT, 100 %, ruler; the overview says that it is not to scale and carries the cautions."""
    first, *rest = pages(drill_template(panel("sandbar-skiff"), HEAD, Paper()))
    assert "seen from the FRONT, not to scale" in first.extract_text()
    assert "Battery off." in first.extract_text()
    for page in rest:
        text = page.extract_text()
        for words in ("seen from the FRONT", "Print at 100 %", "must measure 100 mm"):
            assert words in text


def test_letters_name_saw_and_place() -> None:
    """Each hole says its instrument, its saw in mm and inches, and its place from the corner."""
    text = "\n".join(tile.page.extract_text() for tile in joined("six-dial-console", "A4", PLAIN))
    for words in (
        *("hole ⌀ 85.7 mm (3 3/8 in)", "hole ⌀ 28.6 mm (1 1/8 in)", "hole ⌀ 20.2 mm"),
        *("on standoffs: no hole", "x 430  y 70 mm", "pump switch"),
    ):
        assert words.replace("  ", " ") in text


# 1/16 in is 1.5875 mm: exact by the definition of the inch, 25.4 mm.
@pytest.mark.parametrize(
    ("length_dmm", "text"),
    [(857, "3 3/8 in"), (524, "2 1/16 in"), (286, "1 1/8 in"), (508, "2 in"), (127, "1/2 in"),
     (520, ""), (202, ""), (0, "")],
)  # fmt: skip
def test_inches_only_where_they_are_the_same(length_dmm: int, text: str) -> None:
    """An inch size is named within 0.1 mm of the true one, reduced; else none is."""
    assert inch_text(length_dmm) == text


def test_hostile_names_stay_on_the_page() -> None:
    """A name of 200 letters is cut to its hole and wraps in the table; nothing runs as markup."""
    plan = small_plan()
    name = '<script>"&=1+1\x07' + "w" * 200
    first, *others = plan.panel.instruments
    named = first.model_copy(update={"name": name})
    plan = plan.model_copy(
        update={"panel": plan.panel.model_copy(update={"instruments": (named, *others)})}
    )
    overview, *rest = pages(sheet_files(ShownPlan(plan), Paper())["drill-template.pdf"])
    assert '<script>"&=1+1' in overview.extract_text()
    assert overview.extract_text().count("w") >= 200
    assert all(char["x0"] > 0 and char["x1"] < overview.width for char in overview.chars)
    assert any("<script>" in page.extract_text() for page in rest)


def test_same_plan_same_bytes() -> None:
    """No clock and nothing random in the file."""
    one, other = (sheet_files(ShownPlan(small_plan()), Paper()) for _ in range(2))
    assert one == other


DPI = 100


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="needs pdftoppm (poppler)")
def test_printed_pixels_agree(tmp_path: Path) -> None:
    """Rendered by another program and pasted by the crosses, each rim is dark all round."""
    pdf = drill_template(panel("sandbar-skiff"), HEAD, Paper())
    (tmp_path / "t.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-r", str(DPI), "-gray", "-png", "t.pdf", "t"]
    subprocess.run(command, check=True, cwd=tmp_path)
    images = [Image.open(path).convert("L") for path in sorted(tmp_path.glob("t-*.png"))]
    sheet = tiles(pdf)
    corner = marked_corner(sheet)
    for x, y, size in SKIFF.values():
        for turn in range(32):
            angle = 2 * pi * turn / 32
            place = (
                corner[0] + x + size / 2 * cos(angle),
                corner[1] + y + size / 2 * sin(angle),
            )
            shown = [tile for tile in sheet if tile.shows(place)]
            assert shown
            assert all(_is_dark(images[tile.page.page_number - 1], tile, place) for tile in shown)


def _is_dark(image: Image.Image, tile: Tile, place: Point) -> bool:
    """True where a page has ink within a pixel of a place of the joined drawing."""
    column = round((place[0] - tile.offset[0]) / 25.4 * DPI)
    row = image.height - round((place[1] - tile.offset[1]) / 25.4 * DPI)
    near = image.crop((column - 1, row - 1, column + 2, row + 2))
    darkest: int = near.getextrema()[0]
    return darkest < 160
