"""What limits and stock find amiss in a scenario that loads."""

from __future__ import annotations

from bad_inputs.expected import Expected

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
