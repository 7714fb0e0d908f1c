"""What each bad input must be answered with: place, field and key words of every complaint."""

from __future__ import annotations

from typing import NamedTuple


class Expected(NamedTuple):
    """One complaint: line and column from 1, the field, and words of message and hint."""

    line: int
    column: int
    field: str
    words: tuple[str, ...]


UNREADABLE = {
    "binary.bin": "not a text file",
    "empty.toml": "the file is empty",
    "missing.toml": "there is no such file",
    "not_utf8.toml": "not text in UTF-8",
}

CASES: dict[str, tuple[Expected, ...]] = {
    "body_on_a_bus_bar.toml": (
        Expected(16, 10, 'instrument "volts", centre', ('body collides with that of "bar"',)),
    ),
    "circuit_without_supply.toml": (
        Expected(
            18,
            3,
            "harness",
            (
                "no circuit feeds 2 posts",
                'circuit "ground" has no supply',
                "fuel.ground, volts.ground",
            ),
        ),
    ),
    "comma_for_point.toml": (
        Expected(
            16, 21, 'instrument "volts", centre, y', ("decimal point, not a comma", "60,5 mm")
        ),
    ),
    "load_on_a_signal.toml": (
        Expected(
            40,
            12,
            'boat wires "horn", wire 1, lands_on',
            ("takes a sender's wire only", '"load" post'),
        ),
    ),
    "load_without_current.toml": (
        Expected(47, 3, 'boat wires "horn"', ('"current" is missing', "say what it draws")),
    ),
    "cut_out_off_the_plate.toml": (
        Expected(
            16,
            10,
            'instrument "volts", centre',
            ("the cut-out reaches 6 mm beyond the plate's right edge", "260 mm by 120 mm"),
        ),
    ),
    "duplicate_boat_wires.toml": (
        Expected(
            48,
            8,
            'boat wires "fuel sender", name',
            ('two blocks of boat wires named "fuel sender"',),
        ),
        Expected(
            51,
            23,
            'boat wires "fuel sender", wire 1, lands_on',
            ("its name says sender, and its wire lands on a feed",),
        ),
    ),
    "duplicate_instrument.toml": (
        Expected(14, 8, 'instrument "fuel", name', ('two instruments named "fuel"',)),
    ),
    "feeds_an_unknown_circuit.toml": (
        Expected(
            11,
            20,
            'instrument "fuel", feeds, second',
            (
                'no circuit feeds post "second"',
                'circuit "ignitoin" has no supply',
                'did you mean "ignition"?',
            ),
        ),
    ),
    "fuse_on_a_ground.toml": (
        Expected(30, 8, 'pigtail "ground", fuse', ("a ground has no fuse",)),
    ),
    "ignition_without_supply.toml": (
        Expected(
            18,
            3,
            "harness",
            ('circuit "ignition" has no supply', "fuel.ignition, volts.ignition"),
        ),
    ),
    "lands_on_without_a_post.toml": (
        Expected(
            38,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ("does not name a post", "fuel.signal"),
        ),
    ),
    "length_without_unit.toml": (
        Expected(4, 9, "panel, width", ("a number needs its unit", 'got "260"', "52 mm")),
    ),
    "missing_key.toml": (Expected(3, 2, "panel", ('"width" is missing', "Width of the plate")),),
    "mixed_number_without_unit.toml": (
        Expected(
            11,
            11,
            'instrument "fuel", centre, x',
            ("a number needs its unit", 'got "3 3/8"', "3-3/8 in"),
        ),
    ),
    "name_with_a_dot.toml": (Expected(14, 8, 'instrument "volts.2", name', ("no dot",)),),
    "negative_length.toml": (
        Expected(6, 13, "panel, thickness", ("must not be negative", "-6 mm")),
    ),
    "negative_load.toml": (
        Expected(11, 18, 'instrument "fuel", loads, lamp', ("must not be negative", "-0.1 A")),
    ),
    "no_pattern_and_no_geometry.toml": (
        Expected(13, 3, 'instrument "volts"', ("neither pattern nor geometry",)),
    ),
    "not_a_number_in_text.toml": (
        Expected(11, 18, 'instrument "fuel", loads, lamp', ("not a number with its unit", "nan A")),
    ),
    "not_a_number_load.toml": (
        Expected(11, 18, 'instrument "fuel", loads, lamp', ("in quotes", "nan")),
    ),
    "nothing_but_a_bad_instrument.toml": (
        Expected(7, 3, 'instrument "fuel"', ('"centre" is missing',)),
    ),
    "number_instead_of_text.toml": (Expected(4, 9, "panel, width", ("in quotes", "got 260")),),
    "one_coordinate.toml": (
        Expected(19, 9, "harness, entry", ("two coordinates are wanted",)),
    ),
    "overlapping_bezels.toml": (
        Expected(
            16,
            10,
            'instrument "volts", centre',
            ('its bezel overlaps that of "fuel"', "60.5 mm apart"),
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
    "key_on_of_two_lines.toml": (
        Expected(11, 10, 'instrument "fuel", key_on', ("one line of at most 200",)),
    ),
    "linked_posts_of_two_circuits.toml": (
        Expected(
            24,
            129,
            'instrument "own", geometry, post "b", link',
            ('post "b" (ground) and post "a" (ignition) are one piece of metal', "a short"),
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
    "three_corners.toml": (
        Expected(30, 11, 'keep-out "pump", corners', ("two corners are wanted",)),
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
    "pigtail_and_taken_from.toml": (
        Expected(
            49, 14, 'circuit "ignition", taken_from', ("two supplies", 'is taken from "ground"')
        ),
    ),
    "pigtail_nobody_uses.toml": (
        Expected(
            35,
            11,
            'pigtail "blower", circuit',
            ('no post belongs to circuit "blower"', "cap_off = true"),
        ),
    ),
    "pigtail_without_circuit.toml": (
        Expected(
            34,
            11,
            'pigtail "trim"',
            ("supplies no circuit and is not capped off", "cap_off = true"),
        ),
    ),
    "pigtail_without_reach.toml": (
        Expected(21, 11, 'pigtail "ignition"', ('"reach" is missing',)),
    ),
    "post_no_circuit_feeds.toml": (
        Expected(
            48,
            8,
            'instrument "socket", name',
            (
                'no circuit feeds post "feed"',
                'circuit "accessory" has no supply',
                'pigtail for "accessory"',
            ),
        ),
    ),
    "reserve_on_a_tab.toml": (
        Expected(
            11,
            20,
            'instrument "fuel", reserve, lamp',
            ("reserved on studs only", "this post is a tab"),
        ),
    ),
    "taken_from_nothing.toml": (
        Expected(
            49,
            14,
            'circuit "lamps", taken_from',
            ("which has no pigtail", 'did you mean "ignition"?'),
        ),
    ),
    "ring_of_another_thread.toml": (
        Expected(
            44,
            8,
            'boat wires "fuel sender", wire 2, ring',
            ("its ring is for M6 x 1.0", "#10-32 UNF"),
        ),
    ),
    "ring_on_a_tab.toml": (
        Expected(55, 83, 'boat wires "horn", wire 1, ring', ("a ring does not go on a tab",)),
    ),
    "sender_on_a_declared_feed.toml": (
        Expected(
            11,
            20,
            'instrument "fuel", feeds, signal',
            ("takes nothing from circuit", "with a load of its own", '"spare"'),
        ),
        Expected(
            39,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ('circuit "ignition"', "a post fed by a sender never takes power"),
        ),
    ),
    "sender_on_a_feed.toml": (
        Expected(
            38,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ("a sender's wire lands on a feed", 'it belongs on "fuel.signal"'),
        ),
    ),
    "several_faults_at_once.toml": (
        Expected(7, 1, "panel", ('unknown key "colour"',)),
        Expected(11, 11, 'instrument "fuel", pattern', ('no pattern "dial-53"',)),
        Expected(17, 11, 'instrument "volts", centre, x', ("a number needs its unit",)),
        Expected(31, 8, 'pigtail "ground", fuse', ("a ground has no fuse",)),
    ),
    "stud_without_thread.toml": (
        Expected(56, 28, 'instrument "block", geometry, post "ground"', ("a stud needs thread",)),
    ),
    "syntax_error.toml": (Expected(14, 8, "", ("not valid TOML", "Invalid value")),),
    "tab_taken_by_a_jumper.toml": (
        Expected(
            50,
            23,
            'boat wires "chart light", wire 1, lands_on',
            ("this tab is used twice", 'jumper of circuit "lamps"'),
        ),
    ),
    "tab_used_twice.toml": (
        Expected(
            60, 23, 'boat wires "pump", wire 1, lands_on', ("this tab is used twice", "one push-on")
        ),
    ),
    "three_coordinates.toml": (
        Expected(19, 9, "harness, entry", ("two coordinates are wanted",)),
    ),
    "tie_point_not_linked.toml": (
        Expected(
            53,
            8,
            'tie point "middle", name',
            ("must be linked to the loom", 'no links lead from "middle" to "left"'),
        ),
    ),
    "two_pigtails_for_one_circuit.toml": (
        Expected(36, 11, 'pigtail "house", circuit', ('circuit "ignition" has two supplies',)),
    ),
    "two_senders_on_one_signal.toml": (
        Expected(49, 23, 'boat wires "reserve sender", wire 1, lands_on', ("fed by two senders",)),
    ),
    "unknown_colour.toml": (
        Expected(
            40,
            10,
            'boat wires "fuel sender", wire 1, colour',
            ("colour must be one of", 'did you mean "pink"?'),
        ),
    ),
    "unknown_instrument_in_lands_on.toml": (
        Expected(
            38,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ('no instrument "feul"', 'did you mean "fuel"?'),
        ),
    ),
    "unknown_key.toml": (
        Expected(
            11,
            1,
            'instrument "fuel"',
            ('unknown key "hub_candidat"', 'did you mean "hub_candidate"?'),
        ),
    ),
    "unknown_key_in_inline_table.toml": (
        Expected(
            17,
            24,
            'instrument "volts", post "ignition"',
            ('unknown key "tread"', 'did you mean "thread"?'),
        ),
    ),
    "unknown_load.toml": (
        Expected(
            11, 11, 'instrument "fuel", loads, lampe', ('no load "lampe"', 'did you mean "lamp"?')
        ),
    ),
    "unknown_pattern.toml": (
        Expected(
            10,
            11,
            'instrument "fuel", pattern',
            ('no pattern "dail-52"', 'did you mean "dial-52"?'),
        ),
    ),
    "unknown_post_in_feeds.toml": (
        Expected(
            11, 11, 'instrument "fuel", feeds, secund', ('no post "secund"', 'known: "ground"')
        ),
    ),
    "unknown_post_in_lands_on.toml": (
        Expected(
            38,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ('"fuel" has no post "signel"', 'did you mean "signal"?'),
        ),
    ),
    "unknown_thread.toml": (
        Expected(
            16, 31, 'instrument "volts", post "ground", thread', ("not a known thread", "M6 x 1.0")
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
    "unknown_top_level_key.toml": (
        Expected(3, 2, "", ('unknown key "pannel"', 'did you mean "panel"?')),
    ),
    "unknown_voltage.toml": (Expected(2, 11, "voltage", ('"36 V" is not known here', "12 V")),),
    "wire_below_the_ampacity_table.toml": (
        Expected(
            39,
            13,
            'boat wires "fuel sender", wire 1, wire_size',
            ("33 CFR 183.425 Table 5 has no row for 22 AWG",),
        ),
    ),
    "wrong_unit.toml": (
        Expected(
            36, 11, 'boat wires "fuel sender", current', ('unit "ma" is not known here', "150 mA")
        ),
    ),
    "yes_for_true.toml": (
        Expected(26, 11, 'pigtail "ignition", cap_off', ("write true or false", "yes")),
    ),
    "zero_load.toml": (
        Expected(11, 18, 'instrument "fuel", loads, lamp', ("must be more than zero",)),
    ),
}

STOCK_CASES: dict[str, tuple[Expected, ...]] = {
    "cut_out_within_the_edge_margin.toml": (
        Expected(
            16,
            10,
            'instrument "volts", centre',
            ("leaves 5 mm of plate to the edge", "10 mm are wanted"),
        ),
    ),
    "no_room_for_a_nut_driver.toml": (
        Expected(
            49,
            10,
            'instrument "block", centre',
            (
                'no room for a nut driver on post "ground"',
                'the body of "volts" stands 7.5 mm from it',
                "8.5 mm are wanted",
            ),
        ),
    ),
    "stud_no_ring_fits.toml": (
        Expected(
            14,
            8,
            'instrument "volts", name',
            (
                'no ring or captive spade in stock fits post "ground"',
                "1/4-20 UNC stud",
                "in stock: #10-24 UNC",
            ),
        ),
    ),
    "tab_no_push_on_fits.toml": (
        Expected(
            14,
            8,
            'instrument "volts", name',
            ('no push-on in stock fits post "lamp"', "9.5 x 1.2 tab", "6.3 x 0.8"),
        ),
    ),
    "wire_colour_not_in_stock.toml": (
        Expected(
            49,
            10,
            'circuit "lamps", colour',
            ('no white wire in stock for circuit "lamps"', "dark blue"),
        ),
    ),
    "wire_size_not_in_stock.toml": (
        Expected(
            49,
            16,
            'circuit "lamps", minimum_size',
            (
                'no dark blue wire in stock is as large as circuit "lamps" wants',
                "largest in stock: 10 AWG",
            ),
        ),
    ),
}
