"""How the work grows: whole plans of generated consoles, and other ways to solve them beside it.

Run: python benchmarks/scale.py [--sizes 4,8,12] [--layouts row,grid,scattered] [--seconds N]
     [--others N] [--json FILE] [--plot FILE]

A plan is a whole process (CPU seconds, peak memory); ``--binding`` tightens the limits. Up to
``--others`` instruments the same question is also put as one CP-SAT model and as one MILP to
HiGHS and to SCIP, each in ``--seconds``, and the hand plan's cost is set beside the proved one.
CPU seconds are told, for other programs may share the machine.
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
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "benchmarks")]

from consoles import LAYOUTS, scenario_text  # noqa: E402
from hand_plan import by_hand  # noqa: E402
from milp import by_highs, by_scip, milp_of  # noqa: E402
from one_model import solve_all  # noqa: E402

from lugwright import pipeline  # noqa: E402
from lugwright.model.ask import Status  # noqa: E402

BINDING = ("drop_critical=0.35 %", "wires_per_barrel=1", "lugs_per_stud=3")
SIZES = (4, 8, 12, 20, 30, 40, 60)
Row = dict[str, object]


def whole_plan(scenario: Path, out: Path, seconds: float, settings: list[str]) -> Row:
    """One ``plan`` in a process of its own."""
    arguments = ["plan", str(scenario), "--out", str(out), "--quiet", "--time", f"{seconds:g}"]
    for setting in settings:
        arguments += ["--set", setting]
    started = time.perf_counter()
    pid = os.fork()
    if pid == 0:
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
        os.execv(sys.executable, [sys.executable, "-m", "lugwright", *arguments])  # noqa: S606
    _, status, used = os.wait4(pid, 0)
    row: Row = {
        "exit": os.waitstatus_to_exitcode(status),
        "cpu_s": round(used.ru_utime + used.ru_stime, 2),
        "wall_s": round(time.perf_counter() - started, 2),
        "peak_mb": round(used.ru_maxrss / 1024),
    }
    plan = out / "plan.json"
    if plan.is_file():
        proof = json.loads(plan.read_text(encoding="utf-8"))["proof"]
        row |= {"cost": proof["cost"], "bound": proof["bound"]}
    return row


def other_ways(scenario: Path, seconds: float, settings: list[str]) -> Row:
    """The one model, the MILPs and the hand plan."""
    inputs = pipeline.read_inputs(scenario, settings=tuple(settings))
    problem, _ = pipeline.pose(inputs)
    started = time.process_time()
    one = solve_all(problem, seconds)
    row: Row = {
        "one_model_cpu_s": round(time.process_time() - started, 2),
        "one_model_proved": one.status is Status.BEST,
        "one_model_cost": one.value if one.answer else None,
    }
    milp = milp_of(problem)
    for name, solve in (("highs", by_highs), ("scip", by_scip)):
        ended = solve(milp, seconds)
        row |= {f"{name}_cpu_s": ended.cpu_s, f"{name}_cost": ended.cost}
        row |= {f"{name}_bound": ended.bound, f"{name}_proved": ended.proved}
    plan, faults = by_hand(inputs)
    row |= {"hand_wire_dmm": plan.totals.wire_dmm if plan else None, "hand_faults": faults}
    return row


def measure(options: argparse.Namespace, folder: Path) -> Iterator[Row]:
    """A row for every console."""
    settings = list(BINDING) if options.binding else []
    for size in (int(word) for word in options.sizes.split(",")):
        for layout in options.layouts.split(","):
            scenario = folder / f"{layout}-{size}.toml"
            scenario.write_text(scenario_text(size, layout), encoding="utf-8")
            row: Row = {"instruments": size, "layout": layout, "binding": options.binding}
            out = folder / f"{layout}-{size}"
            row |= whole_plan(scenario, out, options.seconds, settings)
            if size <= options.others:
                row |= other_ways(scenario, options.seconds, settings)
            yield row


def plot(rows: list[Row], path: Path) -> None:
    """CPU seconds against instruments, both on log scales, a line each layout."""
    from math import log10

    def place(size: float, cpu: float) -> str:
        x = 60 + 420 * (log10(size) - log10(4)) / (log10(60) - log10(4))
        return f"{x:.1f},{260 - 70 * (log10(max(cpu, 0.1)) + 1):.1f}"

    lines = ['<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 300" font-size="12">']
    lines.append('<text x="60" y="16">CPU seconds of a whole plan, by number of instruments</text>')
    for cpu in (0.1, 1, 10, 100):
        y = place(4, cpu).split(",")[1]
        lines.append(f'<path d="M60 {y}H480" stroke="#bbb"/><text x="20" y="{y}">{cpu}</text>')
    for size in SIZES:
        x = place(size, 1).split(",")[0]
        lines.append(f'<text x="{x}" y="280" text-anchor="middle">{size}</text>')
    for layout, dashes in zip(LAYOUTS, ("none", "6 3", "2 2"), strict=True):
        own = [row for row in rows if row["layout"] == layout]
        points = [place(float(str(r["instruments"])), float(str(r["cpu_s"]))) for r in own]
        if points:
            x, y = points[-1].split(",")
            lines.append(
                f'<polyline points="{" ".join(points)}" fill="none" stroke="#000" '
                f'stroke-dasharray="{dashes}"/><text x="{float(x) + 6:.1f}" y="{y}">{layout}</text>'
            )
    path.write_text("\n".join([*lines, "</svg>"]) + "\n", encoding="utf-8")


def main() -> None:
    """Measure, print a line each, write what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", default=",".join(map(str, SIZES)))
    parser.add_argument("--layouts", default=",".join(LAYOUTS))
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--others", type=int, default=0)
    parser.add_argument("--binding", action="store_true")
    parser.add_argument("--json", type=Path)
    parser.add_argument("--plot", type=Path)
    options = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    print(f"Python {platform.python_version()}, {os.cpu_count()} cores, {platform.machine()}")
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        for row in measure(options, Path(folder)):
            rows.append(row)
            print(json.dumps(row), flush=True)
    if options.json:
        options.json.write_text(json.dumps(rows, indent=1) + "\n", encoding="utf-8")
    if options.plot:
        plot(rows, options.plot)


if __name__ == "__main__":
    main()
