"""What is said of breakers, fuse blocks, bars and relays: one instrument on two feeds."""

from __future__ import annotations

from bad_inputs.expected import Expected

BLOCKS: dict[str, tuple[Expected, ...]] = {
    "breakers_between_two_bars.toml": (
        Expected(
            28,
            7,
            'instrument "breaker panel", geometry, post "in1"',
            (
                'post "in1" takes nothing from circuit "ignition" itself',
                'and post "out1"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            8,
            'instrument "breaker panel", geometry, post "out1"',
            (
                'post "out1" takes nothing from circuit "lamps" itself',
                'and post "in1"',
                "leave it out of this plan",
            ),
        ),
    ),
    "breakers_in_a_row.toml": (
        Expected(
            28,
            6,
            'instrument "strip", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "ignition" itself',
                'and post "one"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "strip", geometry, post "one"',
            (
                'post "one" takes nothing from circuit "lamps" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            7,
            'instrument "strip", geometry, post "two"',
            (
                'post "two" takes nothing from circuit "navigation lights" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "fuse_block_feeding_the_boat.toml": (
        Expected(
            28,
            6,
            'instrument "block", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "battery" itself',
                'and post "f1"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            6,
            'instrument "block", geometry, post "f1"',
            (
                'post "f1" takes nothing from circuit "pump" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "fuse_holder_as_two_junctions.toml": (
        Expected(
            28,
            6,
            'instrument "holder", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "battery" itself',
                'and post "out"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "holder", geometry, post "out"',
            (
                'post "out" takes nothing from circuit "ignition" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            31,
            3,
            "harness",
            (
                "no circuit feeds 2 posts",
                'circuit "lamps" has no supply',
                "leave it out of this plan",
            ),
        ),
    ),
    "glow_relay_with_a_coil.toml": (
        Expected(
            29,
            11,
            'instrument "glow", geometry, post "contact"',
            (
                'post "contact" takes nothing from circuit "ignition" itself',
                'and post "coil"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            7,
            'instrument "glow", geometry, post "out"',
            (
                'post "out" takes nothing from circuit "ignition" itself',
                'and post "coil"',
                "leave it out of this plan",
            ),
        ),
    ),
    "key_and_fuse_block.toml": (
        Expected(
            28,
            7,
            'instrument "key", geometry, post "bat"',
            (
                'post "bat" takes nothing from circuit "battery" itself',
                'and post "ign"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "key", geometry, post "ign"',
            (
                'post "ign" takes nothing from circuit "switched" itself',
                'and post "bat"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            41,
            6,
            'instrument "fuses", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "switched" itself',
                'and post "f1"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            42,
            6,
            'instrument "fuses", geometry, post "f1"',
            (
                'post "f1" takes nothing from circuit "ignition" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            44,
            3,
            "harness",
            (
                "no circuit feeds 2 posts",
                'circuit "lamps" has no supply',
                "leave it out of this plan",
            ),
        ),
    ),
    "load_between_two_feeds.toml": (
        Expected(
            19,
            8,
            'instrument "charge lamp", name',
            ('load "lamp" returns by post "second"', "a feed"),
        ),
        Expected(
            30,
            10,
            'instrument "charge lamp", geometry, post "second"',
            (
                'what is post "second" for',
                'It is on circuit "accessory" and has no load',
                "leave it out of this plan",
                '= "spare" }',
            ),
        ),
    ),
    "post_on_a_feed_without_a_purpose.toml": (
        Expected(
            28,
            7,
            'instrument "strip", geometry, post "one"',
            (
                'what is post "one" for',
                'It is on circuit "ignition" and has no load',
                "leave it out of this plan",
                '= "spare" }',
            ),
        ),
    ),
    "relay_with_its_contacts_in_one_feed.toml": (
        Expected(
            28,
            10,
            'instrument "relay", geometry, post "common"',
            (
                'post "common" takes nothing from circuit "accessory" itself',
                'and post "made"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            8,
            'instrument "relay", geometry, post "made"',
            (
                'post "made" takes nothing from circuit "accessory" itself',
                'and post "common"',
                "leave it out of this plan",
            ),
        ),
    ),
    "start_solenoid.toml": (
        Expected(
            28,
            7,
            'instrument "solenoid", geometry, post "bat"',
            (
                'post "bat" takes nothing from circuit "battery" itself',
                'and post "start"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            9,
            'instrument "solenoid", geometry, post "start"',
            (
                'post "start" takes nothing from circuit "start" itself',
                'and post "bat"',
                "leave it out of this plan",
            ),
        ),
    ),
    "two_bars_in_one_feed.toml": (
        Expected(
            28,
            7,
            'instrument "board", geometry, post "in1"',
            (
                'post "in1" takes nothing from circuit "ignition" itself',
                'and post "out1"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            8,
            'instrument "board", geometry, post "out1"',
            (
                'post "out1" takes nothing from circuit "ignition" itself',
                'and post "in1"',
                "leave it out of this plan",
            ),
        ),
    ),
}
