"""Holding jumpers, posts and sizes where ways supply circuits."""

from __future__ import annotations

import pytest
from support.explaining import question_of
from support.plans import SCENARIOS, run_of

from lugwright.base.errors import BadInput
from lugwright.pipeline import holding, make_plan, read_inputs
from lugwright.studies.why_not import why_not
from lugwright.studies.words import why_lines

NAME = "key-fuses-dimmer"


@pytest.mark.parametrize(
    ("what", "text", "said"),
    [
        ("last", "fuses.f1", "its one jumper to the landing post leaves it"),
        ("last", "key.ign", "its one jumper to the landing post leaves it"),
        ("size", "start: 14 AWG", "key.crank is its only post"),
        ("jumper", "key.ign > fuses.f1", "one is switched, the other ignition"),
        ("jumper", "key.bat > key.ign", "one is battery, the other switched"),
    ],
)
def test_what_cannot_be_held_at_a_way_is_said(what: str, text: str, said: str) -> None:
    """No jumper leaves one side of a way for the other, and the far post has its one jumper."""
    with pytest.raises(BadInput) as caught:
        question_of(NAME, holds=((what, text),))
    assert said in str(caught.value)


def test_a_held_jumper_from_a_far_post_is_the_one() -> None:
    """Held from fuses.f1 to the fuel dial, ignition lands there; it costs 31.5 mm more."""
    inputs = read_inputs(SCENARIOS / f"{NAME}.toml")
    brief = holding(inputs, (("jumper", "fuses.f1>fuel.ignition"),))
    plan = make_plan(brief).plan
    assert plan is not None
    leaving = [j for j in plan.jumpers if "fuses.f1" in (j.from_joint, j.to_joint)]
    assert [(j.from_joint, j.to_joint) for j in leaving] == [("fuses.f1", "fuel.ignition")]
    free = run_of(NAME).plan
    assert free is not None
    assert plan.proof.cost[0] > free.proof.cost[0]


def test_a_far_post_alone_may_be_last() -> None:
    """No jumper leaves key.crank in any case."""
    held = question_of(NAME, holds=(("last", "key.crank"),)).holds
    assert held.told == ("last key.crank",)


def test_a_hub_is_not_said_to_lack_posts_that_it_needs_not() -> None:
    """Beside ways, battery and stop land elsewhere than on the hub; no word blames their lack."""
    why = why_not(question_of(NAME, holds=(("hub", "fuses"),)))
    said = "\n".join(why_lines(why))
    assert "fuses may not be the hub: no plan has it as hub" in said
    assert "no stud or tab for battery" not in said
