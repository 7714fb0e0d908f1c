"""Signal wires that meet what they must not: each is found by the proof from the wires alone."""

from __future__ import annotations

from functools import cache

import pytest
from support.bridged import FAULTS, bridged, moved
from support.plans import SCENARIOS
from support.shared import shared

from lugwright.checker.book import Book
from lugwright.checker.bypass import check_bypass
from lugwright.checker.facts import Facts
from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan, read_inputs
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

FILE = SCENARIOS / "second-station.toml"


@cache
def planned() -> tuple[Brief, Plan]:
    """The two stations and their plan."""
    brief = read_inputs(FILE)
    run = shared(f"plan of {FILE}", lambda: make_plan(brief))
    assert run.plan is not None
    return brief, run.plan


def found(plan: Plan) -> list[str]:
    """What the proof alone finds."""
    book = Book()
    check_bypass(Facts(planned()[0], plan), book)
    return [str(finding) for finding in book.report().findings]


def test_the_plan_is_sound() -> None:
    """No check finds anything, and the shared signals have a jumper each."""
    brief, plan = planned()
    assert [str(one) for one in check_plan(brief, plan).findings] == []
    assert {"pulses", "temperature", "heat"} <= {row.circuit for row in plan.jumpers}


@pytest.mark.parametrize("kind", ["circuits joined", "next door", "barrels"])
def test_every_planted_fault_is_found(kind: str) -> None:
    """Signals joined to each other, to a feed, to ground; fittings and wires one post away."""
    brief, plan = planned()
    faults = list(FAULTS[kind](brief.console, plan))
    assert len(faults) > 10
    assert [what for what, fault in faults if not found(fault)] == []


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("upper rpm.signal", "upper temp.signal"),
        ("upper temp.signal", "fuel.signal"),
        ("lower temp.signal", "lower temp.ground"),
        ("oil lamp.signal", "heat lamp.signal"),
        ("heat lamp.signal", "heat lamp.ignition"),
    ],
)
def test_a_signal_wire_too_many(a: str, b: str) -> None:
    """To another signal, to ground, to the next lamp's switch, to the feed."""
    assert found(bridged(planned()[1], a, b))


def test_a_sender_on_another_dials_post() -> None:
    """The wire of the temperature sender on the tachometer: the whole check says so."""
    brief, plan = planned()
    landing = next(row for row in plan.landings if row.circuit == "temperature")
    crimp = next(
        one.number
        for one in plan.crimps
        if any(end.wire == "pigtail temperature" for half in one.barrels for end in half)
    )
    wrong = moved(plan, crimp, "upper rpm.signal")
    assert landing.post.endswith("temp.signal")
    assert found(wrong)
    assert {"bypass", "landing"} & {one.rule for one in check_plan(brief, wrong).findings}


def test_where_a_held_sender_lands_is_judged() -> None:
    """The file holds the oil switch's wire to one post; a plan that says another is rejected."""
    brief, plan = planned()
    rows = tuple(
        row.model_copy(update={"post": "heat lamp.signal"})
        if row.circuit == "oil lamp signal"
        else row
        for row in plan.landings
    )
    wrong = plan.model_copy(update={"landings": rows})
    assert "landing" in {one.rule for one in check_plan(brief, wrong).findings}
