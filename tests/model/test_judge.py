"""An answer walked: currents, drops, and which families it breaks."""

from __future__ import annotations

from typing import Any

import pytest
from support.asking import pose, roomy_limits, wide_stock, with_load
from support.consoles import tiny_console

from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Status
from lugwright.model.formulation.objective import objective_of
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.solve import solve_ask
from lugwright.problem.schema import Problem
from lugwright.scenario.console import Console


def solved(console: Console, **limits: Any) -> tuple[Problem, Answer]:
    """All circuits at once on dial 1, electrical rules left out."""
    problem = pose(console, roomy_limits(**limits), wide_stock())
    ask = Ask(
        tuple(c.name for c in problem.circuits),
        tuple((c.name, (f"dial1.{c.name}",)) for c in problem.circuits if c.supply),
        tuple((c.name, ("16 AWG",)) for c in problem.circuits),
        rest=True,
    )
    found = solve_ask(problem, ask, objective_of(problem), Clock(None))
    assert found.status is Status.BEST
    assert found.answer is not None
    return problem, found.answer


def test_currents_run_from_the_far_end() -> None:
    """Three dials of 100 mA with lamps of 150: 200, 100; lamps 450, 300, 150; ground 500, 250."""
    problem, answer = solved(tiny_console())
    walked = Judge(problem).walk(answer)
    current = {(j.a, j.b): value for j, value in walked.current.items()}
    assert current == {
        ("dial1.ignition", "dial2.ignition"): 200,
        ("dial2.ignition", "dial3.ignition"): 100,
        ("dial1.ignition", "dial1.lamp"): 450,
        ("dial1.lamp", "dial2.lamp"): 300,
        ("dial2.lamp", "dial3.lamp"): 150,
        ("dial1.ground", "dial2.ground"): 500,
        ("dial2.ground", "dial3.ground"): 250,
    }


def test_drops_add_up_along_the_way() -> None:
    """Pigtail 26 344 µΩ at 750 mA; 1318 µΩ at 500 mA, then at 250 mA."""
    problem, answer = solved(tiny_console())
    drop = Judge(problem).walk(answer).drop
    first = 26_344 * 750
    assert drop["ground", "dial1.ground"] == first
    assert drop["ground", "dial2.ground"] == first + 1318 * 500
    assert drop["ground", "dial3.ground"] == first + 1318 * 500 + 1318 * 250
    # the lamps' first jumper of 19.8 mm: ceil(260.8) = 261 µΩ at 450 mA, on top of ignition's
    assert drop["lamps", "dial1.lamp"] == first + 261 * 450


@pytest.mark.parametrize(
    ("load_ma", "limits", "families"),
    [
        (100, {}, set()),
        (26_000, {}, {"currents"}),
        (100, {"drop_critical_permille": 1}, {"currents", "drop"}),
        (100, {"drop_other_permille": 1}, {"currents", "drop"}),
    ],
)
def test_families_that_are_broken(load_ma: int, limits: dict[str, Any], families: set[str]) -> None:
    """16 AWG carries 25 A; 1 ‰ of 12 V is 12 mV, and the pigtails alone drop more."""
    console = with_load(tiny_console(pigtail_size="12 AWG", fuse_ma=40_000), "dial3", load_ma)
    # posed with roomy limits, judged with the tight ones, so that faults do not end it early
    problem, answer = solved(console)
    tight = pose(console, roomy_limits(**limits), wide_stock())
    assert Judge(problem).broken(answer) == (set() if load_ma == 100 else {"currents"})
    assert Judge(tight).broken(answer) == families
