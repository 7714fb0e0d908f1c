"""Scenario files for benchmarks: generated with a fixed seed, in three layouts.

Invented data: dials of the built-in patterns, in a row, a grid, or scattered.
"""

from __future__ import annotations

from random import Random

LAYOUTS = ("row", "grid", "scattered")
PATTERNS = ("dial-52", "voltmeter-52", "hour-meter-52")
PITCH_MM = 95


def scenario_text(instruments: int, layout: str = "grid", seed: int = 1) -> str:
    """A scenario of that many 52 mm dials, fed by an ignition and a ground pigtail.

    ``layout``: ``row`` (one line), ``grid`` (near square), ``scattered`` (a jittered grid).
    """
    random = Random(seed)
    columns = instruments if layout == "row" else max(1, round(instruments**0.5 * 1.3))
    rows = -(-instruments // columns)
    jitter = 14 if layout == "scattered" else 0
    lines = [
        f'title = "Benchmark console, {instruments} instruments, {layout}"',
        "[panel]",
        f'width = "{PITCH_MM * columns + 60} mm"',
        f'height = "{PITCH_MM * rows + 60} mm"',
        'thickness = "6 mm"',
    ]
    for index in range(instruments):
        x = 75 + PITCH_MM * (index % columns) + random.randint(-jitter, jitter)
        y = 75 + PITCH_MM * (index // columns) + random.randint(-jitter, jitter)
        lines += [
            "[[instrument]]",
            f'name = "dial {index + 1:02}"',
            f'pattern = "{PATTERNS[index % len(PATTERNS)]}"',
            f'centre = ["{x} mm", "{y} mm"]',
        ]
    reach = PITCH_MM * (columns + rows) + 400
    lines += [
        "[engine_harness]",
        f'entry = ["{PITCH_MM * columns // 2 + 30} mm", "0 mm"]',
        "pigtails = [",
        '  { circuit = "ignition", colour = "purple", wire_size = "12 AWG",'
        f' reach = "{reach} mm", fuse = "20 A" }},',
        '  { circuit = "ground", colour = "black", wire_size = "12 AWG",'
        f' reach = "{reach} mm" }},',
        "]",
        "[limits]",
        'slack = "5 %"',
    ]
    return "\n".join(lines) + "\n"
