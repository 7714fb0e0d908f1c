"""What is said of circuits, pigtails and what feeds a post, where they are not as they may be."""

from __future__ import annotations

from bad_inputs.expected import Expected

CIRCUITS: dict[str, tuple[Expected, ...]] = {
    "capped_without_live.toml": (
        Expected(
            23,
            3,
            'pigtail "trim"',
            ('"live" is missing', "a pigtail that is capped off says whether it is live"),
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
    "ignition_without_supply.toml": (
        Expected(
            18,
            3,
            "harness",
            ('circuit "ignition" has no supply', "fuel.ignition, volts.ignition"),
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
    "none_for_spare.toml": (
        Expected(
            22, 18, 'instrument "oil", feeds, lamp', ('"none" is not a circuit', '= "spare" }')
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
    "taken_from_past_a_switch.toml": (
        Expected(21, 15, 'pigtail "battery", circuit', ('no post belongs to circuit "battery"',)),
        Expected(
            27,
            14,
            'circuit "ignition", taken_from',
            ('it is taken from "switched"', "which has no pigtail", "leave it out of this plan"),
        ),
    ),
    "two_pigtails_for_one_circuit.toml": (
        Expected(36, 11, 'pigtail "house", circuit', ('circuit "ignition" has two supplies',)),
    ),
    "unknown_post_in_feeds.toml": (
        Expected(
            11, 11, 'instrument "fuel", feeds, secund', ('no post "secund"', 'known: "ground"')
        ),
    ),
}
