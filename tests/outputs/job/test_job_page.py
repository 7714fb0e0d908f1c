"""The job sheet as a file: valid, whole without script, safe with any name, the same every time."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from jinja2 import UndefinedError
from support.made_plan import small_plan
from support.pages import HOSTILE, body_of, page_of, renamed
from support.plans import plan_of

from lugwright.outputs.pages.render import render_page
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan

ONE_MB = 1_000_000


@pytest.mark.parametrize("name", ["sandbar-skiff", "hub-per-circuit", "hub-out-of-reach"])
def test_the_page_is_strictly_valid_and_holds_every_step(name: str) -> None:
    """The strict parser accepts it; each test's and each cap's sentence is there word for word."""
    plan = plan_of(name)
    text = body_of(page_of(plan))
    told = [step.text for step in plan.steps if step.verb in ("test", "cap", "tie", "boot")]
    assert [words for words in told if " ".join(words.split()) not in text] == []


def test_a_plan_by_hand_makes_a_page() -> None:
    """One with a splice, an extension, a ready-made ring, a fold, a boot and a tie."""
    text = body_of(page_of(small_plan()))
    assert [x.label for x in small_plan().jumpers if x.label not in text] == []


def test_no_two_elements_share_an_id() -> None:
    """Links lead to one place, whatever ids the drawings bring."""
    found = Counter(re.findall(r'\sid="([^"]*)"', page_of(plan_of("sandbar-skiff"))))
    assert [name for name, count in found.items() if count > 1] == []


def test_a_hostile_name_stays_text_everywhere() -> None:
    """In attributes, drawings, script and style; the page is still valid."""
    plan = renamed(plan_of("sandbar-skiff"), "fuel", HOSTILE)
    html = page_of(plan)
    assert html.count("<script") == 1
    assert html.count("</style>") == 1
    assert f"{HOSTILE}.ground" in body_of(html)


def test_a_missing_fact_is_refused() -> None:
    """A template that asks for what is not there fails; it prints no empty place."""
    with pytest.raises(UndefinedError, match="stages"):
        render_page(ShownPlan(small_plan()), Paper(), "job/job.html.j2", {}, sheet="Job sheet")


def test_same_plan_same_bytes() -> None:
    """One plan, one page."""
    plan = plan_of("sandbar-skiff")
    assert page_of(plan) == page_of(plan)


@pytest.mark.slow
def test_24_instruments_stay_under_a_megabyte() -> None:
    """A page that a tablet opens at once."""
    assert len(page_of(plan_of("bridge-24-instruments")).encode()) < ONE_MB
