"""A stop reaches every solve, whenever it comes."""

from __future__ import annotations

import threading
from typing import cast

import pytest
from support.plans import SCENARIOS

from lugwright.base import stop
from lugwright.model import solver as cp_model
from lugwright.model.choose import run_aside
from lugwright.model.clock import Clock
from lugwright.model.search.best_first import Search
from lugwright.model.search.found import Found
from lugwright.pipeline import pose, read_inputs

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


def test_what_a_search_over_hubs_says_half_way_holds_at_its_end() -> None:
    """Asked after each word of it: no bound above the least cost, no hub left out."""
    problem, _ = pose(read_inputs(SCENARIOS / "reserved-lugs.toml"))
    said: list[dict[str, Found]] = []
    search = Search(problem, Clock(None), lambda _: said.append(search.so_far_each()))
    names = [instrument.name for instrument in problem.console.instruments]
    with pytest.raises(KeyboardInterrupt):
        search.so_far_each()
    ended = search.run_each(names)
    assert said
    for known in said:
        assert known.keys() == ended.keys()
        for hub, found in known.items():
            best = ended[hub].best
            assert best is None or found.bound <= best.value
            assert not found.ended or (best is not None and found.best is not None)
