"""The page of all joints: whole, valid, and nobody's name can break it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import html5lib
import pytest
from support.made_plan import small_panel, small_plan

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.stacks.stacks_sheet import FILE, joint_groups, sheet_files
from lugwright.plans.schema import Plan

if TYPE_CHECKING:
    from playwright.sync_api import Browser

PLAN = small_plan()


def page_text(plan: Plan) -> str:
    """The page, which must be valid HTML."""
    page = sheet_files(ShownPlan(plan), Paper())[FILE].decode()
    html5lib.HTMLParser(strict=True).parse(page)
    return page


def test_every_joint_is_drawn_once() -> None:
    """Every stud, tab, splice and butt of the plan, and the other posts by name."""
    page = page_text(PLAN)
    joints = {stack.post for stack in PLAN.stacks} | {crimp.joint for crimp in PLAN.crimps}
    for joint in joints:
        drawn = page.count(f'data-post="{joint}"') + page.count(f'data-joint="{joint}"')
        assert drawn == 1
    groups = list(joint_groups(ShownPlan(PLAN)))
    unwired = {post for group in groups for post in group.unwired}
    assert unwired == {post.id for post in PLAN.panel.posts} - joints
    assert [group.title for group in groups] == [
        "depth (hub)", "fuel", "revs", "Splices and lengthened wires",
    ]  # fmt: skip


def test_the_page_carries_what_every_sheet_carries() -> None:
    """Title, cautions, rule set, digest, side shown."""
    page = page_text(PLAN)
    for said in (PLAN.title, *PLAN.cautions, PLAN.rule_set, plan_digest(PLAN), "from the back"):
        assert said in page


def test_a_post_without_a_wire_is_named() -> None:
    """What stays bare is said, so that nobody looks for its wire."""
    panel = small_panel()
    bare = panel.posts[0].model_copy(update={"id": "depth.signal", "name": "signal"})
    plan = small_plan(panel=panel.model_copy(update={"posts": (*panel.posts, bare)}))
    assert "No wire here: depth.signal." in page_text(plan)


def test_a_hostile_name_stays_text() -> None:
    """A title or an instrument's name is never markup."""
    panel = small_panel()
    bad = '<script>alert("x")</script>'
    one = panel.instruments[0].model_copy(update={"name": bad})
    posts = tuple(
        post.model_copy(update={"instrument": bad}) if post.instrument == "depth" else post
        for post in panel.posts
    )
    dials = (one, *panel.instruments[1:])
    changed = panel.model_copy(update={"instruments": dials, "posts": posts})
    page = page_text(small_plan(panel=changed, title=bad))
    assert bad not in page
    assert "&lt;script&gt;" in page


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.slow)])
def test_the_page_fits_phone_and_tablet(
    chromium: Browser, tmp_path: Path, scheme: Literal["light", "dark"]
) -> None:
    """No sideways scroll at 360 and 768 px, no accessibility finding, by day and by night."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    file = tmp_path / FILE
    file.write_text(page_text(PLAN), encoding="utf-8")
    for width in (360, 768):
        size = {"width": width, "height": 900}
        view = chromium.new_page(viewport=size, color_scheme=scheme)
        view.goto(file.as_uri())
        assert view.evaluate("document.documentElement.scrollWidth") == width
        found = axe.run(view).response["violations"]
        assert [finding["id"] for finding in found] == []
        view.close()


def test_same_plan_same_bytes() -> None:
    """The page holds no clock."""
    assert sheet_files(ShownPlan(PLAN), Paper()) == sheet_files(ShownPlan(small_plan()), Paper())
