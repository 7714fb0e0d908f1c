"""A catalogue of invented models, planned and then weighed under a tighter limit.

``python benchmarks/catalogue.py [COUNT]`` times whole processes on the local engine (two workers)
and prints wall seconds, CPU seconds of all processes, and the largest process. Run it on an idle
machine.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from catalogue_models import write_models

PROGRAM = "from lugwright.cli.main import main; main()"
CALLS = (
    ("plan", ()),
    ("plan", ()),  # everything is kept
    ("impact", ("--set", "lugs_per_stud=3")),
    ("impact", ("--set", "drop_critical=5 %")),
    ("impact", ("--set", "slack=6 %")),
    ("stock", ()),
)


def main() -> None:
    """Write the models, run the calls one after the other, print a line for each."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as place:
        os.chdir(place)
        write_models(Path("models"), count)
        for command, options in CALLS:
            workers = () if command == "stock" else ("--workers", "2", "--quiet")
            call = [sys.executable, "-c", PROGRAM, "catalogue", command, "models"]
            wall, before = time.monotonic(), _cpu_s()
            ended = subprocess.run([*call, *options, *workers], capture_output=True, text=True)
            wall, cpu = time.monotonic() - wall, _cpu_s() - before
            said = [line for line in ended.stdout.splitlines() if "searched" in line]
            name = " ".join((command, *options))
            print(f"{name:38} {wall:7.1f} s wall {cpu:7.1f} s CPU  {_peak_mb():4.0f} MB  {said}")


def _cpu_s() -> float:
    """CPU seconds of all processes that have ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _peak_mb() -> float:
    """The largest of all processes that have ended, MB."""
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


if __name__ == "__main__":
    main()
