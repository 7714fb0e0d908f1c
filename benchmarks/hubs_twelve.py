"""``hubs`` on twelve instruments, the whole process, cold: wall and CPU seconds, rows proved.

Run: python benchmarks/hubs_twelve.py [--repeat N] [--frontier]
Nothing else should run on the machine meanwhile. The best of N runs counts.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from consoles import LAYOUTS, scenario_text

PROVED = "proved best"


def run_once(scenario: Path, out: Path, more: list[str]) -> tuple[float, float, int, str]:
    """Wall and CPU seconds, exit code, and how many rows are proved."""
    command = [sys.executable, "-m", "lugwright", "hubs", str(scenario), "--out", str(out)]
    before, start = os.times(), time.perf_counter()
    ended = subprocess.run(
        [*command, "--quiet", "--json", *more], capture_output=True, text=True, check=False
    )
    wall, after = time.perf_counter() - start, os.times()
    cpu = after.children_user + after.children_system
    cpu -= before.children_user + before.children_system
    rows = json.loads(ended.stdout)["hubs"] if ended.stdout else []
    proved = sum(row["ending"] == PROVED for row in rows)
    return wall, cpu, ended.returncode, f"{proved} of {len(rows)}"


def main() -> None:
    """One line a layout."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeat", type=int, default=3)
    parser.add_argument("--frontier", action="store_true")
    options = parser.parse_args()
    more = ["--frontier"] if options.frontier else []
    print(f"Python {platform.python_version()}, {os.cpu_count()} cores, best of {options.repeat}")
    print(f"{'twelve instruments':20} {'exit':>4} {'wall s':>7} {'CPU s':>7} {'proved':>9}")
    with tempfile.TemporaryDirectory() as folder:
        for layout in LAYOUTS:
            scenario = Path(folder) / f"twelve-{layout}.toml"
            scenario.write_text(scenario_text(12, layout), encoding="utf-8")
            out = Path(folder) / layout
            runs = [run_once(scenario, out, more) for _ in range(options.repeat)]
            wall, cpu, code, proved = min(runs)
            print(f"{layout:20} {code:4} {wall:7.2f} {cpu:7.2f} {proved:>9}", flush=True)


if __name__ == "__main__":
    main()
