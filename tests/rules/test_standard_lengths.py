"""Standard lengths: a jumper is cut to the shortest that is long enough."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.limits import plain_limits

from lugwright.base.errors import BadInput
from lugwright.limits.resolve import resolve_limits
from lugwright.pipeline import make_plan, read_inputs
from lugwright.production.standard_lengths import best_lengths
from lugwright.trade.lengths import jumper_length_dmm


@pytest.mark.parametrize(
    ("path", "standard", "cut"),
    [
        (1000, (), 1000),
        (1000, (1000, 1500), 1000),
        (1001, (1000, 1500), 1500),
        (1501, (1000, 1500), 1501),
        (10, (1000, 1500), 1000),
    ],
)
def test_the_shortest_that_is_long_enough(path: int, standard: tuple[int, ...], cut: int) -> None:
    """A piece longer than every standard length is cut as ever."""
    assert jumper_length_dmm(path, plain_limits(standard_lengths_dmm=standard)) == cut


@pytest.mark.parametrize(
    ("written", "lengths"),
    [
        ("standard_lengths=none", ()),
        ("standard_lengths=200 mm, 120 mm,200 mm", (1200, 2000)),
        ("standard_lengths=4 in", (1016,)),
    ],
)
def test_written_on_the_command_line(written: str, lengths: tuple[int, ...]) -> None:
    """Each once, the shortest first; any unit of length."""
    assert resolve_limits("usual", None, None, (written,)).standard_lengths_dmm == lengths


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("standard_lengths=120", "unit"),
        ("standard_lengths=0 mm", "outside what is allowed"),
        ("standard_lengths=" + ",".join(f"{n} mm" for n in range(10, 90)), "too many"),
    ],
)
def test_refused_with_what_is_allowed(written: str, message: str) -> None:
    """No unit, no length, far too many."""
    with pytest.raises(BadInput) as fault:
        resolve_limits("usual", None, None, (written,))
    assert message in str(fault.value)


def test_a_plan_is_cut_to_them() -> None:
    """The best three lengths of the skiff's own jumpers: the plan uses no other, and is checked.

    Its wire is no less than without, and no more than those lengths waste on the same jumpers.
    """
    scenario = Path(__file__).parents[2] / "scenarios" / "sandbar-skiff.toml"
    free = make_plan(read_inputs(scenario)).plan
    assert free is not None
    needs: dict[int, int] = {}
    for piece in free.jumpers:
        needs[piece.length_dmm] = needs.get(piece.length_dmm, 0) + 1
    best = best_lengths(needs, 3)[-1]
    words = ", ".join(f"{length / 10} mm" for length in best.lengths_dmm)
    run = make_plan(read_inputs(scenario, settings=(f"standard_lengths={words}",)))
    assert run.plan is not None and run.report is not None and run.report.passed
    assert {piece.length_dmm for piece in run.plan.jumpers} <= set(best.lengths_dmm)
    least = free.totals.wire_dmm
    assert least <= run.plan.totals.wire_dmm <= least + best.waste_dmm
