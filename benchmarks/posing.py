"""What posing a question costs: CPU seconds and peak memory of routes and problem, no search.

Run: python benchmarks/posing.py [SIZE ...]

Each console is posed in a process of its own, numpy and the modules loaded before: a plan needs
them anyway. CPU seconds are told, for other programs may share the machine.
"""

from __future__ import annotations

import multiprocessing
import resource
import sys
import tempfile
import time
from pathlib import Path

from consoles import LAYOUTS, scenario_text

from lugwright import pipeline

SIZES = (4, 8, 12, 20, 30, 60)
SMALL = Path(__file__).resolve().parent.parent / "scenarios" / "sandbar-skiff.toml"


def pose(instruments: int, layout: str) -> str:
    """One row: instruments, layout, jumpers to choose from, CPU s, MB that posing adds."""
    pipeline.pose(pipeline.read_inputs(SMALL))
    with tempfile.TemporaryDirectory() as folder:
        scenario = Path(folder) / "console.toml"
        scenario.write_text(scenario_text(instruments, layout), encoding="utf-8")
        inputs = pipeline.read_inputs(scenario)
    before_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    started = time.process_time()
    problem, _ = pipeline.pose(inputs)
    used_s = time.process_time() - started
    added_mb = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before_kb) / 1024
    edges = sum(len(circuit.edges) + len(circuit.take_off) for circuit in problem.circuits)
    return f"| {instruments} | {layout} | {edges} | {used_s:.2f} | {added_mb:.0f} |"


def main() -> None:
    """One row a size and layout."""
    sizes = [int(size) for size in sys.argv[1:]] or SIZES
    print("| instruments | layout | jumpers to choose from | CPU s | MB added |")
    print("| --- | --- | --- | --- | --- |")
    rows = [(size, layout) for size in sizes for layout in LAYOUTS]
    with multiprocessing.get_context("spawn").Pool(1, maxtasksperchild=1) as pool:
        for row in rows:
            print(pool.apply(pose, row), flush=True)


if __name__ == "__main__":
    main()
