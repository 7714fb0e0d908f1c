"""The page ``stacks.html``: every joint of the plan, instrument by instrument."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from lugwright.outputs.looks import Picture
from lugwright.outputs.pages.render import render_page
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan

FILE = "stacks.html"


@dataclass(frozen=True)
class JointGroup:
    """Drawings that stand together under a heading; ``unwired`` names posts without a wire."""

    title: str
    drawings: tuple[Picture, ...]
    unwired: tuple[str, ...] = ()


def sheet_files(shown: ShownPlan, paper: Paper) -> dict[str, bytes]:
    """The page as a file."""
    facts = {"groups": tuple(joint_groups(shown))}
    page = render_page(
        shown,
        paper,
        "stacks/stacks.html.j2",
        facts,
        sheet="Stacks and joints",
        side="seen from the back",
    )
    return {FILE: page.encode()}


def joint_groups(shown: ShownPlan) -> Iterator[JointGroup]:
    """Posts by instrument, in the order of their names; then what hangs in mid-air."""
    plan, views = shown.plan, shown.drawn.joints
    joined = views.book.stacks.keys() | views.book.at_joint.keys()
    hubs = plan.hub.split(", ")
    for one in plan.panel.instruments:
        posts = [post.id for post in plan.panel.posts if post.instrument == one.name]
        drawn = tuple(views.of(post) for post in posts if post in joined)
        unwired = tuple(post for post in posts if post not in joined)
        if posts:
            hub = " (hub)" if one.name in hubs else ""
            yield JointGroup(f"{one.name}{hub}", drawn, unwired)
    in_air = [joint for joint in views.book.at_joint if joint not in views.book.posts]
    if in_air:
        yield JointGroup("Splices and lengthened wires", tuple(map(views.of, in_air)))
