"""The build board measured in the file: every peg and every wire's ends, to 0.1 mm, from the back.

Expected places are the scenario's own: a post lies at its instrument's centre, turned to the
back (x from the other edge), plus the offset its pattern states.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import combinations, takewhile
from math import hypot

import pytest
from support.by_eye import plan_by_eye
from support.made_plan import small_plan
from support.printed import (
    MM,
    Point,
    Tile,
    is_tile,
    marked_corner,
    moved,
    pages,
    rounds,
    tiles,
    up,
)

from lugwright.base.scale import mm_text
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.paper.board_labels import placed_labels
from lugwright.outputs.paper.board_places import stubs_of
from lugwright.outputs.paper.build_board import board_scene, laid_out, sheet_files
from lugwright.outputs.paper.pegs import thread_dmm
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan

BOARD = "build-board.pdf"
IN = 25.4
PLAIN = (Fraction(1), Fraction(1))
STRETCHED = (Fraction(1000, 992), Fraction(1000, 1004))
# sandbar-skiff.toml, the plate 420 mm wide: speed at 80 mm, 3-1/2 in from the front, its studs at
# (-18, 12), (18, 12), (-18, -14) from the back, M5; fuel at 185, 90 with studs #10-32.
SKIFF_PEGS = {
    "speed.ignition": (420 - 80 - 18, 3.5 * IN + 12, 5.0),
    "speed.ground": (420 - 80 + 18, 3.5 * IN + 12, 5.0),
    "speed.second": (420 - 80 - 18, 3.5 * IN - 14, 5.0),
    "fuel.ignition": (420 - 185 - 13, 90 + 8, 4.8),
    "fuel.ground": (420 - 185 + 13, 90 + 8, 4.8),
}
DEMOS = ("sandbar-skiff", "six-dial-console", "hub-out-of-reach", "bridge-24-instruments")
READ = [*DEMOS[:3], pytest.param(DEMOS[3], marks=pytest.mark.slow)]  # 13 pages take their time


@cache
def joined(name: str, page: str, scale: tuple[Fraction, Fraction]) -> tuple[Tile, ...]:
    """The 1:1 pages of a demo console's board, put together."""
    return tuple(tiles(sheet_files(ShownPlan(plan_by_eye(name)), Paper(page, *scale))[BOARD]))


def measured(sheet: tuple[Tile, ...], width: float, scale: tuple[Fraction, Fraction]) -> Origin:
    """The plate's lower left corner, found from the mark in its lower right corner."""
    corner = marked_corner(sheet)
    return corner[0] - width * float(scale[0]), corner[1]


Origin = tuple[float, float]


def true(place: Point, origin: Origin, scale: tuple[Fraction, Fraction]) -> Point:
    """A place of the joined drawing from the plate's corner, the printer's error taken out."""
    return (place[0] - origin[0]) / float(scale[0]), (place[1] - origin[1]) / float(scale[1])


def near(a: Point, b: Point, within: float = 0.1001) -> bool:
    """Within 0.1 mm."""
    return hypot(a[0] - b[0], a[1] - b[1]) <= within


@pytest.mark.parametrize(("page", "scale"), [("A4", PLAIN), ("Letter", PLAIN), ("A4", STRETCHED)])
def test_pegs_stand_where_the_scenario_has_the_posts(
    page: str, scale: tuple[Fraction, Fraction]
) -> None:
    """Seen from the back, on every page that shows a post, as thick as its stud."""
    sheet = joined("sandbar-skiff", page, scale)
    origin = measured(sheet, 420, scale)
    for x, y, size in SKIFF_PEGS.values():
        seen = 0
        for tile in sheet:
            pegs = [
                one
                for one in rounds(tile.page)
                if near(true(moved((one.x, one.y), tile), origin, scale), (x, y))
            ]
            shown = tile.shows((origin[0] + x * float(scale[0]), origin[1] + y * float(scale[1])))
            if shown:
                seen += 1
                assert any(
                    abs(sum(one.radii) / 4 - size * float(sum(scale)) / 2) < 0.1 for one in pegs
                )
        assert seen


def wires(tile: Tile, origin: Origin) -> list[tuple[str, Point, Point]]:
    """Every coloured path of a page: its ink, and its two ends from the plate's corner, mm."""
    found = []
    for path in (*tile.page.curves, *tile.page.lines):
        ink = path["stroking_color"]
        if path["linewidth"] / MM > 0.7 and len(ink) == 3 and not path["fill"]:
            code = "#" + "".join(f"{round(part * 255):02x}" for part in ink)
            ends = [up(tile.page, path["pts"][n]) for n in (0, -1)]
            start, end = (true(moved(end, tile), origin, PLAIN) for end in ends)
            found.append((code, start, end))
    return found


@pytest.mark.parametrize("name", READ)
def test_every_jumper_runs_between_its_own_posts(name: str) -> None:
    """Each jumper's path is drawn in its colour and ends on the plan's two posts."""
    plan = plan_by_eye(name)
    sheet = joined(name, "A4", PLAIN)
    origin = measured(sheet, plan.panel.width_dmm / 10, PLAIN)
    posts = {post.id: (post.x_dmm / 10, post.y_dmm / 10) for post in plan.panel.posts}
    drawn = [wire for tile in sheet for wire in wires(tile, origin)]
    for jumper in plan.jumpers:
        if jumper.role == "jumper":
            paint = paint_of(jumper.colour).fill
            a, b = posts[jumper.from_joint], posts[jumper.to_joint]
            assert any(
                ink == paint and near(start, a) and near(end, b) for ink, start, end in drawn
            ), jumper.label


def test_a_mirrored_panel_is_caught() -> None:
    """A board drawn from the front would put its pegs elsewhere: the comparison sees it."""
    plan = plan_by_eye("sandbar-skiff")
    sheet = joined("sandbar-skiff", "A4", PLAIN)
    origin = measured(sheet, 420, PLAIN)
    centres = {
        true(moved((one.x, one.y), tile), origin, PLAIN)
        for tile in sheet
        for one in rounds(tile.page)
    }
    x, y, _ = SKIFF_PEGS["speed.second"]
    assert any(near(centre, (x, y)) for centre in centres)
    assert not any(near(centre, (420 - x, y)) for centre in centres)
    assert plan.panel.width_dmm == 4200


@pytest.mark.parametrize("name", READ)
def test_every_jumper_says_all_of_itself(name: str) -> None:
    """Label, colour in words with code, size, cut length, strips, a tag at both ends; a list."""
    plan = plan_by_eye(name)
    sheet = sheet_files(ShownPlan(plan), Paper())[BOARD]
    front = takewhile(lambda page: not is_tile(page), pages(sheet))
    lists = " ".join(" ".join(page.extract_text().split()) for page in front)
    board = laid_out(board_scene(plan), Paper())
    written = {one.label.key: one.label.lines for one in board.labels}
    for jumper in plan.jumpers:
        lines = written["wire", jumper.label]
        assert lines[0] == f"{jumper.label}: {jumper.colour} ({jumper.colour_code})"
        for part in (jumper.wire_size, f"cut {mm_text(jumper.length_dmm)} mm"):
            assert part in lines[1]
        assert f"{mm_text(jumper.strip_a_dmm)} / {mm_text(jumper.strip_b_dmm)}" in lines[1]
        for end in "ab":
            assert written["end", jumper.label, end] == (f"{jumper.label}-{end}",)
        row = f"{jumper.label} {jumper.colour} ({jumper.colour_code}) {jumper.wire_size}"
        assert f"{row} {mm_text(jumper.length_dmm)}" in lists


@pytest.mark.parametrize("name", DEMOS)
def test_no_label_covers_another_or_a_peg(name: str) -> None:
    """At 3, 4, 9 and 24 instruments; and each lies on the plate."""
    plan = plan_by_eye(name)
    scene = board_scene(plan)
    board = laid_out(scene, Paper())
    found = board.labels
    assert board.strays == ()
    for one, other in combinations(found, 2):
        assert not one.box.meets(other.box), (one.label.key, other.label.key)
    for one in found:
        assert one.box.x0 >= 0 and one.box.x1 <= scene.frame.width_mm
        assert not any(one.box.holds(scene.places[post.id]) for post in plan.panel.posts)


def test_register_crosses_stay_free() -> None:
    """No label lies where two pages are joined."""
    scene = board_scene(plan_by_eye("sandbar-skiff"))
    marks = [(100.0, 60.0), (200.0, 90.0)]
    labels, left = placed_labels(scene, stubs_of(scene), marks)
    assert left == []
    for one in labels:
        assert not any(one.box.holds(mark) for mark in marks)


def test_what_has_no_room_on_the_plate_stands_below_it() -> None:
    """A plate as narrow as its dial: no label covers another, and none is lost."""
    plan = plan_by_eye("ring-or-spade")
    small = plan.panel.model_copy(update={"width_dmm": 300, "height_dmm": 300})
    crowded = plan.model_copy(update={"panel": small})
    board = laid_out(board_scene(crowded), Paper())
    assert board.strays
    sheet = sheet_files(ShownPlan(crowded), Paper())[BOARD]
    text = " ".join(" ".join(page.extract_text().split()) for page in pages(sheet))
    for line in board.strays:
        assert " ".join(line.split()) in text


def test_every_page_says_back_and_the_first_has_the_cautions() -> None:
    """BACK on every page, 100 % and rulers on the 1:1 pages, all cautions, waivers and digest."""
    plan = small_plan()
    first, *rest = pages(sheet_files(ShownPlan(plan), Paper())[BOARD])
    for page in (first, *rest):
        assert "seen from the BACK" in page.extract_text()
    text = " ".join(" ".join(page.extract_text().split()) for page in (first, *rest))
    for caution in plan.cautions:
        assert " ".join(caution.split()) in text
    assert "lower left seen from the FRONT" in text


# Major diameters: ASME B1.1 for inch screws (0.164, 0.190, 0.250 in), ISO 261 for metric.
@pytest.mark.parametrize(
    ("thread", "size_dmm"),
    [("#8-32 UNC", 41), ("#10-32 UNF", 48), ("1/4-20 UNC", 63), ("M4 x 0.7", 40),
     ("M3.5 x 0.6", 35), ("half an inch", 0), ("", 0)],
)  # fmt: skip
def test_a_peg_is_as_thick_as_its_stud(thread: str, size_dmm: int) -> None:
    """Rounded down, so that the stud's own lugs go over it; an unknown thread claims nothing."""
    assert thread_dmm(thread) == size_dmm


def test_hostile_names_stay_in_their_labels() -> None:
    """Names of 200 letters are cut on the board and whole in the lists; none runs off the page."""
    plan = plan_by_eye("sandbar-skiff")
    name = '<script>"&=1+1\x07' + "w" * 200
    entry = plan.panel.entries[0].model_copy(update={"wire": name})
    panel = plan.panel.model_copy(update={"entries": (entry, *plan.panel.entries[1:])})
    hostile = plan.model_copy(update={"panel": panel, "title": name})
    for page in pages(sheet_files(ShownPlan(hostile), Paper())[BOARD]):
        if not is_tile(page):
            assert all(char["x0"] > 0 and char["x1"] < page.width for char in page.chars)


def test_same_plan_same_bytes() -> None:
    """No clock and nothing random in the file."""
    plan = plan_by_eye("sandbar-skiff")
    assert sheet_files(ShownPlan(plan), Paper()) == sheet_files(ShownPlan(plan), Paper())
