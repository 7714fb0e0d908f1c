"""What a wire has to go round, and the distances that decide it."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from hypothesis import given
from hypothesis import strategies as st
from support.plan_edits import edit, judge
from support.wired_by_hand import at, hand_console, hand_limits, hand_plan

from lugwright.checker.geometry import Outline, linked
from lugwright.checker.loom import along_links_dmm
from lugwright.plans.schema import Waypoint
from lugwright.scenario.console import Console, KeepOut, Point, TiePoint

small = st.integers(-400, 400)


def box(half_x: float, half_y: float) -> Outline:
    """A box round the origin."""
    return Outline("box", 0, 0, 0, half_x, half_y, 100, 0)


def sampled(outline: Outline, a: Point, b: Point) -> float:
    """Least distance to a box over 400 places along the leg: never less than the true one."""
    near = []
    for step in range(401):
        x = a.x_dmm + (b.x_dmm - a.x_dmm) * step / 400
        y = a.y_dmm + (b.y_dmm - a.y_dmm) * step / 400
        over_x, over_y = abs(x) - outline.half_x_dmm, abs(y) - outline.half_y_dmm
        near.append(hypot(max(0.0, over_x), max(0.0, over_y)))
    return min(near)


@given(small, small, small, small, st.integers(1, 200), st.integers(1, 200))
def test_distance_to_a_box(ax: int, ay: int, bx: int, by: int, half_x: int, half_y: int) -> None:
    """The distance from a leg to a box agrees with places sampled along the leg."""
    a, b, outline = Point(ax, ay, 0), Point(bx, by, 0), box(half_x, half_y)
    step = hypot(bx - ax, by - ay) / 400
    exact, rough = outline.distance_dmm(a, b), sampled(outline, a, b)
    assert rough - step - 1e-6 <= exact <= rough + 1e-6


@given(small, small, small, small, st.integers(0, 200), st.integers(0, 200), st.booleans())
def test_what_is_far_is_clear(
    ax: int, ay: int, bx: int, by: int, size: int, clearance: int, round_one: bool
) -> None:
    """Nothing that is passed over as far off comes within the clearance."""
    a, b, half = Point(ax, ay, 0), Point(bx, by, 0), 0 if round_one else size + 1
    outline = Outline("one", 0, 0, size if round_one else 0, half, half / 2, 100, clearance)
    assert not outline.is_far_from(a, b) or outline.distance_dmm(a, b) > clearance


def test_distance_to_a_circle_by_hand() -> None:
    """A leg 30 above the centre of a circle of 10 stays 20 clear; a leg through it none."""
    circle = Outline("body", 0, 0, 10, 0, 0, 100, 0)
    assert circle.distance_dmm(Point(-50, 30, 0), Point(50, 30, 0)) == 20
    assert circle.distance_dmm(Point(30, 40, 0), Point(60, 80, 0)) == 40
    assert circle.distance_dmm(Point(-50, 0, 0), Point(50, 0, 0)) == 0


def test_way_along_the_links() -> None:
    """Ties at 0, 300 and 800 in a row: 800 over b; none to a tie point that is not linked."""
    rows = (("a", 0, ("b",)), ("b", 300, ("c",)), ("c", 800, ()), ("d", 900, ()))
    ties = {name: TiePoint(name, Point(x, 0, 0), to) for name, x, to in rows}
    links = linked(tuple(ties.values()))
    assert along_links_dmm(ties, links, "c", "a") == 800
    assert along_links_dmm(ties, links, "b", "b") == 0
    assert along_links_dmm(ties, links, "a", "d") is None


def walled_console(height: int = 600) -> Console:
    """A keep-out from (1000, 400) to (1100, 600) in the way of ``ground 1``."""
    wall = KeepOut("wall", 1000, 400, 1100, 600, height)
    return replace(hand_console(), keep_outs=(wall,))


def in_the_way(path: tuple[Waypoint, ...], console: Console, clearance: int = 50) -> list[str]:
    """Which wires run into something when ``ground 1`` takes that path."""
    plan = hand_plan()
    if path != plan.jumpers[3].path:
        plan = edit(plan, "jumpers", lambda row: row.label == "ground 1", path=path)
    limits = hand_limits(clearance_dmm=clearance)
    found = judge(plan, console=console, limits=limits).findings
    return [one.place for one in found if one.rule == "obstacle"]


def round_the_wall(y: int) -> tuple[Waypoint, ...]:
    """Over the wall's upper edge at that height."""
    return (at(700, 550), at(950, y), at(1150, y), at(1700, 550))


def test_wire_goes_round_with_clearance() -> None:
    """5 mm above the wall's edge at 600 is 650; 0.2 mm are allowed for rounded outlines."""
    console = walled_console()
    assert "ground 1" not in in_the_way(round_the_wall(650), console)
    assert "ground 1" not in in_the_way(round_the_wall(648), console)
    assert "ground 1" in in_the_way(round_the_wall(647), console)
    assert "ground 1" in in_the_way((at(700, 550), at(1700, 550)), console)


def test_touching_is_no_crossing() -> None:
    """Without a clearance a wire may run along the wall's edge, not through it."""
    console = walled_console()
    assert "ground 1" not in in_the_way(round_the_wall(600), console, clearance=0)
    assert "ground 1" in in_the_way(round_the_wall(590), console, clearance=0)


def test_only_what_is_higher_than_both_ends() -> None:
    """A wall as high as the posts is no obstacle."""
    assert in_the_way((at(700, 550), at(1700, 550)), walled_console(500)) == []


def test_foreign_stud_with_its_nut() -> None:
    """A stud 1 mm higher stands in the way with its nut, 8.732 mm across, and the driver's room.

    dial2.ignition at (1500, 550) is passed by ``ground 1`` at y = 550: right through it. The
    nut's corners turn at 8.732 / sqrt(3) = 5.04 mm, up to 5.1; the driver wants 5 mm more and the
    wire a clearance of 2 mm: at 12.1 mm it is free.
    """
    console = hand_console()
    posts = tuple(
        replace(post, at=replace(post.at, z_dmm=510)) if post.id == "dial2.ignition" else post
        for post in console.posts
    )
    console = replace(console, posts=posts)
    limits = hand_limits(nut_driver_room_dmm=50, clearance_dmm=20)

    def hit(y: int) -> bool:
        path = (at(700, 550), at(1300, y), at(1650, y), at(1700, 550))
        plan = edit(hand_plan(), "jumpers", lambda row: row.label == "ground 1", path=path)
        found = judge(plan, console=console, limits=limits).findings
        return any(one.rule == "obstacle" and one.place == "ground 1" for one in found)

    assert hit(550 + 120)
    assert not hit(550 + 121)
