"""What is said of fuses and leads that are not as they may be."""

from __future__ import annotations

from bad_inputs.expected import Expected

FUSES: dict[str, tuple[Expected, ...]] = {
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
    "fuse_on_a_ground.toml": (
        Expected(30, 8, 'pigtail "ground", fuse', ("a ground has no fuse",)),
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
    "reason_beside_a_fuse.toml": (
        Expected(
            21,
            115,
            'pigtail "ignition", fuse_reason',
            ('a reason stands beside fuse = "none" only',),
        ),
    ),
}
