"""The player and a bench lug above an aboard lug: it waits, labelled, under a loose nut.

Dial 2's ground stud: pigtail 1250 mA at the base, the load's 500 from aboard, two jumpers of
250 above it, both of the bench.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from support.bench import (
    ONE,
    assembled,
    bench_limits,
    bench_stock,
    fitting,
    heavy_choice,
    heavy_console,
)

from lugwright.checker.run import check_plan
from lugwright.plans.schema import Plan, Step
from lugwright.scenario.brief import Brief
from lugwright.stock.schema import Stock

POST = "dial2.ground"
Edit = Callable[[list[Step]], list[Step]]


def findings(plan: Plan, stock: Stock | None = None) -> set[str]:
    """The rules a plan breaks."""
    report = check_plan(Brief(heavy_console(), bench_limits(), stock or bench_stock()), plan)
    return {finding.rule for finding in report.findings}


def edited(change: Edit) -> Plan:
    """The plan with its steps changed, numbered anew."""
    plan = assembled(heavy_console(), choice=heavy_choice())
    steps = enumerate(change(list(plan.steps)), 1)
    told = tuple(step.model_copy(update={"number": number}) for number, step in steps)
    return plan.model_copy(update={"steps": told})


def at(steps: list[Step], verb: str, stage: str = "aboard") -> list[int]:
    """Where the steps of that verb stand at the stud."""
    return [
        index
        for index, step in enumerate(steps)
        if (step.target, step.verb, step.stage) == (POST, verb, stage)
    ]


def without(verb: str, stage: str = "aboard") -> Edit:
    """Those steps left out."""
    return lambda steps: [s for i, s in enumerate(steps) if i not in at(steps, verb, stage)]


def as_verb(verb: str, new: str, stage: str) -> Edit:
    """Those steps under another verb."""

    def change(steps: list[Step]) -> list[Step]:
        places = at(steps, verb, stage)
        return [
            step.model_copy(update={"verb": new}) if index in places else step
            for index, step in enumerate(steps)
        ]

    return change


def lift_before_nut_off(steps: list[Step]) -> list[Step]:
    """What waits is lifted while the nut is on."""
    nut, lift = at(steps, "nut off")[0], at(steps, "lift")[0]
    steps[nut], steps[lift] = steps[lift], steps[nut]
    return steps


def lifted_from_below(steps: list[Step]) -> list[Step]:
    """The lower of two lifted first."""
    place = at(steps, "lift")[0]
    steps[place] = steps[place].model_copy(update={"parts": steps[place].parts[::-1]})
    return steps


def base_lifted_too(steps: list[Step]) -> list[Step]:
    """The lug at the base does not wait: it stays."""
    place, base = at(steps, "lift")[0], steps[at(steps, "land", "bench")[0]].parts
    parts = steps[place].parts + base
    steps[place] = steps[place].model_copy(update={"parts": parts})
    return steps


def put_back_first(steps: list[Step]) -> list[Step]:
    """A lug that waited goes back before the one from aboard is on."""
    first, second, _ = at(steps, "land")
    steps[first], steps[second] = steps[second], steps[first]
    return steps


def consumer_at_the_bench(steps: list[Step]) -> list[Step]:
    """The aboard lug landed with the bench lugs."""
    early = steps.pop(at(steps, "land")[0]).model_copy(update={"stage": "bench"})
    steps.insert(at(steps, "wait", "bench")[0], early)
    return steps


def test_what_waits_is_played_to_the_end() -> None:
    """Labelled and put on at the bench, lifted, put back above the load: nothing to find."""
    plan = edited(lambda steps: steps)
    assert findings(plan) == set()
    verbs = [(s.stage, s.verb) for s in plan.steps if s.target == POST]
    assert verbs.count(("bench", "wait")) == 2
    assert ("aboard", "lift") in verbs


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (as_verb("wait", "land", "bench"), {"step stage", "step order"}),  # without its label
        (without("wait", "bench"), {"step order"}),
        (without("lift"), {"step order", "step end"}),
        (without("nut off"), {"step nut"}),
        (lift_before_nut_off, {"step nut"}),
        (lifted_from_below, {"step order"}),
        (base_lifted_too, {"step order", "step end"}),
        (put_back_first, {"step order", "step end"}),
        (consumer_at_the_bench, {"step stage", "step order"}),
        (as_verb("nut loose", "nut snug", "bench"), {"step nut"}),
    ],
)
def test_what_waits_and_is_not_handled_so(change: Edit, expected: set[str]) -> None:
    """Each slip is found by the rules it touches."""
    found = findings(edited(change))
    assert expected <= found
    assert all(rule.startswith("step") for rule in found)


def with_a_spade() -> tuple[Plan, Stock]:
    """The load's ground wire in a captive spade."""
    stock = bench_stock(fitting("red spade", "captive spade", (ONE,)))
    choice = heavy_choice()
    fittings = tuple(
        replace(item, item="red spade") if "sender2" in item.barrels[0][0].name else item
        for item in choice.fittings
    )
    return assembled(heavy_console(), stock=stock, choice=replace(choice, fittings=fittings)), stock


def test_a_spade_slips_in_below_what_waits() -> None:
    """Nothing is lifted: the nut is slackened, and the spade slips under the lower lug."""
    plan, stock = with_a_spade()
    assert findings(plan, stock) == set()
    aboard = [step for step in plan.steps if (step.target, step.stage) == (POST, "aboard")]
    assert [step.verb for step in aboard] == ["land", "nut snug"]
    stack = next(item for item in plan.stacks if item.post == POST)
    under = f"under crimp {stack.lugs[2].crimp} (labelled lug 3) as lug 2 from the base"
    assert under in aboard[0].text
