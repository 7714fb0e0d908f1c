"""Scenario files for benchmarks with devices: a key, a block of six fuses, a light switch.

Invented data, as in ``consoles``. The dials are behind the first fuse, their lamps behind the
second and the light switch; two fuses feed loads in the boat, two holders are empty.
"""

from __future__ import annotations

from consoles import PATTERNS, PITCH_MM

DEVICES = 3
_CIRCUITS = """\
circuit = [
  { name = "switched", supplied_by = "key.ign", use = "instruments" },
  { name = "ignition", supplied_by = "fuses.f1", use = "instruments" },
  { name = "light feed", supplied_by = "fuses.f2", use = "lights" },
  { name = "lamps", supplied_by = "light.out", use = "lights" },
  { name = "pump", supplied_by = "fuses.f3", use = "pumps" },
  { name = "blower", supplied_by = "fuses.f4", use = "blower" },
]"""
_FEEDS = 'in = "switched", f1 = "ignition", f2 = "light feed", f3 = "pump", f4 = "blower"'
_FEEDS += ', f5 = "spare", f6 = "spare"'


_STUD = 'kind = "stud", thread = "#10-32", free_thread = "12 mm", height = "47 mm"'
_KEY = f"""\
geometry.about = "key for a large console"
geometry.cut_out = "22 mm"
geometry.bezel = "34 mm"
geometry.body = "21 mm"
geometry.body_depth = "45 mm"
geometry.hub_candidate = false
geometry.ignition_protected = true
geometry.positions = ["off", "on"]
geometry.ways = [
  {{ from = "bat", to = ["ign"], kind = "switch", closed = ["on"], carries = "40 A" }},
]
geometry.posts.bat = {{ {_STUD}, function = "battery", at = ["0 mm", "7 mm"] }}
geometry.posts.ign = {{ {_STUD}, function = "switched", at = ["0 mm", "-7 mm"] }}"""


def device_text(instruments: int, columns: int = 0) -> str:
    """A scenario of that many instruments, the three devices among them, in a grid."""
    columns = columns or max(3, round(instruments**0.5 * 1.3))
    rows = -(-instruments // columns)
    dials = instruments - DEVICES
    lines = [
        f'title = "Benchmark console, {instruments} instruments with devices"',
        _CIRCUITS,
        "[panel]",
        f'width = "{PITCH_MM * columns + 60} mm"',
        f'height = "{PITCH_MM * rows + 60} mm"',
        'thickness = "6 mm"',
    ]
    for index in range(instruments):
        x, y = 75 + PITCH_MM * (index % columns), 75 + PITCH_MM * (index // columns)
        lines += ["[[instrument]]", f'centre = ["{x} mm", "{y} mm"]']
        lines += _dial(index) if index < dials else _device(index - dials)
    pigtail = f'wire_size = "10 AWG", reach = "{PITCH_MM * (columns + rows) + 400} mm"'
    lines += [
        "[[harness]]",
        f'entry = ["{PITCH_MM * columns // 2 + 30} mm", "0 mm"]',
        "pigtails = [",
        f'  {{ circuit = "battery", colour = "red", {pigtail}, fuse = "30 A" }},',
        f'  {{ circuit = "ground", colour = "black", {pigtail} }},',
        "]",
        *_load("pump", "f3", "brown"),
        *_load("blower", "f4", "brown with yellow stripe"),
        "[limits]",
        'slack = "5 %"',
    ]
    return "\n".join(lines) + "\n"


def _dial(index: int) -> list[str]:
    pattern = PATTERNS[index % len(PATTERNS)]
    return [f'name = "dial {index + 1:02}"', f'pattern = "{pattern}"']


def _device(number: int) -> list[str]:
    return [
        [
            'name = "key"',
            'feeds = { bat = "battery", ign = "switched" }',
            *_KEY.splitlines(),
        ],
        [
            'name = "fuses"',
            'pattern = "fuse-block-6"',
            'amperes = { f1 = "10 A", f2 = "7.5 A", f3 = "7.5 A", f4 = "7.5 A" }',
            f"feeds = {{ {_FEEDS} }}",
        ],
        [
            'name = "light"',
            'pattern = "light-switch"',
            'feeds = { in = "light feed", out = "lamps" }',
        ],
    ][number]


def _load(name: str, far: str, colour: str) -> list[str]:
    return [
        "[[boat_wires]]",
        f'name = "{name}"',
        'role = "load"',
        'current = "1 A"',
        'load_kind = "motor"',
        f'wires = [{{ lands_on = "fuses.{far}", wire_size = "14 AWG", colour = "{colour}" }},'
        ' { lands_on = "dial 01.ground", wire_size = "14 AWG", colour = "black" }]',
    ]
