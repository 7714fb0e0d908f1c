"""Paths over tie points, by hand arithmetic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.consoles import place, tiny_console
from support.limits import plain_limits
from support.routes import build_routes

from lugwright.routes.errors import NoPath
from lugwright.routes.schema import Corner, Routes
from lugwright.scenario.console import KeepOut, TiePoint

# Ground studs at (70, 55), (170, 55), (270, 55), height 50 mm; the loom in line with them.
LEFT = TiePoint("left", place(100, 55, 50), ("middle",))
MIDDLE = TiePoint("middle", place(200, 55, 50), ())
RIGHT = TiePoint("right", place(240, 55, 50), ("middle",))
ABOVE = TiePoint("above", place(170, 115, 50), ())


def routes_with(*ties: TiePoint, **limits: object) -> Routes:
    """Routes of the three dials with these tie points."""
    return build_routes(tiny_console(tie_points=ties), plain_limits(**limits))


def test_a_path_runs_to_the_loom_along_it_and_off() -> None:
    """30 to left, 100 to middle, 40 to right, 30 to the stud: 200 mm."""
    path = routes_with(LEFT, MIDDLE, RIGHT).between("dial1.ground", "dial3.ground")
    assert path.path_dmm == 300 + 1000 + 400 + 300
    assert path.corners == (
        Corner(place(70, 55, 50)),
        Corner(LEFT.at, "left"),
        Corner(MIDDLE.at, "middle"),
        Corner(RIGHT.at, "right"),
        Corner(place(270, 55, 50)),
    )
    assert path.loom_legs == (("left", "middle"), ("middle", "right"))


def test_height_is_gone_down_and_up_once() -> None:
    """The same loom 30 mm lower: 30 down at its one end and 30 up at its other."""
    low = [replace(tie, at=replace(tie.at, z_dmm=200)) for tie in (LEFT, MIDDLE, RIGHT)]
    path = routes_with(*low).between("dial1.ground", "dial3.ground")
    assert path.path_dmm == 2000 + 300 + 300
    assert path.loom_legs == (("left", "middle"), ("middle", "right"))


def test_a_wall_across_the_spurs_leaves_the_loom() -> None:
    """The loom is led through a wall; wires go through with it: 30 + 100, and 30 back."""
    wall = KeepOut("wall", 1200, -9000, 1500, 9000, 900)
    console = tiny_console(tie_points=(LEFT, MIDDLE), keep_outs=[wall])
    path = build_routes(console, plain_limits()).between("dial1.ground", "dial2.ground")
    assert path.path_dmm == 300 + 1000 + 300
    assert path.loom_legs == (("left", "middle"),)


def test_links_run_both_ways_whoever_states_them() -> None:
    """The way back is the same way; ``to`` stood on left and on right only."""
    routes = routes_with(LEFT, MIDDLE, RIGHT)
    there = routes.between("dial1.ground", "dial3.ground")
    back = routes.between("dial3.ground", "dial1.ground")
    assert back.corners == there.corners[::-1]
    assert back.path_dmm == there.path_dmm
    assert back.loom_legs == there.loom_legs


def test_one_tie_point_is_enough_and_uses_no_leg() -> None:
    """Up to the tie and down: sqrt(1000² + 600²) = 1166.19, so 1167, and 600."""
    path = routes_with(ABOVE).between("dial1.ground", "dial2.ground")
    assert path.path_dmm == 1167 + 600
    assert path.loom_legs == ()
    assert [corner.tie for corner in path.corners] == ["", "above", ""]


def test_a_wire_keeps_to_the_loom_where_a_straighter_way_would_leave_it() -> None:
    """A loom 60 mm above the studs: 600 + 2000 + 600 along it, not 2 × 1167 over its middle."""
    ties = (
        TiePoint("above", ABOVE.at, ("west", "east")),
        TiePoint("west", place(70, 115, 50), ()),
        TiePoint("east", place(270, 115, 50), ()),
    )
    path = routes_with(*ties).between("dial1.ground", "dial3.ground")
    assert path.path_dmm == 600 + 2000 + 600
    assert path.loom_legs == (("above", "east"), ("above", "west"))


def test_of_equally_near_tie_points_the_lesser_name_is_joined() -> None:
    """Both 30 mm from the stud at (170, 55): east before west, whichever way the wire goes."""
    ties = (
        TiePoint("west", place(140, 55, 50), ("east",)),
        TiePoint("east", place(200, 55, 50), ()),
    )
    routes = routes_with(*ties)
    assert routes.between("dial2.ground", "dial3.ground").path_dmm == 300 + 700
    path = routes.between("dial1.ground", "dial2.ground")
    assert path.path_dmm == 700 + 600 + 300
    assert path.loom_legs == (("east", "west"),)


def test_nearest_tie_points_that_no_links_join_shut_the_way() -> None:
    """The same places without links: nothing leads from left to right, and both are named."""
    left, right = TiePoint("left", LEFT.at, ()), TiePoint("right", RIGHT.at, ())
    routes = routes_with(left, right)
    with pytest.raises(NoPath, match="tie points left and right"):
        routes.between("dial1.ground", "dial3.ground")
    assert routes.between("dial1.ground", "dial2.ground").path_dmm == 300 + 700


def test_posts_of_one_instrument_are_joined_direct() -> None:
    """The loom is for going from one instrument to another."""
    path = routes_with(LEFT, MIDDLE, RIGHT).between("dial1.ground", "dial1.ignition")
    assert path.path_dmm == 200
    assert len(path.corners) == 2


def test_a_pigtail_runs_over_the_loom_too() -> None:
    """From the panel's corner to left, sqrt(1000² + 550²) = 1141.27 and 500 up, then 300 back."""
    path = routes_with(LEFT, MIDDLE, RIGHT).from_entry(place(0, 0), "dial1.ground")
    assert path.path_dmm == 1142 + 500 + 300
    assert path.corners[1] == Corner(LEFT.at, "left")


def test_a_tie_point_shut_off_is_not_used() -> None:
    """A keep-out over left's place: the path goes over the middle alone."""
    shut = KeepOut("box", 950, 500, 1050, 600, 900)
    console = tiny_console(tie_points=(LEFT, MIDDLE), keep_outs=[shut])
    path = build_routes(console, plain_limits()).between("dial1.ground", "dial2.ground")
    assert [corner.tie for corner in path.corners if corner.tie] == ["middle"]
    only = tiny_console(tie_points=(TiePoint("left", LEFT.at, ()),), keep_outs=[shut])
    with pytest.raises(NoPath, match="tie points"):
        build_routes(only, plain_limits()).between("dial1.ground", "dial2.ground")


def test_a_splice_at_a_tie_point_begins_on_the_loom() -> None:
    """From the splice at left: 100 and 40 along the loom and 30 to the stud, no spur."""
    routes = routes_with(LEFT, MIDDLE, RIGHT, splices=True)
    splice = next(s for s in routes.splice_points("ground") if s.tie == "left")
    path = routes.between(splice.id, "dial3.ground")
    assert path.path_dmm == 1000 + 400 + 300
    assert path.loom_legs == (("left", "middle"), ("middle", "right"))
    assert path.corners[0] == Corner(LEFT.at, "left")


def test_two_tie_points_at_one_place_do_no_harm() -> None:
    """A link of no length, and one of a tie point to itself, are passed at most once."""
    twin = TiePoint("twin", MIDDLE.at, ("middle", "twin"))
    path = routes_with(LEFT, MIDDLE, twin, RIGHT).between("dial1.ground", "dial3.ground")
    assert path.path_dmm == 2000
    assert path.loom_legs == (("left", "middle"), ("middle", "right"))
