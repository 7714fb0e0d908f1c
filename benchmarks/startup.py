"""Every command on a small fixed job: CPU and wall seconds, peak memory, and what it loads.

Run: python benchmarks/startup.py [--json FILE] [--repeat N] [--help-pages]
The table is Markdown. Nothing else should run on the machine meanwhile; the least of N runs
counts. Each command runs once before, so that what Python compiles is compiled, and what a
catalogue keeps is kept.
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
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from itertools import chain
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from consoles import scenario_text

ROOT = Path(__file__).resolve().parent.parent
SKIFF = ROOT / "scenarios" / "sandbar-skiff.toml"
# Packages that cost time or memory to load, in the order they are told.
HEAVY = (
    *("ortools", "highspy", "numpy", "pandas"),
    *("reportlab", "PIL", "segno", "drawsvg", "jinja2", "xlsxwriter", "openpyxl"),
    *("pydantic", "tree_sitter", "tomlkit", "rich", "joblib", "dask", "distributed"),
)
PAGES = (
    *("", "new", "plan", "hubs", "sheets", "check", "readings"),
    *("catalogue", "catalogue plan", "catalogue impact", "catalogue stock"),
    *("family", "kits", "spools", "lengths", "rework", "changes", "patterns", "guide"),
    *("limits", "stock"),
)
_PROBE = (
    "import os, sys\n"
    "from lugwright.cli.main import run\n"
    "told = os.fdopen(int(sys.argv[1]), 'w')\n"
    "code = run(sys.argv[2:])\n"
    "told.write(chr(10).join(sys.modules))\n"
    "told.close()\n"
    "sys.exit(code)\n"
)


@dataclass(frozen=True)
class Job:
    """One call of the program: its name in the table, and its arguments."""

    what: str
    arguments: tuple[str, ...]


@dataclass(frozen=True)
class Measured:
    """One job: seconds, megabytes, how many modules it loaded and which heavy packages."""

    what: str
    code: int
    cpu_s: float
    wall_s: float
    peak_mb: float
    modules: int
    heavy: tuple[str, ...]


def help_pages() -> list[Job]:
    """The help page of the program and of every command."""
    return [Job(f"{page} --help".strip(), (*page.split(), "--help")) for page in PAGES]


def jobs(folder: Path, scenario: Path) -> Iterator[Job]:
    """Every command once, in an order in which each finds in ``folder`` what those before it made.

    Run each before asking for the next.
    """
    plan, models, readings = folder / "plan", folder / "models", folder / "readings.csv"
    models.mkdir()
    (models / "one.toml").write_text(scenario.read_text(encoding="utf-8"), encoding="utf-8")
    stored = (models, "--store", folder / "store")
    serial = ("--engine", "serial", "--quiet")
    yield from _called(
        ("limits", "limits"),
        ("limits SCENARIO", "limits", scenario),
        ("stock", "stock"),
        ("guide", "guide"),
        ("guide TOPIC", "guide", "rigger"),
        ("patterns", "patterns"),
        ("patterns NAME", "patterns", "dial-52"),
        ("new", "new", folder / "new.toml", "--yes", "--overwrite"),
        ("plan", "plan", scenario, "--out", plan, "--quiet"),
    )
    _fill_in(plan / "test-readings.csv", readings)
    yield from _called(
        ("check", "check", scenario, plan),
        ("sheets", "sheets", plan),
        ("sheets SCENARIO", "sheets", scenario, "--out", folder / "before"),
        ("readings", "readings", plan, readings),
        ("hubs", "hubs", scenario, "--out", folder / "hubs", "--quiet"),
        ("changes", "changes", plan, plan),
        ("kits", "kits", plan, "--boats", 2),
        ("spools", "spools", plan, "--boats", 2),
        ("lengths", "lengths", plan),
        ("rework", "rework", scenario, plan, "--quiet"),
        ("family", "family", _family(folder, scenario), "--quiet"),
        ("catalogue plan, kept", "catalogue", "plan", *stored, *serial),
        ("catalogue impact, kept", "catalogue", "impact", *stored, "--set", "slack=6 %", *serial),
        ("catalogue stock", "catalogue", "stock", *stored),
    )


def _called(*calls: tuple[object, ...]) -> Iterator[Job]:
    for what, *arguments in calls:
        yield Job(str(what), tuple(map(str, arguments)))


def _fill_in(form: Path, filled: Path) -> None:
    """A plan's form with 0.0 ohm read along every wire that must be whole."""
    lines = form.read_text(encoding="utf-8").splitlines()
    typed = [f"{line}0.0" if ",continuity," in line else line for line in lines]
    filled.write_text("\n".join(typed) + "\n", encoding="utf-8")


def _family(folder: Path, scenario: Path) -> Path:
    """A family of one variant, two boats of it."""
    lines = ('title = "One variant"', 'part_price = "1.50"', "[[variant]]", 'name = "all"')
    path, named = folder / "family.toml", json.dumps(scenario.resolve().as_posix())
    path.write_text("\n".join((*lines, f"scenario = {named}", "boats = 2", "")), encoding="utf-8")
    return path


def loaded(job: Job) -> tuple[int, frozenset[str]]:
    """Exit code of a job run in a process of its own, and every module it had loaded at its end."""
    reader, writer = os.pipe()
    with os.fdopen(reader) as told:
        call = [sys.executable, "-c", _PROBE, str(writer), *job.arguments]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        with subprocess.Popen(call, pass_fds=(writer,), env=_surroundings(), **quiet) as process:
            os.close(writer)
            names = frozenset(told.read().split())
    return process.returncode, names


def heavy_of(modules: frozenset[str]) -> tuple[str, ...]:
    """The heavy packages among some modules."""
    return tuple(name for name in HEAVY if name in modules)


def measured(job: Job, repeat: int) -> Measured:
    """A job run twice to see what it loads, then ``repeat`` times: the least of each counts."""
    _run(job)
    code, modules = loaded(job)
    runs = [_run(job) for _ in range(repeat)]
    cpu, wall, peak = (min(each) for each in zip(*runs, strict=True))
    return Measured(
        job.what, code, round(cpu, 2), round(wall, 2), round(peak), len(modules), heavy_of(modules)
    )


def _run(job: Job) -> tuple[float, float, float]:
    """CPU seconds, wall seconds and peak megabytes of one run."""
    start = time.perf_counter()
    pid = os.fork()
    if pid == 0:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        call = [sys.executable, "-m", "lugwright", *job.arguments]
        os.execve(sys.executable, call, _surroundings())  # noqa: S606
    _, _, used = os.wait4(pid, 0)
    wall = time.perf_counter() - start
    return used.ru_utime + used.ru_stime, wall, used.ru_maxrss / 1024


def _surroundings() -> dict[str, str]:
    """The environment of a run, in which Python keeps what it compiles."""
    return {name: x for name, x in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def main() -> None:
    """Measure everything and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--json", type=Path)
    parser.add_argument("--repeat", type=int, default=3)
    parser.add_argument("--help-pages", action="store_true", help="the page of each command, too")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        twelve = folder / "twelve.toml"
        twelve.write_text(scenario_text(12), encoding="utf-8")
        pages = help_pages()
        out = str(folder / "twelve")
        asked = chain(
            pages if options.help_pages else pages[:1],
            jobs(folder, SKIFF),
            [Job("plan, 12 instruments", ("plan", str(twelve), "--out", out, "--quiet"))],
        )
        rows = [measured(job, options.repeat) for job in asked]
    print(f"Python {platform.python_version()}, {os.cpu_count()} cores, least of {options.repeat}")
    print("| command | CPU s | wall s | peak MB | modules | heavy packages |")
    print("| --- | ---: | ---: | ---: | ---: | --- |")
    for row in rows:
        figures = f"{row.cpu_s:.2f} | {row.wall_s:.2f} | {row.peak_mb:.0f} | {row.modules}"
        ended = f" (exit {row.code})" if row.code else ""
        print(f"| `{row.what}`{ended} | {figures} | {', '.join(row.heavy) or 'none'} |")
    if options.json:
        text = json.dumps([asdict(row) for row in rows], indent=1, sort_keys=True)
        options.json.write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
