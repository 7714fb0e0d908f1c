"""What is said of keys, names, numbers and units that are written wrong."""

from __future__ import annotations

from bad_inputs.expected import Expected

TEXT: dict[str, tuple[Expected, ...]] = {
    "comma_for_point.toml": (
        Expected(
            16, 21, 'instrument "volts", centre, y', ("decimal point, not a comma", "60,5 mm")
        ),
    ),
    "duplicate_instrument.toml": (
        Expected(14, 8, 'instrument "fuel", name', ('two instruments named "fuel"',)),
    ),
    "key_on_of_two_lines.toml": (
        Expected(11, 10, 'instrument "fuel", key_on', ("one line of at most 200",)),
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
    "three_coordinates.toml": (
        Expected(19, 9, "harness, entry", ("two coordinates are wanted",)),
    ),
    "three_corners.toml": (
        Expected(30, 11, 'keep-out "pump", corners', ("two corners are wanted",)),
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
    "unknown_thread.toml": (
        Expected(
            16, 31, 'instrument "volts", post "ground", thread', ("not a known thread", "M6 x 1.0")
        ),
    ),
    "unknown_top_level_key.toml": (
        Expected(3, 2, "", ('unknown key "pannel"', 'did you mean "panel"?')),
    ),
    "unknown_voltage.toml": (Expected(2, 11, "voltage", ('"36 V" is not known here', "12 V")),),
    "yes_for_true.toml": (
        Expected(26, 11, 'pigtail "ignition", cap_off', ("write true or false", "yes")),
    ),
    "zero_load.toml": (
        Expected(11, 18, 'instrument "fuel", loads, lamp', ("must be more than zero",)),
    ),
}
