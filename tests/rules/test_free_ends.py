"""Leads with a length: the plan is that of the best of all stated ends. Rule R36."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from lugwright.base.errors import BadInput
from lugwright.base.toml import parse_toml
from lugwright.checker.run import check_plan
from lugwright.pipeline import Run, make_plan, pose, printed_findings, read_inputs
from lugwright.plans.schema import Plan
from lugwright.routes.free_ends import ends_in_reach
from lugwright.scenario.brief import Brief
from lugwright.scenario.load import load_toml

FILE = Path(__file__).parents[2] / "scenarios/leads-by-length.toml"
TEXT = FILE.read_text(encoding="utf-8")
ONE = "clock.ground"


def saying(brief: Brief, **changes: Any) -> Brief:
    """The brief with the leads named (dots as two underlines) changed."""
    posts = tuple(
        replace(post, **changes[name]) if (name := post.id.replace(".", "__")) in changes else post
        for post in brief.console.posts
    )
    return replace(brief, console=replace(brief.console, posts=posts))


@cache
def one_free() -> tuple[Brief, Run]:
    """All leads end where they leave, but one of 260 mm that is free; and its plan."""
    brief = read_inputs(FILE)
    stated = {
        post.id.replace(".", "__"): {"lead_length_dmm": 0}
        for post in brief.console.posts
        if post.lead_length_dmm and post.id != ONE
    }
    brief = saying(brief, **stated, clock__ground={"lead_length_dmm": 2_600})
    return brief, make_plan(brief)


def plan_of(run: Run) -> Plan:
    """The plan there is."""
    assert run.plan is not None
    return run.plan


def test_it_costs_what_the_best_stated_end_costs() -> None:
    """Each candidate in reach stated as the lead's end in its turn: none is cheaper."""
    brief, run = one_free()
    _, routes = pose(brief)
    places = ends_in_reach(brief.console.post(ONE), brief.limits, routes)
    assert len(places) > 1
    costs = []
    for place in places:
        stated = saying(brief, clock__ground={"lead_length_dmm": 0, "at": place.at})
        costs.append(plan_of(make_plan(stated)).proof.cost)
    assert plan_of(run).proof.cost == min(costs)
    assert len(set(costs)) > 1


def test_its_end_is_told_and_made_again() -> None:
    """The panel has the chosen place, its step says so, and the plan follows from its decisions."""
    brief, run = one_free()
    plan = plan_of(run)
    row = next(post for post in plan.panel.posts if post.id == ONE)
    post = brief.console.post(ONE)
    assert (row.x_dmm, row.y_dmm) != (post.at.x_dmm, post.at.y_dmm)
    told = [step.text for step in plan.steps if f"lead {ONE}" in step.text]
    assert any(f"bring its end to {row.x_dmm / 10:g} mm from left" in text for text in told)
    assert [str(finding) for finding in check_plan(brief, plan).findings] == []
    assert [str(finding) for finding in printed_findings(brief, plan)[0]] == []


def test_an_end_out_of_reach_is_found() -> None:
    """A lead that is shorter than the plan has it: the checker finds it."""
    brief, run = one_free()
    shorter = saying(brief, clock__ground={"lead_length_dmm": 500})
    report = check_plan(shorter, plan_of(run))
    assert any("its end is out of reach" in str(finding) for finding in report.findings)


def test_a_lead_with_nowhere_to_go_has_no_plan() -> None:
    """Shorter than the 15 mm of one re-termination: told with its length."""
    brief, _ = one_free()
    run = make_plan(saying(brief, clock__ground={"lead_length_dmm": 140}))
    assert run.plan is None
    told = [reason for reason in run.outcome.reasons if reason.place == ONE]
    assert [(reason.rule, reason.measured) for reason in told] == [("reach", "14 mm")]


BULB = (
    ', { name = "lamp", feed = "lamp", ground = "ground", current = "0.1 A", '
    'drop_class = "other", load_kind = "bulb" }'
)
SENDER = (
    '{ role = "signal", lands_on = "beat", sender = "pulse", colour = "gray", '
    'wire_size = "16 AWG", reach = "600 mm" },'
)
REFUSED = {
    "over a loom": (
        "[[harness]]",
        '[[tie_point]]\nname = "middle"\nat = ["215 mm", "30 mm"]\n\n[[harness]]',
        "how many wires lie in each leg of the loom",
    ),
    "on a signal circuit": (
        'function = "lamp", at = ["8 mm", "-22 mm"]',
        'function = "signal", at = ["8 mm", "-22 mm"]',
        "on a signal circuit a wire from outside may land on it",
    ),
}


@pytest.mark.parametrize("kind", REFUSED)
def test_where_its_end_has_to_be_stated(kind: str) -> None:
    """Refused at its place; followed (the length left out, its place its end), it is accepted."""
    old, new, words = REFUSED[kind]
    text = TEXT.replace(old, new, 1)
    if "signal" in kind:
        text = text.replace('name = "clock"', 'name = "clock"\nfeeds = { lamp = "beat" }')
        text = text.replace(BULB, "").replace("pigtails = [", f"pigtails = [\n  {SENDER}", 1)
    with pytest.raises(BadInput) as caught:
        load_toml(parse_toml(text.encode(), FILE.name))
    told = [one for one in caught.value.complaints if one.field.endswith("length")]
    assert told == list(caught.value.complaints)
    assert all(words in one.message and "leave length out" in one.hint for one in told)
    for length in ("160 mm", "200 mm"):
        text = text.replace(f', length = "{length}"', "")
    assert load_toml(parse_toml(text.encode(), FILE.name)).console.posts


def test_a_hold_on_it_is_refused() -> None:
    """A jumper held to a lead whose end is not known beforehand."""
    text = TEXT + '\n[[hold]]\njumper = "fuel.ground > clock.ground"\n'
    with pytest.raises(BadInput, match="chosen with the plan"):
        read_inputs(parse_toml(text.encode(), FILE.name))
