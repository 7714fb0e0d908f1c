"""A stop reaches every solve, whenever it comes."""

from __future__ import annotations

import threading
from typing import cast

import pytest

from lugwright.base import stop
from lugwright.model.choose import run_aside
from lugwright.model.clock import Clock
from lugwright.model.solver import cp_model

LONG_S = 30.0  # a stop that is lost shows as a wait of this, and as the answer NEVER
HEARD, NEVER = 4, 0


class LateStart:
    """A solver that has not begun when the first stop comes, and forgets it, as ours does."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.parameters = cp_model.CpSolver().parameters
        self.stops = threading.Semaphore(0)
        self.begun = False

    def stop_search(self) -> None:
        """Heard only once the search has begun."""
        if self.begun:
            self.stops.release()

    def solve(self, model: cp_model.CpModel) -> int:
        """The stop comes between the look at the clock and the beginning of the search."""
        self.clock.stop()
        threading.Event().wait(0.02)
        self.begun = True
        return HEARD if self.stops.acquire(timeout=LONG_S) else NEVER


def test_a_stop_before_the_search_has_begun_is_not_lost() -> None:
    """It is said again until the solve returns."""
    clock = Clock(None)
    solver = cast(cp_model.CpSolver, LateStart(clock))
    assert clock.run(solver, cp_model.CpModel()) == HEARD


def test_no_solve_begins_after_a_stop() -> None:
    """Its time is over before it starts."""
    clock = Clock(None)
    clock.stop()
    solver = cp_model.CpSolver()
    clock.run(solver, cp_model.CpModel())
    assert solver.parameters.max_time_in_seconds <= 0.001
    assert not solver.parameters.catch_sigint_signal


def test_a_search_that_does_not_come_to_its_end_is_left_to_itself(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What it had found by then is the answer; where nothing says what, there is none."""
    monkeypatch.setattr(stop, "asked", lambda: True)
    for_ever = threading.Event()
    assert run_aside(Clock(None), lambda: for_ever.wait(LONG_S), lambda: False) == (False, True)
    with pytest.raises(KeyboardInterrupt):
        run_aside(Clock(None), lambda: for_ever.wait(LONG_S))
    for_ever.set()
