"""Whole commands, cold: wall and CPU seconds and peak memory of each, as a table and as JSON.

Run: python benchmarks/whole_process.py [--json FILE] [--repeat N]
Nothing else should run on the machine meanwhile. The best of N runs counts.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import resource
import sys
import tempfile
import time
from dataclasses import asdict, dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from consoles import LAYOUTS, scenario_text
from device_consoles import device_text

ROOT = Path(__file__).resolve().parent.parent
SKIFF = ROOT / "scenarios" / "sandbar-skiff.toml"
WITH_DEVICES = (12, 30)


@dataclass(frozen=True)
class Measured:
    """One command: exit code, seconds and megabytes."""

    what: str
    code: int
    wall_s: float
    cpu_s: float
    peak_mb: float


def run_once(what: str, arguments: list[str]) -> Measured:
    """Run the program once in a process of its own and read what it used."""
    start = time.perf_counter()
    pid = os.fork()
    if pid == 0:
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
        os.execv(sys.executable, [sys.executable, "-m", "lugwright", *arguments])  # noqa: S606
    _, status, used = os.wait4(pid, 0)
    wall = time.perf_counter() - start
    return Measured(
        what,
        os.waitstatus_to_exitcode(status),
        round(wall, 2),
        round(used.ru_utime + used.ru_stime, 2),
        round(used.ru_maxrss / 1024, 0),
    )


def best_of(times: int, what: str, arguments: list[str]) -> Measured:
    """The run with the least wall time."""
    return min((run_once(what, arguments) for _ in range(times)), key=lambda each: each.wall_s)


def main() -> None:
    """Measure everything and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path)
    parser.add_argument("--repeat", type=int, default=3)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        rows = list(measure(Path(folder), options.repeat))
    print(f"Python {platform.python_version()}, {os.cpu_count()} cores, best of {options.repeat}")
    print(f"{'command':44} {'exit':>4} {'wall s':>7} {'CPU s':>7} {'peak MB':>8}")
    for row in rows:
        print(f"{row.what:44} {row.code:4} {row.wall_s:7.2f} {row.cpu_s:7.2f} {row.peak_mb:8.0f}")
    if options.json:
        text = json.dumps([asdict(row) for row in rows], indent=1, sort_keys=True)
        options.json.write_text(text + "\n", encoding="utf-8")


def measure(folder: Path, repeat: int) -> list[Measured]:
    """The skiff, the light commands, twelve instruments in every layout, and devices."""
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    plan = folder / "skiff"
    rows = [best_of(repeat, "plan: skiff, 4 instruments", _plan(SKIFF, plan))]
    rows.append(best_of(repeat, "check: skiff's plan folder", ["check", str(SKIFF), str(plan)]))
    for light in (["--help"], ["limits"], ["stock"]):
        rows.append(best_of(repeat, " ".join(light), light))
    for layout in LAYOUTS:
        scenario = folder / f"twelve-{layout}.toml"
        scenario.write_text(scenario_text(12, layout), encoding="utf-8")
        what = f"plan: 12 instruments, 3 circuits, {layout}"
        rows.append(best_of(repeat, what, _plan(scenario, folder / layout)))
    for number in WITH_DEVICES:
        scenario = folder / f"devices-{number}.toml"
        scenario.write_text(device_text(number), encoding="utf-8")
        what = f"plan: {number} instruments, key and six fuses"
        rows.append(best_of(repeat, what, _plan(scenario, folder / f"devices-{number}")))
    return rows


def _plan(scenario: Path, out: Path) -> list[str]:
    return ["plan", str(scenario), "--out", str(out), "--quiet"]


if __name__ == "__main__":
    main()
