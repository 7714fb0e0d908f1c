"""When a search has to stop.

The solver forgets a stop that comes before its search has begun. So a stop is said again and
again until every solve has come back.
"""

from __future__ import annotations

import threading
import time

from lugwright.model import solver as cp_model

AGAIN_S = 0.05


class Clock:
    """When to stop: a deadline, or a stop asked for from outside."""

    def __init__(self, seconds: float | None) -> None:
        self.deadline = None if seconds is None else time.monotonic() + seconds
        self.stopped = threading.Event()
        self._solvers: set[cp_model.CpSolver] = set()
        self._lock = threading.Lock()

    def left(self) -> float | None:
        """Seconds left; None without a deadline. Zero once stopped."""
        if self.stopped.is_set():
            return 0.0
        return None if self.deadline is None else max(0.0, self.deadline - time.monotonic())

    @property
    def over(self) -> bool:
        """Whether time is up or a stop was asked for."""
        left = self.left()
        return left is not None and left <= 0

    def stop(self) -> None:
        """Ask every running solve to stop with what it has; none begins after this."""
        if not self.stopped.is_set():
            self.stopped.set()
            threading.Thread(target=self._say_it, name="stop of a search", daemon=True).start()

    def _say_it(self) -> None:
        """Say it to every solve, and again, until all have come back."""
        while True:
            with self._lock:
                if not self._solvers:
                    return
                for solver in self._solvers:
                    solver.stop_search()
            time.sleep(AGAIN_S)

    def run(self, solver: cp_model.CpSolver, model: cp_model.CpModel) -> int:
        """Solve under this clock; returns the solver's status."""
        with self._lock:
            self._solvers.add(solver)  # before looking at the clock: a stop in between reaches it
        try:
            left = self.left()
            if left is not None:
                solver.parameters.max_time_in_seconds = max(left, 0.001)
            solver.parameters.catch_sigint_signal = False  # signals are the program's own
            return int(solver.solve(model))
        finally:
            with self._lock:
                self._solvers.discard(solver)
