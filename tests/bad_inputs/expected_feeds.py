"""What is said of each bad scenario whose feeds, fuses or posts are not as they may be."""

from __future__ import annotations

from bad_inputs.expected import Expected

FEED_CASES: dict[str, tuple[Expected, ...]] = {
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
    "capped_without_live.toml": (
        Expected(
            23,
            3,
            'pigtail "trim"',
            ('"live" is missing', "a pigtail that is capped off says whether it is live"),
        ),
    ),
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
    "circuit_named_spare.toml": (
        Expected(
            22,
            15,
            'pigtail "spare", circuit',
            ('"spare" means a post without a wire', "no circuit has that name"),
        ),
        Expected(22, 15, 'pigtail "spare", circuit', ('no post belongs to circuit "spare"',)),
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
    "feed_without_a_fuse.toml": (
        Expected(
            21,
            3,
            'pigtail "ignition"',
            (
                '"fuse" is missing',
                "a feed without a fuse can set the boat on fire",
                'fuse = "none"',
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
    "fuse_in_a_ground_lead.toml": (
        Expected(
            30,
            139,
            'instrument "trim", geometry, post "a", lead, fuse',
            ("a ground has no fuse", "it belongs in the feed"),
        ),
    ),
    "fuse_in_a_ground_wire.toml": (
        Expected(
            31,
            79,
            'boat wires "horn", wire 2, fuse',
            ("a ground has no fuse", "it belongs in the feed"),
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
    "lead_of_20_awg.toml": (
        Expected(
            30,
            108,
            'instrument "trim", geometry, post "a", lead, wire_size',
            (
                "33 CFR 183.425 Table 5 has no row for 20 AWG with 80 C insulation",
                "18 AWG to 4/0 AWG",
                "leave it out of this plan",
                '"4/0 AWG"',
            ),
        ),
    ),
    "lead_of_half_a_square_millimetre.toml": (
        Expected(
            30,
            108,
            'instrument "trim", geometry, post "a", lead, wire_size',
            (
                "33 CFR 183.425 Table 5 has no row for 22 AWG with 80 C insulation",
                "18 AWG to 4/0 AWG",
                "leave it out of this plan",
                '"4/0 AWG"',
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
    "live_on_a_used_pigtail.toml": (
        Expected(
            21,
            108,
            'pigtail "ignition", live',
            ("live is said of a pigtail that is capped off", "this one is used"),
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
    "no_fuse_on_a_ground.toml": (
        Expected(
            22, 90, 'pigtail "ground", fuse', ("a ground has no fuse", "it belongs in the feed")
        ),
    ),
    "no_fuse_with_an_empty_reason.toml": (
        Expected(
            21,
            93,
            'pigtail "ignition", fuse',
            ("a feed without a fuse wants its reason", '"fuse_reason" is missing or empty'),
        ),
    ),
    "no_fuse_without_a_reason.toml": (
        Expected(
            21,
            93,
            'pigtail "ignition", fuse',
            ("a feed without a fuse wants its reason", '"fuse_reason" is missing or empty'),
        ),
    ),
    "none_for_spare.toml": (
        Expected(22, 18, 'instrument "oil", feeds, lamp', ('"none" is no circuit', '= "spare" }')),
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
    "reason_beside_a_fuse.toml": (
        Expected(
            21,
            115,
            'pigtail "ignition", fuse_reason',
            ('a reason stands beside fuse = "none" only',),
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
    "taken_from_past_a_switch.toml": (
        Expected(21, 15, 'pigtail "battery", circuit', ('no post belongs to circuit "battery"',)),
        Expected(
            27,
            14,
            'circuit "ignition", taken_from',
            ('it is taken from "switched"', "which has no pigtail", "leave it out of this plan"),
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
    "signal_linked_with_a_feed.toml": (
        Expected(
            30, 138, 'instrument "trim", geometry, post "signal", link', ('post "signal"', "signal")
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
    "two_senders_on_linked_signals.toml": (
        Expected(
            46,
            23,
            'boat wires "other sender", wire 1, lands_on',
            ("this signal post is fed by two senders",),
        ),
    ),
    "wire_on_a_lead.toml": (
        Expected(
            35,
            16,
            'boat wires "chart lamp", wire 1, lands_on',
            ("a wire from the boat cannot land on a lead yet", "stud of circuit"),
        ),
        Expected(
            36,
            16,
            'boat wires "chart lamp", wire 2, lands_on',
            ("a wire from the boat cannot land on a lead yet", "stud of circuit"),
        ),
    ),
    "wire_on_a_spare_post.toml": (
        Expected(
            33,
            23,
            'boat wires "oil sender", wire 1, lands_on',
            ('feeds calls this post "spare"', "no wire goes to it"),
        ),
    ),
}
