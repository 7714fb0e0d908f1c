"""A catalogue of invented console models: scenario files drawn from numbers, for tests and timing.

Each has 4 to 8 instruments of the built-in patterns in one or two rows, senders that arrive
aboard, and now and then a bus bar, a switch with a load, a loom, limits of its own, a rule
set of its own, a waiting pigtail, or a shop's own objective. A few have no plan at all, as in any
shop. Names and numbers are invented.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

SMALL = ("dial-52", "dial-52-short", "voltmeter-52", "hour-meter-52", "dial-52-metric")
LARGE = ("dial-86", "tachometer-86", "depth-dial-86")
SENDERS = frozenset({"dial-52", "dial-52-short", "dial-52-metric", "dial-86", "tachometer-86"})
PITCH_MM, ROW_MM = 105, 130
OWN_LIMITS = (
    "lugs_per_stud = 3",
    "lugs_per_stud = 5",
    "wires_per_barrel = 3",
    'slack = "8 %"',
    'minimum_size = "14 AWG"',
    "splices = false",
    'objective = "cheapest"',
    'objective = "shortest"',
    'lug_worth = "20 mm"',
    'drop_critical = "2 %"',
)


def model_text(number: int) -> str:
    """The scenario of one model; the same number gives the same text."""
    rng = Random(number)
    count = rng.randint(4, 8)
    columns = count if count < 6 or rng.random() < 0.3 else -(-count // 2)
    patterns = [rng.choice(LARGE if rng.random() < 0.25 else SMALL) for _ in range(count)]
    lines = [
        f'title = "Model {number:03}, {count} instruments"',
        f'rule_set = "{"strict" if rng.random() < 0.1 else "usual"}"',
        *_panel(columns, -(-count // columns)),
    ]
    for index, pattern in enumerate(patterns):
        lines += _dial(index, columns, pattern, rng)
    lines += _harness(columns, rng)
    for index, pattern in enumerate(patterns):
        if pattern in SENDERS and rng.random() < 0.8:
            lines += _sender(index, two_wires=rng.random() < 0.5)
    lines += ["[limits]", *sorted(rng.sample(OWN_LIMITS, rng.choice((0, 0, 0, 1, 1, 2))))]
    return "\n".join(lines) + "\n"


def write_models(folder: Path, count: int) -> None:
    """Write that many models into a folder, made when missing."""
    folder.mkdir(parents=True, exist_ok=True)
    for number in range(1, count + 1):
        path = folder / f"model-{number:03}.toml"
        path.write_text(model_text(number), encoding="utf-8", newline="\n")


def _panel(columns: int, rows: int) -> list[str]:
    return [
        "[panel]",
        f'width = "{PITCH_MM * columns + 40} mm"',
        f'height = "{ROW_MM * rows + 40} mm"',
        'thickness = "6 mm"',
    ]


def _dial(index: int, columns: int, pattern: str, rng: Random) -> list[str]:
    x = 20 + PITCH_MM // 2 + PITCH_MM * (index % columns) + rng.randint(-2, 2)
    y = 20 + ROW_MM // 2 + ROW_MM * (index // columns) + rng.randint(-10, 10)
    lines = [
        "[[instrument]]",
        f'name = "dial {index + 1}"',
        f'pattern = "{pattern}"',
        f'centre = ["{x} mm", "{y} mm"]',
    ]
    if rng.random() < 0.15:
        lines.append(f'turn = "{rng.choice((90, 180, 270))} deg"')
    if pattern in SENDERS and rng.random() < 0.1:
        lines.append("reserve = { ground = 1 }")
    return lines


def _harness(columns: int, rng: Random) -> list[str]:
    reach = rng.choice((450, 600, 900))
    size, fuse = rng.choice((("16 AWG", "10 A"), ("14 AWG", "15 A"), ("16 AWG", "7.5 A")))
    run = f'{{ one_way = "{rng.choice((2, 3, 5))} m", wire_size = "{rng.choice((12, 10))} AWG" }}'
    lines = [
        "[[harness]]",
        f'entry = ["{PITCH_MM * columns // rng.choice((2, 3))} mm", "0 mm"]',
        "pigtails = [",
        f'  {{ circuit = "ignition", colour = "purple", wire_size = "{size}",'
        f' reach = "{reach} mm", fuse = "{fuse}", to_source = {run} }},',
        f'  {{ circuit = "ground", colour = "black", wire_size = "{size}",'
        f' reach = "{reach} mm", to_source = {run} }},',
    ]
    if rng.random() < 0.3:
        lines.append('  { label = "spare", colour = "gray", cap_off = true, live = false },')
    return [*lines, "]"]


def _sender(index: int, *, two_wires: bool) -> list[str]:
    name = f"dial {index + 1}"
    wires = [f'{{ lands_on = "{name}.signal", wire_size = "18 AWG", colour = "pink" }}']
    if two_wires:
        wires.append(f'{{ lands_on = "{name}.ground", wire_size = "18 AWG", colour = "black" }}')
    return [
        "[[boat_wires]]",
        f'name = "sender {index + 1}"',
        f"wires = [{', '.join(wires)}]",
        'current = "0.05 A"',
    ]
