"""What counts as an obstacle, how wide it is, and how a crowded joint leaves."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.consoles import place, tiny_console
from support.limits import plain_limits
from support.routes import packaged_stock

from lugwright.checker.nut_room import nut_corner_dmm
from lugwright.routes.geometry import Box, is_inside
from lugwright.routes.nuts import Circle, corner_radius_dmm, nut_radii_dmm
from lugwright.routes.obstacles import Joint, Layers, Obstacle, obstacles_of
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import KeepOut

BODY = Obstacle("the body of deep", "body", "deep", 500, Box(0, 0, 0, 0), 260, 100)
NUT = Obstacle("the nut of deep.ground", "nut", "deep", 500, Box(0, 0, 0, 0), 100, 100, 50)
RIB = Obstacle("the keep-out rib", "keep-out", "", 500, Box(0, 0, 0, 200), 0, 60)


@pytest.mark.parametrize(
    ("thread", "across_inch"),
    [("#6-32 UNC", 0.3125), ("#8-32 UNC", 0.34375), ("#10-32 UNF", 0.375), ("1/4-20 UNC", 0.4375)],
)
def test_a_nut_reaches_as_far_as_its_corners(thread: str, across_inch: float) -> None:
    """ASME B18.6.3 widths across flats: s / sqrt(3), never less and at most 0.1 mm more."""
    true_dmm = across_inch * 254 / sqrt(3)
    assert true_dmm <= nut_radii_dmm(packaged_stock())[thread] < true_dmm + 1.0


def test_a_nut_is_as_large_as_the_stock_says() -> None:
    """A shop's 13 mm nut on #10-32 turns in 13 / sqrt(3) = 7.51 mm, up to 7.6."""
    stock = packaged_stock()
    rows = [row for row in stock.hardware if row.thread != "#10-32 UNF"]
    large = replace(stock.hardware_for("#10-32 UNF"), across_flats_um=13_000)
    assert nut_radii_dmm(replace(stock, hardware=(*rows, large)))["#10-32 UNF"] == 76


@given(st.integers(1, 60_000))
def test_router_and_checker_agree_how_far_a_nut_reaches(across_um: int) -> None:
    """Two ways of working it out, and neither below s / sqrt(3)."""
    assert corner_radius_dmm(across_um) == nut_corner_dmm(across_um)
    assert 3 * (100 * corner_radius_dmm(across_um)) ** 2 >= across_um**2


def test_a_stud_without_a_nut_in_stock_keeps_room_for_the_driver() -> None:
    """How large its nut is nobody said; the limits' room is kept round it all the same."""
    console = tiny_console([(60, 60)], thread="7/8-14", lamps=False)
    limits = plain_limits(clearance_dmm=30, nut_driver_room_dmm=40)
    found = obstacles_of(Brief(console, limits, packaged_stock()))
    nuts = [one for one in found if one.sort == "nut"]
    assert [(one.radius_dmm, one.margin_dmm, one.nut_dmm) for one in nuts] == [(40, 30, 0)] * 2


def test_bodies_keep_outs_and_studs_are_obstacles_and_tabs_are_not() -> None:
    """One dial: its body and its two studs; the lamp tab has no nut."""
    rib = KeepOut("rib", 300, 0, 100, 50, 200)
    console = tiny_console([(60, 60)], keep_outs=[rib])
    limits = plain_limits(clearance_dmm=30, nut_driver_room_dmm=40)
    found = obstacles_of(Brief(console, limits, packaged_stock()))
    assert [(obstacle.name, obstacle.height_dmm, obstacle.margin_dmm) for obstacle in found] == [
        ("the keep-out rib", 200, 30),
        ("the body of dial1", 450, 30),
        ("the nut of dial1.ground", 500, 30),
        ("the nut of dial1.ignition", 500, 30),
    ]
    assert [obstacle.radius_dmm for obstacle in found[2:]] == [51 + 40, 51 + 40]
    assert found[0].box == Box(100, 0, 300, 50)


def test_a_rectangular_body_is_taken_as_it_is() -> None:
    """A body of 30.1 x 20 mm: an odd width is rounded away from the centre."""
    console = tiny_console([(60, 60)], lamps=False)
    flat = replace(console.instruments[0], body_width_dmm=301, body_height_dmm=200)
    console = replace(console, instruments=(flat,), posts=())
    (body,) = obstacles_of(Brief(console, plain_limits(), packaged_stock()))
    assert (body.box, body.radius_dmm) == (Box(449, 500, 751, 700), 0)


def test_nothing_that_does_not_stick_out_is_in_the_way() -> None:
    """A body of depth 0, and a body of no size, are no obstacles even with a clearance."""
    console = tiny_console([(60, 60)], body_depth_mm=0)
    console = replace(console, posts=())
    limits = plain_limits(clearance_dmm=50)
    assert obstacles_of(Brief(console, limits, packaged_stock())) == ()
    nothing = tiny_console([(60, 60)], body_mm=0)
    assert obstacles_of(Brief(replace(nothing, posts=()), limits, packaged_stock())) == ()


def test_only_what_is_higher_than_both_ends_is_in_a_layer() -> None:
    """An obstacle as high as the higher end is not in the way."""
    layers = Layers(obstacles_of(Brief(tiny_console([(60, 60)]), plain_limits(), packaged_stock())))
    assert len(layers.above(449).obstacles) == 3
    assert len(layers.above(450).obstacles) == 2
    assert layers.above(500).obstacles == ()
    assert layers.above(460) is layers.above(499)


def test_a_joint_of_its_own_body_ignores_it() -> None:
    """A post in the margin of its own instrument leaves straight."""
    layer = Layers((BODY,)).above(0)
    joint = Joint(place(20, 0), "deep.tab", "deep")
    assert layer.exceptions(joint) == {0: None}
    assert layer.is_free(joint.place, (-900, 0), layer.exceptions(joint))


def test_a_crowded_neighbour_keeps_the_margin_it_can() -> None:
    """30 mm from the middle of a 26 mm radius with 10 mm clearance: 4 mm are kept.

    On the axis the outline reaches just as far as its radius, so 300 leaves the post out.
    """
    layer = Layers((BODY,)).above(0)
    joint = Joint(place(30, 0), "flat.tab", "flat")
    kept = layer.exceptions(joint)[0]
    assert kept == BODY.outline_with(40)
    assert layer.is_free(joint.place, (300, 900), layer.exceptions(joint))
    assert not layer.is_free(joint.place, (-900, 0), layer.exceptions(joint))


def test_a_joint_inside_a_foreign_body_can_not_leave() -> None:
    """The bare body stays shut."""
    inside = Joint(place(1, 0), "flat.tab", "flat")
    shut = Layers((BODY,)).above(0)
    assert not shut.is_free(inside.place, (900, 0), shut.exceptions(inside))


@pytest.mark.parametrize("instrument", ["deep", "flat"])
def test_a_joint_in_a_driver_circle_leaves_outward(instrument: str) -> None:
    """Whosever stud it is: 6 mm from its axis a wire goes sideways or away, and no nearer.

    The circle is 10 mm; 20 mm with the clearance.
    """
    layer = Layers((NUT,)).above(0)
    joint = Joint(place(6, 0), "some.tab", instrument)
    kept = layer.exceptions(joint)
    assert kept == {0: Circle((0, 0), 60**2)}
    assert layer.is_free(joint.place, (900, 0), kept)
    assert layer.is_free(joint.place, (60, 900), kept)
    assert not layer.is_free(joint.place, (59, 900), kept)
    assert not layer.is_free(joint.place, (-900, 0), kept)


def test_a_joint_beside_a_driver_circle_keeps_out_of_it() -> None:
    """15 mm off, within the clearance alone: its wire passes the circle of 10 mm at 10 mm."""
    layer = Layers((NUT,)).above(0)
    joint = Joint(place(15, 0), "deep.tab", "deep")
    kept = layer.exceptions(joint)
    assert kept == {0: Circle((0, 0), 100**2)}
    assert layer.is_free((150, 100), (-900, 100), kept)
    assert not layer.is_free((150, 99), (-900, 99), kept)
    assert not layer.is_free(joint.place, (-900, 0), kept)


def test_a_joint_between_two_studs_keeps_clear_of_the_nuts() -> None:
    """Midway between two studs 18 mm apart no wire leads away from both: it leaves past them."""
    other = replace(NUT, name="the nut of deep.ignition", box=Box(180, 0, 180, 0))
    layer = Layers((NUT, other)).above(0)
    joint = Joint(place(9, 0), "deep.lamp", "deep")
    kept = layer.exceptions(joint)
    assert kept == {0: Circle((0, 0), 50**2), 1: Circle((180, 0), 50**2)}
    assert layer.is_free(joint.place, (90, 900), kept)
    assert layer.is_free(joint.place, (0, 900), kept)
    assert not layer.is_free(joint.place, (-900, 0), kept)


def test_a_margin_is_no_wall() -> None:
    """A place in the margin is crowded, but walled in only inside the body itself."""
    layer = Layers((BODY,)).above(0)
    assert layer.is_crowded((300, 0))
    assert not layer.is_walled_in((300, 0))
    assert layer.is_walled_in((200, 0))
    assert not Layers((NUT,)).above(0).is_walled_in((0, 0))


@pytest.mark.parametrize("obstacle", [BODY, RIB], ids=lambda obstacle: obstacle.name)
def test_the_margin_kept_is_the_largest_that_leaves_the_place_out(obstacle: Obstacle) -> None:
    """Against trying every margin from the largest down."""
    for x, y in product(range(-400, 401, 37), range(-400, 401, 41)):
        tried = (obstacle.outline_with(margin) for margin in range(obstacle.margin_dmm, -1, -1))
        bare = obstacle.outline_with(0)
        largest = next((o for o in tried if o is None or not is_inside((x, y), o)), bare)
        assert obstacle.outline_leaving_out((x, y)) == largest
