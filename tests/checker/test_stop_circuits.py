"""What stops an engine: one tree on any of its posts, no hub, and it meets nothing else.

The consoles are random ones in which a key and a kill switch share a stop circuit; stop wires as
engine makers have them (common practice, no source).
"""

from __future__ import annotations

from functools import cache

import pytest
from brute.random_ways import random_way_case
from support.bridged import bridged

from lugwright.checker.run import check_plan
from lugwright.pipeline import make_plan
from lugwright.plans.schema import Plan
from lugwright.scenario.brief import Brief


@cache
def with_stop() -> tuple[Brief, Plan]:
    """The first console drawn whose stop circuit has two posts and that has a plan."""
    for seed in range(7, 200):
        case = random_way_case(seed)
        if "stop" in case.traits and len(case.console.circuit("stop").posts) > 1:
            plan = make_plan(case.brief).plan
            if plan is not None:
                return case.brief, plan
    raise AssertionError("no such console is drawn")


def rules(plan: Plan) -> set[str]:
    """The rules a plan breaks."""
    return {finding.rule for finding in check_plan(with_stop()[0], plan).findings}


def test_its_pigtail_lands_on_any_of_its_posts() -> None:
    """It is no part of what the hub is chosen by, and the plan passes every check."""
    brief, plan = with_stop()
    (row,) = [one for one in plan.landings if one.circuit == "stop"]
    assert row.post in brief.console.circuit("stop").posts
    assert rules(plan) == set()


def test_it_is_one_tree() -> None:
    """A second jumper between its posts closes a ring; one left out leaves an engine running."""
    _, plan = with_stop()
    (own, *_) = [one for one in plan.jumpers if one.circuit == "stop"]
    twice = own.model_copy(update={"label": "stop 9", "number": 9})
    assert "cycle" in rules(plan.model_copy(update={"jumpers": (*plan.jumpers, twice)}))
    less = tuple(one for one in plan.jumpers if one is not own)
    assert "missing post" in rules(plan.model_copy(update={"jumpers": less}))


@pytest.mark.parametrize("side", ["feed", "ground"])
def test_it_meets_nothing_else(side: str) -> None:
    """A jumper from it to any post of a feed or of ground is found."""
    brief, plan = with_stop()
    for post in brief.console.circuit("stop").posts:
        for circuit in brief.console.circuits:
            if circuit.side == side:
                for other in circuit.posts:
                    assert "bypass" in rules(bridged(plan, post, other)), (post, other)
