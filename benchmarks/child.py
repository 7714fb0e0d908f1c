"""A command in a process of its own, whose time limit is kept and whose use is told."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

LOOK_S = 0.05


@dataclass(frozen=True)
class Used:
    """Exit code (minus the signal's number where one ended it), CPU and wall seconds, peak memory
    (MB), and whether it was killed at its time limit."""

    code: int
    cpu_s: float
    wall_s: float
    peak_mb: int
    killed: bool


def run_child(
    arguments: Sequence[str], seconds: float, memory_mb: int = 0, words: Path | None = None
) -> Used:
    """Run a command to its end, or kill it (and all it started) after so many wall seconds.

    ``memory_mb`` caps its address space (0: no cap); its words go into the file ``words``.
    The caller should be small: a child's peak starts from the size of the process it came from.
    """

    def cap() -> None:
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        if memory_mb:
            resource.setrlimit(resource.RLIMIT_AS, (memory_mb << 20, memory_mb << 20))

    started = time.monotonic()
    with open(words or os.devnull, "wb") as told:
        child = subprocess.Popen(
            arguments, stdout=told, stderr=told, preexec_fn=cap, start_new_session=True
        )
        killed = False
        while True:
            pid, status, used = os.wait4(child.pid, os.WNOHANG)
            if pid:
                break
            if not killed and time.monotonic() - started > seconds:
                os.killpg(child.pid, signal.SIGKILL)
                killed = True
            time.sleep(LOOK_S)
    child.returncode = os.waitstatus_to_exitcode(status)
    return Used(
        child.returncode,
        round(used.ru_utime + used.ru_stime, 2),
        round(time.monotonic() - started, 2),
        round(used.ru_maxrss / 1024),
        killed,
    )
