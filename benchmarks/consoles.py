"""Scenario files for benchmarks: generated with a fixed seed, in three layouts.

Invented data. With three circuits (ignition, lamps that are taken from it, ground): dials of the
built-in patterns. With six (those, an accessory feed with a pigtail and fuse of its own, warning
lamps that are taken from it, and a second ground for electronics): two dials made for it in turn.
The first has the electronics and could be the hub; the second has the lamps.
"""

from __future__ import annotations

from random import Random

LAYOUTS = ("row", "grid", "scattered")
CIRCUITS = (3, 6)
PATTERNS = ("dial-52", "voltmeter-52", "hour-meter-52")
PITCH_MM = 95

_TALL = 'kind = "stud", thread = "#10-32", free_thread = "12 mm"'
_SHORT = 'kind = "stud", thread = "#10-32", free_thread = "10 mm"'
_TAB = 'kind = "tab", tab = "6.3 x 0.8"'
_ELECTRONIC = f"""\
geometry.about = "dial with electronics on a feed and a ground of their own"
geometry.cut_out = "2-1/16 in"
geometry.bezel = "61 mm"
geometry.body = "51 mm"
geometry.body_depth = "48 mm"
geometry.posts.ignition = {{ {_TALL}, function = "ignition", at = ["-13 mm", "8 mm"], height = "54 mm" }}
geometry.posts.ground = {{ {_TALL}, function = "ground", at = ["13 mm", "8 mm"], height = "54 mm" }}
geometry.posts.feed = {{ {_TALL}, function = "accessory", at = ["-10 mm", "-12 mm"], height = "54 mm" }}
geometry.posts.return = {{ {_TALL}, function = "electronics ground", at = ["10 mm", "-12 mm"], height = "54 mm" }}
geometry.loads = [
  {{ name = "movement", feed = "ignition", ground = "ground", current = "0.1 A" }},
  {{ name = "electronics", feed = "feed", ground = "return", current = "0.2 A" }},
]"""  # noqa: E501
_WARNING = f"""\
geometry.about = "dial with a lamp and a warning lamp"
geometry.cut_out = "2-1/16 in"
geometry.bezel = "61 mm"
geometry.body = "51 mm"
geometry.body_depth = "44 mm"
geometry.posts.ignition = {{ {_SHORT}, function = "ignition", at = ["-12 mm", "4 mm"], height = "49 mm" }}
geometry.posts.ground = {{ {_SHORT}, function = "ground", at = ["12 mm", "4 mm"], height = "49 mm" }}
geometry.posts.lamp = {{ {_TAB}, function = "lamp", at = ["0 mm", "16 mm"], height = "48 mm" }}
geometry.posts.warning = {{ {_TAB}, function = "warning lamps", at = ["0 mm", "-16 mm"], height = "48 mm" }}
geometry.loads = [
  {{ name = "movement", feed = "ignition", ground = "ground", current = "0.05 A" }},
  {{ name = "lamp", feed = "lamp", ground = "ground", current = "0.12 A", drop_class = "other" }},
  {{ name = "warning lamp", feed = "warning", ground = "ground", current = "0.1 A", drop_class = "other" }},
]"""  # noqa: E501
_FURTHER = """\
[[circuit]]
name = "warning lamps"
colour = "brown"
taken_from = "accessory"
[[circuit]]
name = "electronics ground"
side = "ground"
colour = "yellow"
"""


def scenario_text(instruments: int, layout: str = "grid", seed: int = 1, circuits: int = 3) -> str:
    """A scenario of that many 52 mm dials, three or six circuits, each supply a pigtail.

    ``layout``: ``row`` (one line), ``grid`` (near square), ``scattered`` (a jittered grid). The
    limits come last, so that more of them may be written behind.
    """
    columns = instruments if layout == "row" else max(1, round(instruments**0.5 * 1.3))
    rows = -(-instruments // columns)
    lines = [
        f'title = "Benchmark console, {instruments} instruments, {layout}"',
        "[panel]",
        f'width = "{PITCH_MM * columns + 60} mm"',
        f'height = "{PITCH_MM * rows + 60} mm"',
        'thickness = "6 mm"',
        *_instruments(instruments, columns, layout, seed, circuits),
        "[[harness]]",
        f'entry = ["{PITCH_MM * columns // 2 + 30} mm", "0 mm"]',
        "pigtails = [",
        *_pigtails(PITCH_MM * (columns + rows) + 400, circuits),
        "]",
    ]
    if circuits == 6:
        lines.append(_FURTHER.rstrip())
    return "\n".join([*lines, "[limits]", 'slack = "5 %"']) + "\n"


def _instruments(count: int, columns: int, layout: str, seed: int, circuits: int) -> list[str]:
    random = Random(seed)
    jitter = 14 if layout == "scattered" else 0
    lines = []
    for index in range(count):
        x = 75 + PITCH_MM * (index % columns) + random.randint(-jitter, jitter)
        y = 75 + PITCH_MM * (index // columns) + random.randint(-jitter, jitter)
        if circuits == 6:
            dial = (_ELECTRONIC, _WARNING)[index % 2]
        else:
            dial = f'pattern = "{PATTERNS[index % len(PATTERNS)]}"'
        lines += [
            "[[instrument]]",
            f'name = "dial {index + 1:02}"',
            f'centre = ["{x} mm", "{y} mm"]',
            dial,
        ]
    return lines


def _pigtails(reach_mm: int, circuits: int) -> list[str]:
    """A pigtail for every circuit that is taken from no other."""
    supplies = [("ignition", "purple", ', fuse = "20 A"'), ("ground", "black", "")]
    if circuits == 6:
        supplies += [
            ("accessory", "orange", ', fuse = "20 A"'),
            ("electronics ground", "yellow", ""),
        ]
    return [
        f'  {{ circuit = "{circuit}", colour = "{colour}", wire_size = "12 AWG",'
        f' reach = "{reach_mm} mm"{fuse} }},'
        for circuit, colour, fuse in supplies
    ]


def tab_waivers(instruments: int, circuits: int = 3) -> str:
    """Waivers that let every tab take two wires where the limit is one wire per barrel: a tab
    takes one push-on, and without them no lamp could be chained to the next."""
    tabs = ("lamp", "warning") if circuits == 6 else ("lamp",)
    lines = []
    for index in range(instruments):
        has_tabs = index % 2 == 1 if circuits == 6 else PATTERNS[index % 3] != "hour-meter-52"
        for tab in tabs if has_tabs else ():
            lines += [
                "[[waiver]]",
                'limit = "wires_per_barrel"',
                f'place = "dial {index + 1:02}.{tab}"',
                "value = 2",
                'reason = "a tab takes one push-on"',
                'initials = "AB"',
                "date = 2026-11-25",
            ]
    return "\n".join(lines) + "\n"
