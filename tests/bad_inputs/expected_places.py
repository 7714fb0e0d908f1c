"""What is said of bad places on the plate: bodies, bezels, posts, tie points."""

from __future__ import annotations

from bad_inputs.expected import Expected

PLACES: dict[str, tuple[Expected, ...]] = {
    "body_on_a_bus_bar.toml": (
        Expected(16, 10, 'instrument "volts", centre', ('body collides with that of "bar"',)),
    ),
    "cut_out_off_the_plate.toml": (
        Expected(
            16,
            10,
            'instrument "volts", centre',
            ("the cut-out reaches 6 mm beyond the plate's right edge", "260 mm by 120 mm"),
        ),
    ),
    "four_dials_in_one_place.toml": (
        Expected(
            11,
            10,
            'instrument "fuel", centre',
            ('its bezel overlaps that of "four"', "60.5 mm apart (move"),
        ),
        Expected(
            16,
            10,
            'instrument "two", centre',
            ('its bezel overlaps that of "four"', "it is in the way of 2 more"),
        ),
        Expected(
            21,
            10,
            'instrument "three", centre',
            ('its bezel overlaps that of "four"', "it is in the way of 1 more"),
        ),
    ),
    "linked_posts_of_two_circuits.toml": (
        Expected(
            24,
            129,
            'instrument "own", geometry, post "b", link',
            ('post "b" (ground) and post "a" (ignition) are one piece of metal', "a short"),
        ),
    ),
    "lead_that_is_linked.toml": (
        Expected(
            24,
            146,
            'instrument "own", geometry, post "b", link',
            ('post "b" is a flying lead linked to another post', 'feeds = { b = "spare" }'),
        ),
    ),
    "overlapping_bezels.toml": (
        Expected(
            16,
            10,
            'instrument "volts", centre',
            ('its bezel overlaps that of "fuel"', "60.5 mm apart"),
        ),
    ),
    "post_as_high_as_a_house.toml": (
        Expected(23, 78, 'instrument "own", geometry, post "a", height', ("at most 1 m",)),
    ),
    "post_beyond_the_plate.toml": (
        Expected(
            24,
            48,
            'instrument "own", geometry, post "b", at',
            ('post "b" stands beyond the plate', "the plate is 260 mm by 120 mm"),
        ),
    ),
    "tie_point_not_linked.toml": (
        Expected(
            53,
            8,
            'tie point "middle", name',
            ("must be linked to the loom", 'no links lead from "middle" to "left"'),
        ),
    ),
    "tie_points_in_one_place.toml": (
        Expected(35, 6, 'tie point "right", at', ('it lies where tie point "left" lies',)),
    ),
    "two_posts_in_one_place.toml": (
        Expected(
            24,
            48,
            'instrument "own", geometry, post "b", at',
            ('post "b" stands where post "a" stands',),
        ),
    ),
    "unknown_tie_point_link.toml": (
        Expected(
            50,
            19,
            'tie point "left", links, entry 2',
            ('no tie point "middel"', 'did you mean "middle"?'),
        ),
    ),
}
