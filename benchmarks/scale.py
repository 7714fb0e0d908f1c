"""How the work grows: generated consoles, solved by this program and in other ways beside it.

Run: python benchmarks/scale.py --json FILE [--resume] [--estimate]
     [--sizes 4,8,12] [--layouts row,grid,scattered] [--circuits 3,6] [--limits loose,binding]
     [--ways ours,HiGHS] [--seconds 60] [--other-seconds 60] [--other-most 20] [--plots FOLDER]
     python benchmarks/scale.py --json FILE --table [--plots FOLDER]

Each way of solving each console is a process of its own (``way.py``), killed ``--grace`` seconds
after its time; FILE is written anew after each, so that a run broken off keeps what it has and
``--resume`` does the rest. ``ours`` is what ``plan`` does, sheets and all. One CP-SAT model, the
MILP in HiGHS and SCIP (loose limits only: it leaves electrical rules out) are asked on
``--other-layouts`` up to ``--other-most`` instruments, brute force up to ``--brute-most``.
``--binds`` also takes each binding rule away by itself, up to so many instruments. CPU seconds
are told beside wall seconds, for other programs may share the machine. ``--estimate`` says how
long all this can take at most (with ``--like``, going by an earlier result) and solves nothing.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))
from child import run_child
from consoles import CIRCUITS, LAYOUTS, scenario_text, tab_waivers
from device_consoles import device_text
from scale_limits import LIMIT_SETS, LimitSet, limit_sets
from scale_plots import write_plots
from scale_table import key_of, table

SIZES = (4, 5, 8, 12, 16, 20, 30, 40, 60)
WAYS = ("ours", "one model", "HiGHS", "SCIP", "brute force", "hand plan", "greedy")
MILPS = ("HiGHS", "SCIP")
COMPARED = ("one model", *MILPS)
LIBRARIES = ("ortools", "highspy", "PySCIPOpt", "numpy")
DEVICES = "devices"
"""A layout that is asked for by name: a key, a block of six fuses and a light switch in a grid."""
SEED = 1
MOST_PROGRESS = 300
Row = dict[str, Any]


@dataclass(frozen=True)
class Job:
    """One way of solving one console."""

    instruments: int
    circuits: int
    layout: str
    limits: LimitSet
    way: str
    seconds: float

    @property
    def row(self) -> Row:
        """What is known of it before it is done."""
        return {
            "instruments": self.instruments,
            "circuits": self.circuits,
            "layout": self.layout,
            "limits": self.limits.name,
            "settings": list(self.limits.settings),
            "tabs_waived": self.limits.tabs_waived,
            "seed": SEED,
            "way": self.way,
            "seconds": self.seconds,
        }

    def scenario(self) -> str:
        """Its scenario file."""
        if self.layout == DEVICES:
            return device_text(self.instruments)
        text = scenario_text(self.instruments, self.layout, SEED, self.circuits)
        waivers = tab_waivers(self.instruments, self.circuits)
        return text + waivers if self.limits.tabs_waived else text


def jobs(options: argparse.Namespace) -> Iterator[Job]:
    """Everything that is asked for, small consoles first."""
    for size in map(int, options.sizes.split(",")):
        for circuits in map(int, options.circuits.split(",")):
            for layout in options.layouts.split(","):
                names = options.limits.split(",")
                for limits in limit_sets(size, circuits, layout, names, options.binds):
                    for way in options.ways.split(","):
                        job = Job(size, circuits, layout, limits, way, _seconds(options, way))
                        if _is_asked(options, job):
                            yield job


def _seconds(options: argparse.Namespace, way: str) -> float:
    return float(options.seconds if way == "ours" else options.other_seconds)


def _is_asked(options: argparse.Namespace, job: Job) -> bool:
    """Whether a way of solving has its place on a console."""
    if job.way not in WAYS:
        raise SystemExit(f'"{job.way}" is none of {", ".join(WAYS)}')
    if job.limits.name not in LIMIT_SETS and job.way != "ours":
        return False
    if job.way in COMPARED:
        there = job.layout in options.other_layouts.split(",")
        loose = job.limits.name == "loose" or job.way not in MILPS
        return there and loose and job.instruments <= options.other_most
    return job.way != "brute force" or job.instruments <= options.brute_most


def solve(job: Job, folder: Path, grace_s: float, memory_mb: int) -> Row:
    """The row of a job: run it in a process of its own and read what it left."""
    scenario, answer, words = (folder / name for name in ("console.toml", "answer", "words"))
    told = folder / "answer.progress"
    for path in (answer, told):
        path.unlink(missing_ok=True)
    scenario.write_text(job.scenario(), encoding="utf-8")
    arguments = [sys.executable, str(Path(__file__).with_name("way.py")), job.way]
    arguments += [str(scenario), str(answer), "--seconds", f"{job.seconds:g}"]
    for setting in job.limits.settings:
        arguments += ["--set", setting]
    used = run_child(arguments, job.seconds + grace_s, memory_mb, words)
    row = job.row | vars(used) | {"date": _now()}
    if told.is_file():
        row["progress"] = [json.loads(line) for line in _lines(told)][-MOST_PROGRESS:]
    if answer.is_file():
        found: Row = json.loads(answer.read_text(encoding="utf-8"))
        return row | found
    if used.killed:
        return row | {"ending": "killed at its limit"}
    return row | {"ending": "fault", "words": _lines(words)[-1:]}


def _lines(path: Path) -> list[str]:
    """Whole lines of a file; a process that was killed may have left half of one."""
    text = path.read_text(encoding="utf-8", errors="replace")
    return text[: text.rfind("\n") + 1].splitlines()


def about(options: argparse.Namespace) -> Row:
    """When, on what and with what a run was made."""
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")
    return {
        "date": _now(),
        "cpus": os.cpu_count(),
        "machine": f"{platform.system()} {platform.machine()}",
        "memory_mb": memory >> 20,
        "python": platform.python_version(),
        "lugwright": version("lugwright"),
        **{name.lower(): version(name) for name in LIBRARIES},
        "seed": SEED,
        "options": {
            name: value
            for name, value in sorted(vars(options).items())
            if not isinstance(value, Path)
        },
    }


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def read(path: Path) -> Row:
    """A result that was written."""
    found: Row = json.loads(path.read_text(encoding="utf-8"))
    return found


def write(path: Path, result: Row) -> None:
    """Write the result whole, or leave what stood there."""
    beside = path.with_suffix(".part")
    beside.write_text(json.dumps(result, indent=1) + "\n", encoding="utf-8")
    beside.replace(path)


def estimate(waiting: list[Job], grace_s: float, before: list[Row]) -> str:
    """How long jobs take, by way of solving: each at its limit and its grace, and as they took
    ``before`` where they did (the rest at its limit)."""
    took = {console_of(row): row["wall_s"] for row in before}
    lines = []
    for way in (*WAYS, "all"):
        own = [job for job in waiting if way in (job.way, "all")]
        if not own:
            continue
        most = [job.seconds + grace_s for job in own]
        known = [took.get(console_of(job.row)) for job in own]
        likely = [
            limit if wall is None else min(limit, wall)
            for limit, wall in zip(most, known, strict=True)
        ]
        line = f"{way}: {len(own)} runs, at most {sum(most) / 3600:.2f} h wall"
        if any(known):
            measured = sum(wall is not None for wall in known)
            line += f", {sum(likely) / 3600:.2f} h going by {measured} runs before"
        lines.append(line)
    return "\n".join(lines)


def console_of(row: Row) -> tuple[Any, ...]:
    """The console and the way of a row, whatever its time."""
    return tuple(row[name] for name in ("instruments", "circuits", "layout", "limits", "way"))


def measure(options: argparse.Namespace, result: Row) -> None:
    """Do what is asked for and not yet done; the result is written after each row."""
    rows: list[Row] = [row for row in result["rows"] if row["ending"] != "fault"]
    result["rows"] = rows
    done = {key_of(row) for row in rows}
    waiting = [job for job in jobs(options) if key_of(job.row) not in done]
    before = read(options.like)["rows"] if options.like else []
    print(estimate(waiting, options.grace, before), flush=True)
    if options.estimate:
        return
    result["runs"] = [*result["runs"], about(options)]
    with tempfile.TemporaryDirectory() as folder:
        for number, job in enumerate(waiting, 1):
            row = solve(job, Path(folder), options.grace, options.memory)
            rows.append(row)
            write(options.json, result)
            shown = [row[name] for name in ("instruments", "circuits", "layout", "limits", "way")]
            ended = f"{row['ending']} {row.get('cost')} {row['cpu_s']} s CPU {row['peak_mb']} MB"
            print(f"{number}/{len(waiting)}", *shown, ended, flush=True)


def read_options() -> argparse.Namespace:
    """What the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path, required=True)
    parser.add_argument("--resume", action="store_true")
    parser.add_argument("--estimate", action="store_true")
    parser.add_argument("--like", type=Path, help="an earlier result, for the estimate")
    parser.add_argument("--table", action="store_true")
    parser.add_argument("--plots", type=Path)
    parser.add_argument("--sizes", default=",".join(map(str, SIZES)))
    parser.add_argument("--layouts", default=",".join(LAYOUTS))
    parser.add_argument("--circuits", default=",".join(map(str, CIRCUITS)))
    parser.add_argument("--limits", default=",".join(LIMIT_SETS))
    parser.add_argument("--ways", default=",".join(WAYS))
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--other-seconds", type=float, default=60.0)
    parser.add_argument("--other-layouts", default="grid")
    parser.add_argument("--other-most", type=int, default=20)
    parser.add_argument("--brute-most", type=int, default=5)
    parser.add_argument("--binds", type=int, default=0)
    parser.add_argument("--grace", type=float, default=20.0)
    parser.add_argument("--memory", type=int, default=0, help="MB of address space, 0: no cap")
    return parser.parse_args()


def main() -> None:
    """Measure, print a line each, write what was asked for."""
    options = read_options()
    stands = options.json.is_file()
    if stands and not (options.resume or options.table or options.estimate):
        raise SystemExit(f"{options.json} stands there: --resume, or another name")
    result = read(options.json) if stands else {"runs": [], "rows": []}
    started = time.monotonic()
    if not options.table:
        measure(options, result)
        print(f"{(time.monotonic() - started) / 60:.1f} min", flush=True)
    if options.table or (result["rows"] and not options.estimate):
        print(table(result))
    if options.plots and result["rows"]:
        for path in write_plots(result, options.plots):
            print(path)


if __name__ == "__main__":
    main()
