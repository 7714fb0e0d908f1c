"""What is said of keys, switches, buttons and dimmers, which no plan can wire yet."""

from __future__ import annotations

from bad_inputs.expected import Expected

SWITCHES: dict[str, tuple[Expected, ...]] = {
    "changeover_of_two_feeds.toml": (
        Expected(
            28,
            7,
            'instrument "transfer", geometry, post "one"',
            (
                'post "one" takes nothing from circuit "ignition" itself',
                'and post "common"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "transfer", geometry, post "two"',
            (
                'post "two" takes nothing from circuit "accessory" itself',
                'and post "common"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            10,
            'instrument "transfer", geometry, post "common"',
            (
                'post "common" takes nothing from circuit "lamps" itself',
                'and post "one"',
                "leave it out of this plan",
            ),
        ),
    ),
    "dimmer_between_lamps.toml": (
        Expected(
            28,
            6,
            'instrument "dimmer", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "ignition" itself',
                'and post "out"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "dimmer", geometry, post "out"',
            (
                'post "out" takes nothing from circuit "lamps" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "dimmer_with_a_wire_from_the_boat.toml": (
        Expected(
            28,
            6,
            'instrument "knob", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "ignition" itself',
                'and post "out"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "knob", geometry, post "out"',
            (
                'post "out" takes nothing from circuit "lamps" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "far_post_of_a_switch_fed.toml": (
        Expected(
            22,
            18,
            'instrument "light switch", feeds, load',
            (
                "this post is what the switch switches",
                "it cannot be fed from a circuit",
                "leave it out of this plan",
            ),
        ),
    ),
    "horn_button_in_one_feed.toml": (
        Expected(
            28,
            6,
            'instrument "button", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "accessory" itself',
                'and post "out"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "button", geometry, post "out"',
            (
                'post "out" takes nothing from circuit "accessory" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "isolator_before_everything.toml": (
        Expected(
            28,
            7,
            'instrument "isolator", geometry, post "one"',
            (
                'post "one" takes nothing from circuit "battery" itself',
                'and post "two"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "isolator", geometry, post "two"',
            (
                'post "two" takes nothing from circuit "ignition" itself',
                'and post "one"',
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
    "key_as_one_bar.toml": (
        Expected(
            28,
            7,
            'instrument "key", geometry, post "bat"',
            (
                'post "bat" takes nothing from circuit "ignition" itself',
                "and its words say that it switches",
                "leave it out of this plan",
            ),
        ),
    ),
    "key_in_one_circuit.toml": (
        Expected(
            28,
            7,
            'instrument "key", geometry, post "bat"',
            (
                'post "bat" takes nothing from circuit "ignition" itself',
                'and post "ign"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "key", geometry, post "ign"',
            (
                'post "ign" takes nothing from circuit "ignition" itself',
                'and post "bat"',
                "leave it out of this plan",
            ),
        ),
    ),
    "key_of_two_junctions.toml": (
        Expected(
            28,
            7,
            'instrument "lock", geometry, post "bat"',
            (
                'post "bat" takes nothing from circuit "ignition" itself',
                'and post "ign"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "lock", geometry, post "ign"',
            (
                'post "ign" takes nothing from circuit "ignition" itself',
                'and post "bat"',
                "leave it out of this plan",
            ),
        ),
    ),
    "key_that_switches_nothing.toml": (
        Expected(
            29,
            7,
            'instrument "key", geometry, post "ign"',
            (
                'what does post "ign" switch',
                "No wire from the boat lands on it",
                "leave it out of this plan",
                '= "spare" }',
            ),
        ),
    ),
    "key_without_supply_behind_it.toml": (
        Expected(
            28,
            7,
            'instrument "key", geometry, post "bat"',
            (
                'what is post "bat" for',
                'It is on circuit "battery" and has no load',
                "leave it out of this plan",
            ),
        ),
        Expected(
            31,
            3,
            "harness",
            (
                "no circuit feeds 3 posts",
                'circuit "ignition" has no supply',
                "leave it out of this plan",
            ),
        ),
    ),
    "light_switch_with_its_own_lamps.toml": (
        Expected(
            32,
            6,
            'instrument "light switch", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "ignition" itself',
                'and post "out"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            33,
            7,
            'instrument "light switch", geometry, post "out"',
            (
                'post "out" takes nothing from circuit "lamps" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "navigation_and_anchor_switch.toml": (
        Expected(
            28,
            6,
            'instrument "toggle", geometry, post "in"',
            (
                'post "in" takes nothing from circuit "ignition" itself',
                'and post "anchor"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            7,
            'instrument "toggle", geometry, post "nav"',
            (
                'post "nav" takes nothing from circuit "navigation lights" itself',
                'and post "anchor"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            10,
            'instrument "toggle", geometry, post "anchor"',
            (
                'post "anchor" takes nothing from circuit "lamps" itself',
                'and post "in"',
                "leave it out of this plan",
            ),
        ),
    ),
    "rocker_that_switches_nothing.toml": (
        Expected(
            19,
            8,
            'instrument "light switch", name',
            (
                'what does post "load" switch',
                "No wire from the boat lands on it",
                "leave it out of this plan",
                '= "spare" }',
            ),
        ),
    ),
    "second_station_selector.toml": (
        Expected(
            28,
            10,
            'instrument "station", geometry, post "common"',
            (
                'post "common" takes nothing from circuit "ignition" itself',
                'and post "port"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            29,
            8,
            'instrument "station", geometry, post "port"',
            (
                'post "port" takes nothing from circuit "ignition" itself',
                'and post "common"',
                "leave it out of this plan",
            ),
        ),
        Expected(
            30,
            13,
            'instrument "station", geometry, post "starboard"',
            (
                'post "starboard" takes nothing from circuit "lamps" itself',
                'and post "common"',
                "leave it out of this plan",
            ),
        ),
    ),
    "stop_switch_on_a_feed.toml": (
        Expected(
            28,
            8,
            'instrument "stop switch", geometry, post "stop"',
            (
                'what is post "stop" for',
                'It is on circuit "ignition" and has no load',
                "leave it out of this plan",
            ),
        ),
    ),
    "switch_whose_near_post_is_spare.toml": (
        Expected(
            32,
            8,
            'boat wires "bilge pump", name',
            ("nothing feeds the instrument it takes its current from",),
        ),
    ),
}
