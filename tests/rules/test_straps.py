"""Straps by hand arithmetic: contacts, what a strap carries, its lugs on the studs. Rule R35."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from support.shared import shared

from lugwright.checker.run import check_plan
from lugwright.outputs.job.job_sheet import job_sheet
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.pipeline import make_plan, read_inputs, why_no_plan
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief

FILE = Path(__file__).parents[2] / "scenarios/strapped-breakers.toml"
STRAP = "strap main bar"


def with_strap(**changes: int) -> Brief:
    """The two strips with their strap changed."""
    brief = read_inputs(FILE)
    (strap,) = brief.console.straps
    changed = replace(brief.console, straps=(replace(strap, **changes),))
    return replace(brief, console=changed)


def planned(**changes: int) -> Plan:
    """The checked plan of it."""
    brief = with_strap(**changes)
    run = shared(f"strapped {sorted(changes.items())}", lambda: make_plan(brief))
    assert run.plan is not None
    assert [str(one) for one in check_plan(brief, run.plan).findings] == []
    return run.plan


def drop_nv(plan: Plan, load: str) -> int:
    """The whole drop of a load."""
    return next(row.drop_nv for row in plan.drops if row.load == load)


@pytest.mark.parametrize("contact_uohm", [200, 1_000])
def test_a_current_passes_two_contacts_from_stud_to_stud(contact_uohm: int) -> None:
    """5 A of pump and 0.4 A of dials pass both lugs; what is fed before the strap loses nothing."""
    without, plan = planned(contact_uohm=0), planned(contact_uohm=contact_uohm)
    lost = 2 * contact_uohm * 5_400  # microohm times milliampere: nanovolt
    for load in ("bilge pump", "fuel.movement", "volts.movement"):
        assert drop_nv(plan, load) - drop_nv(without, load) == lost
    assert drop_nv(plan, "cabin lamp") == drop_nv(without, "cabin lamp")


def test_its_lugs_count_on_both_studs() -> None:
    """In the stack by their current, with their thickness in the thread."""
    plan = planned()
    stacks = {stack.post: stack for stack in plan.stacks}
    fed, beyond = stacks["starboard strip.in"], stacks["port strip.in"]
    # the pigtail's 12.4 A at the base; 3 A of lamp and 4 A of radio pass no strap
    assert [(lug.ready, lug.current_ma) for lug in fed.lugs] == [("", 12_400), (STRAP, 5_400)]
    assert [(lug.ready, lug.current_ma) for lug in beyond.lugs] == [(STRAP, 5_400)]
    thicker = {stack.post: stack for stack in planned(thickness_dmm=25).stacks}
    assert thicker["starboard strip.in"].used_dmm - fed.used_dmm == 10
    assert thicker["port strip.in"].used_dmm - beyond.used_dmm == 10


def test_it_goes_on_both_studs_at_once() -> None:
    """Its two lugs one right after the other, over what lies below them."""
    steps = [step for step in planned().steps if step.parts == (f"ready {STRAP}",)]
    assert [step.target for step in steps] == ["port strip.in", "starboard strip.in"]
    assert steps[1].number == steps[0].number + 1


def test_the_job_sheet_says_so() -> None:
    """Beside each box of its lugs."""
    sheet = job_sheet(ShownPlan(planned()), Paper())
    for other in ("port strip.in", "starboard strip.in"):
        assert f"its own lug, together with that on {other}" in sheet


def test_steps_that_put_it_on_in_halves_are_found() -> None:
    """Played on the virtual panel, half a bar cannot wait in the air."""
    plan = planned()
    places = [n for n, step in enumerate(plan.steps) if step.parts == (f"ready {STRAP}",)]
    steps = list(plan.steps)
    # the second lug after the first stud's washer and nut
    steps.insert(places[1] + 2, steps.pop(places[1]))
    numbered = tuple(step.model_copy(update={"number": n}) for n, step in enumerate(steps, 1))
    report = check_plan(with_strap(), plan.model_copy(update={"steps": numbered}))
    assert any("go on apart" in str(finding) for finding in report.findings)


@pytest.mark.parametrize("post", ["volts.ground", "starboard strip.b1", "fuel.ignition"])
def test_a_lug_of_it_on_another_stud_is_found(post: str) -> None:
    """From the wires alone: metal that joins a feed to ground, or passes round a breaker."""
    plan = planned()
    (lug,) = [lug for one in plan.stacks if one.post == "port strip.in" for lug in one.lugs]
    assert lug.ready == STRAP
    stacks = tuple(
        stack.model_copy(update={"lugs": (*stack.lugs, lug)}) if stack.post == post else stack
        for stack in plan.stacks
    )
    if post not in {stack.post for stack in plan.stacks}:
        stacks = (*stacks, plan.stacks[0].model_copy(update={"post": post, "lugs": (lug,)}))
    report = check_plan(with_strap(), plan.model_copy(update={"stacks": stacks}))
    rules = {finding.rule for finding in report.findings}
    assert {"bypass", "stack"} <= rules


def test_the_fuse_ahead_is_no_larger_than_what_it_carries() -> None:
    """30 A before a bar of 25 A: no plan, and a bar that carries 30 A is named."""
    brief = with_strap(carries_ma=25_000)
    run = make_plan(brief)
    assert run.plan is None
    told = [str(reason) for reason in run.outcome.reasons]
    assert any("the fuse ahead of it is larger than what it carries" in one for one in told), told
    found = why_no_plan(brief)
    assert "30 A" in str(found)
    stronger = with_strap(carries_ma=30_000)
    assert make_plan(stronger).plan is not None


def test_a_ready_lug_too_thick_for_the_thread_has_no_plan() -> None:
    """14 mm of free thread do not take a bar of 10 mm with nut, washer and the pigtail's lug."""
    assert make_plan(with_strap(thickness_dmm=100)).plan is None
