"""What is said of rectangular cut-outs, rims, flanges, screws and the plate's own holes."""

from __future__ import annotations

from bad_inputs.expected import Expected

HOLES: dict[str, tuple[Expected, ...]] = {
    "bezel_of_one_side.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("state either bezel (round) or both bezel_width and bezel_height",),
        ),
    ),
    "bezel_that_shows_a_corner.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("the bezel must cover the cut-out",),
        ),
    ),
    "body_larger_than_its_rectangle.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("it is wider than the hole", "measure both"),
        ),
    ),
    "body_with_corners_beyond_its_hole.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("its corners stand beyond the hole", "measure both", 'mounted_from = "back"'),
        ),
    ),
    "body_with_corners_in_rounded_corners.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("its corners stand beyond the hole", "measure both"),
        ),
    ),
    "corners_rounder_than_the_cut_out.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("at most half the cut-out's shorter side",),
        ),
    ),
    "cut_out_of_one_side.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("both cut_out_width and cut_out_height",),
        ),
    ),
    "cut_out_round_and_rectangular.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("state either cut_out (round) or both cut_out_width and cut_out_height",),
        ),
    ),
    "flange_that_goes_through.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("the flange (body) goes through", "must be larger than the hole"),
        ),
    ),
    "flange_that_goes_through_turned.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("the flange (body) goes through", "must be larger than the hole"),
        ),
    ),
    "from_the_back_without_a_cut_out.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("wants a cut-out",),
        ),
    ),
    "front_part_that_does_not_pass.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("the front part (bezel) does not go through", "measure both"),
        ),
    ),
    "hole_for_nothing.toml": (
        Expected(
            7,
            10,
            "panel, hole 1",
            ('"what" is missing', "grommet, mounting screw"),
        ),
    ),
    "hole_in_a_turned_cut_out.toml": (
        Expected(
            7,
            17,
            "panel, hole 1, at",
            ('of "own"', "move one of them"),
        ),
    ),
    "hole_off_the_plate.toml": (
        Expected(
            7,
            17,
            "panel, hole 1, at",
            ("reaches 0.5 mm beyond the plate's left edge", "260 mm by 120 mm"),
        ),
    ),
    "hole_under_a_bezel.toml": (
        Expected(
            7,
            17,
            "panel, hole 1, at",
            ('overlaps the bezel of "volts"', "move one of them"),
        ),
    ),
    "holes_in_one_place.toml": (
        Expected(
            9,
            10,
            "panel, hole 2, at",
            ("overlaps the grommet at 120 mm, 20 mm", "move one of them"),
        ),
    ),
    "mounted_from_the_side.toml": (
        Expected(
            25,
            16,
            'instrument "own", geometry, mounted_from',
            ('"side" is not known here', '"back", "front"'),
        ),
    ),
    "radius_of_a_round_cut_out.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("cut_out_radius is of a rectangular cut-out",),
        ),
    ),
    "rectangle_without_a_bezel.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("cut_out and bezel belong together",),
        ),
    ),
    "screw_in_the_cut_out.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("screw 1 overlaps the cut-out",),
        ),
    ),
    "screw_off_the_plate.toml": (
        Expected(
            15,
            10,
            'instrument "own", centre',
            ("hole for screw 1 reaches 1 mm beyond the plate's upper edge", "260 mm by 120 mm"),
        ),
    ),
    "screws_in_one_place.toml": (
        Expected(
            16,
            13,
            'instrument "own", geometry',
            ("screw 2 overlaps screw 1",),
        ),
    ),
    "turned_bezels_overlap.toml": (
        Expected(
            11,
            10,
            'instrument "volts", centre',
            ("its bezel overlaps that of", "move one of them"),
        ),
    ),
}

STOCK_HOLES: dict[str, tuple[Expected, ...]] = {
    "hole_within_the_edge_margin.toml": (
        Expected(
            7,
            17,
            "panel, hole 1, at",
            ("it leaves 9.5 mm of plate to the edge", "10 mm are wanted"),
        ),
    ),
    "screw_within_the_edge_margin.toml": (
        Expected(
            15,
            10,
            'instrument "own", centre',
            ("a screw of it leaves 9 mm", "10 mm are wanted"),
        ),
    ),
    "turned_cut_out_within_the_edge_margin.toml": (
        Expected(
            15,
            10,
            'instrument "own", centre',
            ("its cut-out leaves 9.4 mm", "10 mm are wanted"),
        ),
    ),
}
