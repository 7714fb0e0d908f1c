"""Two harnesses that a wire of the plan joins: found by the proof from the wires alone."""

from __future__ import annotations

from functools import cache

import pytest
from support.bridged import FAULTS, bridged
from support.plans import SCENARIOS
from support.shared import shared

from lugwright.checker.book import Book
from lugwright.checker.bypass import check_bypass
from lugwright.checker.facts import Facts
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

FILE = SCENARIOS / "twin-outboard.toml"


@cache
def planned() -> tuple[Brief, Plan]:
    """The two outboards and their plan."""
    brief = read_inputs(FILE)
    run = shared(f"plan of {FILE}", lambda: make_plan(brief))
    assert run.plan is not None
    return brief, run.plan


def found(plan: Plan) -> list[str]:
    """What the proof alone finds."""
    book = Book()
    check_bypass(Facts(planned()[0], plan), book)
    return [str(finding) for finding in book.report().findings]


def test_the_plan_is_proved_and_sound() -> None:
    """Best and no finding; each harness has a hub by itself."""
    brief, plan = planned()
    assert plan.proof.proved and plan.proof.cost == plan.proof.bound
    assert [str(one) for one in check_plan(brief, plan).findings] == []
    at = {row.circuit: row.post.partition(".")[0] for row in plan.landings}
    assert at["port ignition"] == at["port ground"] != at["stbd ground"] == at["stbd ignition"]


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("port rpm.ignition", "stbd rpm.ignition"),
        ("port rpm.ground", "stbd rpm.ground"),
        ("port key.bat", "feed bar.one"),
        ("fuel.ground", "bar.ground1"),
    ],
)
def test_a_wire_between_two_harnesses(a: str, b: str) -> None:
    """Between ignitions, grounds, batteries; between an engine's ground and the house's."""
    assert found(planned()[1]) == []
    assert found(bridged(planned()[1], a, b))


def test_every_two_circuits_joined_are_found() -> None:
    """Each with each, of whatever harness."""
    brief, plan = planned()
    faults = list(FAULTS["circuits joined"](brief.console, plan))
    assert len(faults) > 100
    assert [what for what, fault in faults if not found(fault)] == []


def test_a_hub_is_judged_harness_by_harness() -> None:
    """Port ground landed away from port ignition: another instrument could have both."""
    brief, plan = planned()
    rows = tuple(
        row.model_copy(update={"post": "port temp.ground"}) if row.circuit == "port ground" else row
        for row in plan.landings
    )
    told = check_plan(brief, replace_landings(plan, rows)).findings
    assert any("one could have more of them" in str(one) for one in told if one.rule == "hub")


def replace_landings(plan: Plan, rows: tuple[object, ...]) -> Plan:
    """The plan with other landings."""
    return plan.model_copy(update={"landings": rows})
