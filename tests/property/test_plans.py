"""What holds for every plan: it passes the checker, its sums are its cost, and it comes out
again.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from brute.random_consoles import random_case
from hypothesis import given
from support.crowded_studs import crowd
from support.strategies import FEW, SOME, Case, cases

from lugwright.outputs.plan_json import plan_text, read_plan
from lugwright.pipeline import Run
from lugwright.plans.outcome import Ending
from lugwright.plans.schema import Plan


def own_cost(case: Case, plan: Plan) -> tuple[int, ...]:
    """The objective's value, added up from the plan's single pieces."""
    wire = sum(jumper.length_dmm for jumper in plan.jumpers)
    lugs = [len(stack.lugs) for stack in plan.stacks]
    stacked = sum(number - 1 for number in lugs if number)
    fittings = len(plan.crimps)
    limits = case.limits
    money = plan.totals.money_micro
    return {
        "default": (wire + limits.lug_worth_dmm * stacked + limits.fitting_worth_dmm * fittings,),
        "shortest": (wire, stacked, fittings),
        "lowest-stacks": (stacked, max(lugs, default=0), wire, fittings),
        "cheapest": (money,),
        "weights": (
            limits.weights.get("length", 0) * wire
            + limits.weights.get("stacked", 0) * stacked
            + limits.weights.get("fittings", 0) * fittings
            + limits.weights.get("money", 0) * money,
        ),
    }[limits.objective]


def stands(case: Case, run: Run) -> None:
    """A proved plan passes the checker, and what it states as its cost is the sum of its parts."""
    if run.outcome.ending is Ending.IMPOSSIBLE:
        return
    assert run.outcome.ending is Ending.PROVED
    assert run.plan is not None
    assert run.report is not None
    assert [str(finding) for finding in run.report.findings] == []
    assert run.plan.proof.cost == run.outcome.cost == run.outcome.bound
    assert own_cost(case, run.plan) == run.outcome.cost


@SOME
@given(case=cases())
def test_every_plan_passes_the_checker(case: Case) -> None:
    """Whatever is planned is checked without a finding, and its cost adds up."""
    stands(case, case.run())


@pytest.mark.parametrize("seed", range(1000, 1012))
def test_every_plan_of_the_wide_consoles_passes_the_checker(seed: int) -> None:
    """The same on the enumerator's consoles: leads, bus bars, loads aboard and looms, routed."""
    drawn = random_case(seed)
    case = Case(drawn.console, drawn.limits, drawn.stock)
    stands(case, case.run())


@pytest.mark.parametrize("seed", [1042, 1155, 1163, 1165, 1169])
def test_no_option_counts_an_end_that_nothing_brings(seed: int) -> None:
    """A lone dial: its circuits of one post have splice points, and no jumper to any of them."""
    stands(crowd(seed), crowd(seed).run())


@FEW
@given(case=cases())
def test_a_plan_survives_its_file(case: Case, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Written and read again it is equal, and gives the same bytes."""
    plan = case.run().plan
    if plan is None:
        return
    text = plan_text(plan)
    path: Path = tmp_path_factory.mktemp("plan") / "plan.json"
    path.write_text(text, encoding="utf-8", newline="\n")
    assert read_plan(path) == plan
    assert plan_text(read_plan(path)) == text


@FEW
@given(case=cases())
def test_the_same_question_gives_the_same_bytes(case: Case) -> None:
    """Asked twice, from scratch."""
    first, second = case.run(), case.run()
    assert first.outcome == second.outcome
    if first.plan is not None:
        assert second.plan is not None
        assert plan_text(first.plan) == plan_text(second.plan)
