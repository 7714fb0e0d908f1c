"""The second opinion's own word on thin wires: the demo's plan, its leads said otherwise."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from support.plans import SCENARIOS, plan_of

from lugwright.checker.run import check_plan
from lugwright.pipeline import read_inputs


def found(post_id: str, **says: Any) -> set[tuple[str, str]]:
    """Rule and place of what it finds where a lead says so; its panel and texts left aside."""
    brief = read_inputs(SCENARIOS / "thin-leads.toml")
    posts = tuple(
        replace(post, lead=replace(post.lead, **says)) if post.lead and post.id == post_id else post
        for post in brief.console.posts
    )
    told = replace(brief, console=replace(brief.console, posts=posts))
    report = check_plan(told, plan_of("thin-leads"))
    return {(one.rule, one.place) for one in report.findings if one.rule in ("ampacity", "fuse")}


@pytest.mark.parametrize("post", ["trim.feed", "trim.ground"])
def test_more_than_it_carries(post: str) -> None:
    """The display draws 0.2 A."""
    assert found(post, carries_ma=200) == set()
    assert ("ampacity", f"lead {post}") in found(post, carries_ma=199)


def test_no_row_and_nothing_said() -> None:
    """Neither an exemption nor a limit stands in for the row that is not there."""
    for says in ({"exempt": ""}, {"carries_ma": 0}):
        assert ("ampacity", "lead trim.feed") in found("trim.feed", **says)


def test_a_fuse_larger_than_its_maker_allows() -> None:
    """5 A: up to 5 A by its maker; without his word one and a half times 2 A at most."""
    for up_to_ma in (4999, 0):
        assert found("trim.feed", fuse_up_to_ma=up_to_ma) == {("fuse", "fuse of ignition")}
    assert found("trim.ground", fuse_up_to_ma=1) == set()
