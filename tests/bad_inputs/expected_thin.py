"""What is said of thin wires, of their exemptions and of rings that come with a wire."""

from __future__ import annotations

from bad_inputs.expected import Expected

_LEAD = 'instrument "trim", geometry, post "a", lead, '
_LEFT_OUT = "(leave it out of this plan, and wire it by its maker's diagram; "

THIN: dict[str, tuple[Expected, ...]] = {
    "exempt_with_a_row.toml": (
        Expected(30, 143, f"{_LEAD}exempt", ("18 AWG has a row", "leave the key out")),
    ),
    "exemption_of_another_kind.toml": (
        Expected(30, 160, f"{_LEAD}exempt", ('"short" is not known', '"electronics under 1 A"')),
    ),
    "fuse_up_to_on_a_ground.toml": (
        Expected(36, 96, 'pigtail "ground", fuse_up_to', ("a ground has no fuse",)),
    ),
    "lead_below_all_tables.toml": (
        Expected(30, 108, f"{_LEAD}wire_size", ("not an AWG size", '"26 AWG"')),
    ),
    "long_pigtail_called_short.toml": (
        Expected(35, 112, 'pigtail "ignition", exempt', ("under 7 in (177.8 mm)", _LEFT_OUT)),
    ),
    "ring_without_a_wire.toml": (
        Expected(35, 137, 'pigtail "ignition", ring, wires', ("at least 1",)),
    ),
    "thin_lead_that_carries_what.toml": (
        Expected(
            30,
            108,
            f"{_LEAD}wire_size",
            ("no row for 24 AWG", "carries not stated", _LEFT_OUT, "down to 24 AWG or 0.2 mm2"),
        ),
    ),
    "thin_lead_without_exemption.toml": (
        Expected(
            30,
            108,
            f"{_LEAD}wire_size",
            ("no row for 22 AWG", "exempt not stated", _LEFT_OUT, "electronics under 1 A"),
        ),
    ),
    "thin_pigtail_without_a_fuse.toml": (
        Expected(
            35, 141, 'pigtail "ignition", fuse', ("not from a fuse (33 CFR 183.455)", _LEFT_OUT)
        ),
    ),
}
