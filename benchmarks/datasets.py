"""Open tree problems against their published optima: ours, the bound, seconds.

Run: python benchmarks/datasets.py FOLDER [--seconds N] [--only TEXT] [--json FILE]
FOLDER is looked through for instance files (formats: ``instances.py``). A proved answer that is
not the published optimum is a fault of ours: the exit code is then 1.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "benchmarks")]

from instances import Instance, instances, solve_tree  # noqa: E402

from lugwright.model.formulation.ask import Status  # noqa: E402

NEAR = 0.002  # published with three decimals


def measure(instance: Instance, seconds: float | None) -> dict[str, object]:
    """One row: what came out, in the published unit, and the CPU and wall seconds it took."""
    wall, cpu = time.perf_counter(), time.process_time()
    problem = instance.pose()
    posed_cpu = time.process_time()
    solved = solve_tree(problem, seconds, instance.families)
    value = solved.value / instance.unit if solved.answer else None
    proved = solved.status is Status.BEST
    right = instance.optimum is None or value is None
    right = right or not proved or abs(value - instance.optimum) < NEAR
    return {
        "instance": instance.name,
        "optimum": instance.optimum,
        "ours": value,
        "bound": solved.bound / instance.unit,
        "proved": proved,
        "right": right,
        "posing_cpu_s": round(posed_cpu - cpu, 2),
        "cpu_s": round(time.process_time() - posed_cpu, 2),
        "wall_s": round(time.perf_counter() - wall, 2),
    }


def main() -> int:
    """Every instance of a folder, a line each."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=60.0, help="for each instance")
    parser.add_argument("--only", default="", help="instances whose name holds this text")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args()
    print(f"{'instance':28}{'optimum':>10}{'ours':>10}{'bound':>10}{'CPU s':>8}{'posing':>8}")
    rows = []
    for instance in instances(options.folder):
        if options.only not in instance.name:
            continue
        row = measure(instance, options.seconds)
        rows.append(row)
        told = "" if row["proved"] else "  not proved in time"
        told = told if row["right"] else "  WRONG"
        optimum, ours = row["optimum"] or "-", row["ours"] or "-"
        print(
            f"{instance.name:28}{optimum:>10}{ours:>10}{row['bound']:>10}"
            f"{row['cpu_s']:>8}{row['posing_cpu_s']:>8}{told}",
            flush=True,
        )
    if options.json:
        options.json.write_text(json.dumps(rows, indent=1) + "\n", encoding="utf-8")
    return 0 if all(row["right"] for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main())
