"""What counts as an obstacle, how wide it is, and how a crowded joint leaves."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import sqrt

import pytest
from consoles_for_tests import place, tiny_console
from limits_for_tests import plain_limits

from lugwright.base.errors import OutsideTable
from lugwright.routes.geometry import Box, is_inside
from lugwright.routes.obstacles import Joint, Layers, Obstacle, nut_radius_dmm, obstacles_of
from lugwright.scenario.console import KeepOut

BODY = Obstacle("the body of deep", "body", "deep", 500, Box(0, 0, 0, 0), 260, 100)
NUT = Obstacle("the nut of deep.ground", "nut", "deep", 500, Box(0, 0, 0, 0), 50, 150)
RIB = Obstacle("the keep-out rib", "keep-out", "", 500, Box(0, 0, 0, 200), 0, 60)


@pytest.mark.parametrize(
    ("thread", "across_inch"),
    [("#6-32 UNC", 0.3125), ("#8-32 UNC", 0.34375), ("#10-32 UNF", 0.375), ("1/4-20 UNC", 0.4375)],
)
def test_a_nut_reaches_as_far_as_its_corners(thread: str, across_inch: float) -> None:
    """ASME B18.6.3 widths across flats: s / sqrt(3), never less and at most 0.1 mm more."""
    true_dmm = across_inch * 254 / sqrt(3)
    assert true_dmm <= nut_radius_dmm(thread) < true_dmm + 1.1


def test_a_thread_with_no_known_nut_is_named() -> None:
    """The table is not guessed beyond."""
    with pytest.raises(OutsideTable, match="7/8"):
        nut_radius_dmm("7/8-14")


def test_bodies_keep_outs_and_studs_are_obstacles_and_tabs_are_not() -> None:
    """One dial: its body and its two studs; the lamp tab has no nut."""
    rib = KeepOut("rib", 300, 0, 100, 50, 200)
    console = tiny_console([(60, 60)], keep_outs=[rib])
    found = obstacles_of(console, plain_limits(clearance_dmm=30, nut_driver_room_dmm=40))
    assert [(obstacle.name, obstacle.height_dmm, obstacle.margin_dmm) for obstacle in found] == [
        ("the keep-out rib", 200, 30),
        ("the body of dial1", 450, 30),
        ("the nut of dial1.ground", 500, 70),
        ("the nut of dial1.ignition", 500, 70),
    ]
    assert found[0].box == Box(100, 0, 300, 50)


def test_a_rectangular_body_is_taken_as_it_is() -> None:
    """A body of 30.1 x 20 mm: an odd width is rounded away from the centre."""
    console = tiny_console([(60, 60)], lamps=False)
    flat = replace(console.instruments[0], body_width_dmm=301, body_height_dmm=200)
    console = replace(console, instruments=(flat,), posts=())
    (body,) = obstacles_of(console, plain_limits())
    assert (body.box, body.radius_dmm) == (Box(449, 500, 751, 700), 0)


def test_nothing_that_does_not_stick_out_is_in_the_way() -> None:
    """A body of depth 0, and a body of no size, are no obstacles even with a clearance."""
    console = tiny_console([(60, 60)], body_depth_mm=0)
    console = replace(console, posts=())
    assert obstacles_of(console, plain_limits(clearance_dmm=50)) == ()
    nothing = tiny_console([(60, 60)], body_mm=0)
    assert obstacles_of(replace(nothing, posts=()), plain_limits(clearance_dmm=50)) == ()


def test_only_what_is_higher_than_both_ends_is_in_a_layer() -> None:
    """An obstacle as high as the higher end is not in the way."""
    layers = Layers(obstacles_of(tiny_console([(60, 60)]), plain_limits()))
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


def test_a_joint_inside_a_foreign_body_can_not_leave_but_passes_beneath_a_nut() -> None:
    """The bare body stays shut; a nut overhead is nothing."""
    inside = Joint(place(1, 0), "flat.tab", "flat")
    shut = Layers((BODY,)).above(0)
    assert not shut.is_free(inside.place, (900, 0), shut.exceptions(inside))
    beneath = Layers((NUT,)).above(0)
    assert beneath.is_free(inside.place, (900, 0), beneath.exceptions(inside))


def test_a_margin_is_no_wall() -> None:
    """A place in the margin is crowded, but walled in only inside the body itself."""
    layer = Layers((BODY,)).above(0)
    assert layer.is_crowded((300, 0))
    assert not layer.is_walled_in((300, 0))
    assert layer.is_walled_in((200, 0))
    assert not Layers((NUT,)).above(0).is_walled_in((0, 0))


@pytest.mark.parametrize("obstacle", [BODY, NUT, RIB], ids=lambda obstacle: obstacle.name)
def test_the_margin_kept_is_the_largest_that_leaves_the_place_out(obstacle: Obstacle) -> None:
    """Against trying every margin from the largest down."""
    for x, y in product(range(-400, 401, 37), range(-400, 401, 41)):
        tried = (obstacle.outline_with(margin) for margin in range(obstacle.margin_dmm, -1, -1))
        bare = None if obstacle.sort == "nut" else obstacle.outline_with(0)
        largest = next((o for o in tried if o is None or not is_inside((x, y), o)), bare)
        assert obstacle.outline_leaving_out((x, y)) == largest
