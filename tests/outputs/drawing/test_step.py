"""The small drawings: of a step, of a plan beside others, of a panel not planned yet."""

from __future__ import annotations

import pytest
from support import svg_facts
from support.drawn_plans import NAMES, SIZES, plan_named

from lugwright.outputs.drawing.blank import blank_view
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

MOST_STEP_BYTES, MOST_SMALL_BYTES = 7_000, 20_000


def _crimps(plan: Plan) -> list[tuple[tuple[str, ...], str]]:
    """What the steps of a plan are about: the wires of every crimp, and its joint."""
    return [
        (tuple(end.wire for barrel in crimp.barrels for end in barrel), crimp.joint)
        for crimp in plan.crimps
    ]


@pytest.mark.parametrize("name", NAMES)
def test_a_step_shows_its_wires_and_joint_and_no_others(name: str) -> None:
    """Every crimp of a plan: the wires it holds, the joint it goes to, small."""
    plan = plan_named(name)
    for wires, joint in _crimps(plan):
        svg = ShownPlan(plan).drawn.step(wires=wires, joints=[joint]).file()
        tree = svg_facts.tree_of(svg)
        shown = {each.get("data-wire") for each in tree.iter()} - {None}
        assert shown == set(wires)
        assert joint in svg_facts.post_places(tree) | svg_facts.joint_places(tree)
        assert len(svg.encode()) <= MOST_STEP_BYTES


def test_a_step_refuses_what_the_plan_has_not() -> None:
    """A wire or joint that is not there is an error, not an empty drawing."""
    plan = plan_named("sandbar-skiff")
    with pytest.raises(KeyError, match="ground 99"):
        ShownPlan(plan).drawn.step(wires=["ground 99"]).file()
    with pytest.raises(KeyError, match=r"fuel\.nowhere"):
        ShownPlan(plan).drawn.step(joints=["fuel.nowhere"]).file()


def test_an_unused_pigtail_can_be_shown() -> None:
    """What is capped off has no path; its entry is shown."""
    drawn = ShownPlan(plan_named("sandbar-skiff")).drawn
    tree = svg_facts.tree_of(drawn.step(wires=["pigtail tachometer"]).file())
    assert [each.get("data-entry") for each in tree.iter() if each.get("data-entry")] == [
        "pigtail tachometer"
    ]


@pytest.mark.parametrize("name", NAMES)
def test_a_small_view_has_every_jumper_and_stays_small(name: str) -> None:
    """For hubs side by side: all wires, the hub in words, at most 20 kB."""
    plan = plan_named(name)
    svg = ShownPlan(plan).drawn.small.file()
    tree = svg_facts.tree_of(svg)
    shown = {each.get("data-wire") for each in tree.iter()}
    assert {jumper.label for jumper in plan.jumpers} <= shown
    assert "HUB" in svg_facts.words_of(tree)
    assert len(svg.encode()) <= MOST_SMALL_BYTES


@pytest.mark.parametrize("name", [*SIZES, "six-dial-console"])
def test_a_blank_view_names_every_post_and_has_no_wire(name: str) -> None:
    """Before planning: every id with its function, nothing else."""
    plan = plan_named(name)
    tree = svg_facts.tree_of(blank_view(plan.panel, plan.title).file())
    words = " ".join(svg_facts.words_of(tree))
    assert [post.id for post in plan.panel.posts if post.id not in words] == []
    assert not any(each.get("data-wire") for each in tree.iter())
