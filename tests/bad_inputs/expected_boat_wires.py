"""What is said of bad wires from the boat: senders, signals, loads, rings."""

from __future__ import annotations

from bad_inputs.expected import Expected

BOAT_WIRES: dict[str, tuple[Expected, ...]] = {
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
    "lands_on_without_a_post.toml": (
        Expected(
            38,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ("does not name a post", "fuel.signal"),
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
    "signal_linked_with_a_feed.toml": (
        Expected(
            30, 138, 'instrument "trim", geometry, post "signal", link', ('post "signal"', "signal")
        ),
    ),
    "tab_taken_by_a_jumper.toml": (
        Expected(
            51,
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
    "two_senders_on_linked_signals.toml": (
        Expected(
            46,
            23,
            'boat wires "other sender", wire 1, lands_on',
            ("this signal post is fed by two senders",),
        ),
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
    "unknown_post_in_lands_on.toml": (
        Expected(
            38,
            12,
            'boat wires "fuel sender", wire 1, lands_on',
            ('"fuel" has no post "signel"', 'did you mean "signal"?'),
        ),
    ),
    "wire_below_the_ampacity_table.toml": (
        Expected(
            39,
            13,
            'boat wires "fuel sender", wire 1, wire_size',
            (
                "33 CFR 183.425 Table 5 has no row for 22 AWG",
                "(leave it out of this plan, and wire it by its maker's diagram; ",
            ),
        ),
    ),
    "wire_on_a_lead.toml": (
        Expected(
            35,
            16,
            'boat wires "chart lamp", wire 1, lands_on',
            ("its one fitting is for a jumper", "stud of circuit"),
        ),
        Expected(
            36,
            16,
            'boat wires "chart lamp", wire 2, lands_on',
            ("its one fitting is for a jumper", "stud of circuit"),
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
    "wrong_unit.toml": (
        Expected(
            36, 11, 'boat wires "fuel sender", current', ('unit "ma" is not known here', "150 mA")
        ),
    ),
}
