"""The rear view, read back as a stranger would: it says what the plan says."""

from __future__ import annotations

import json
from itertools import combinations

import pytest
from support import svg_facts
from support.drawn_plans import NAMES, SIZES, plan_named
from support.made_plan import small_plan

from lugwright.outputs.drawing.blank import blank_view
from lugwright.outputs.drawing.frame import frame_of
from lugwright.outputs.drawing.passing_posts import LANE
from lugwright.outputs.drawing.small import small_blank
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

NEAR_MM = 0.011  # places are written to 0.01 mm


def _facts(plan: Plan, svg: str) -> list[str]:
    """Everything in which a drawing differs from its plan."""
    tree, high, wrong = svg_facts.tree_of(svg), plan.panel.height_dmm / 10, []
    posts = svg_facts.post_places(tree)
    for post in plan.panel.posts:
        expected = (post.x_dmm / 10, high - post.y_dmm / 10)
        if not _same(expected, posts.get(post.id)):
            wrong.append(f"{post.id} at {posts.get(post.id)}, not {expected}")
    places = posts | svg_facts.joint_places(tree)
    lines = {line.wire: line for line in svg_facts.wire_lines(tree)}
    for jumper in plan.jumpers:
        line = lines.pop(jumper.label, None)
        if line is None:
            wrong.append(f"{jumper.label} is missing")
            continue
        ends = (places[jumper.from_joint], places[jumper.to_joint])
        if not (_same(line.points[0], ends[0]) and _same(line.points[-1], ends[1])):
            wrong.append(f"{jumper.label} runs {line.points[0]} to {line.points[-1]}, not {ends}")
        if line.length_dmm != jumper.length_dmm:
            wrong.append(f"{jumper.label} is {line.length_dmm}, not {jumper.length_dmm}")
    return [*wrong, *lines]


def _same(a: svg_facts.Point, b: svg_facts.Point | None) -> bool:
    return b is not None and abs(a[0] - b[0]) <= NEAR_MM and abs(a[1] - b[1]) <= NEAR_MM


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_says_what_the_plan_says(name: str) -> None:
    """Posts stand at their places, every jumper ends on its two joints, lengths agree."""
    plan = plan_named(name)
    assert _facts(plan, ShownPlan(plan).drawn.view.file()) == []


def test_a_mirrored_panel_is_caught() -> None:
    """The comparison is worth something: with x mirrored every post is elsewhere."""
    plan = plan_named("sandbar-skiff")
    wide = plan.panel.width_dmm
    posts = [post.model_copy(update={"x_dmm": wide - post.x_dmm}) for post in plan.panel.posts]
    panel = plan.panel.model_copy(update={"posts": tuple(posts)})
    mirrored = plan.model_copy(update={"panel": panel})
    moved = sum(2 * post.x_dmm != wide for post in plan.panel.posts)
    assert moved > 10
    drawn = ShownPlan(mirrored).drawn.view.file()
    assert sum(" at " in each for each in _facts(plan, drawn)) == moved


def test_the_side_is_said_and_the_black_corner_is_lower_right() -> None:
    """Lower left seen from the front is lower right from the back; the words say back."""
    plan = plan_named("sandbar-skiff")
    tree = svg_facts.tree_of(ShownPlan(plan).drawn.view.file())
    x, y = svg_facts.mark_centre(tree)
    assert x > plan.panel.width_dmm / 10 * 0.9
    assert y > plan.panel.height_dmm / 10 * 0.9
    assert "SEEN FROM THE BACK" in svg_facts.words_of(tree)


@pytest.mark.parametrize("name", NAMES)
def test_every_wire_says_its_label_and_colour_code(name: str) -> None:
    """Colour is never the only carrier: every wire has a tag in words."""
    plan = plan_named(name)
    words = svg_facts.words_of(svg_facts.tree_of(ShownPlan(plan).drawn.view.file()))
    tags = [f"{jumper.label} {jumper.colour_code}" for jumper in plan.jumpers]
    tags += [f"{wire.wire} {wire.colour_code}" for wire in plan.given]
    assert [tag for tag in tags if tag not in words] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_post_says_its_name(name: str) -> None:
    """As many words begin with a post's name as there are posts of that name, at least."""
    plan = plan_named(name)
    tree = svg_facts.tree_of(ShownPlan(plan).drawn.view.file())
    said = {box.label for box in svg_facts.label_boxes(tree)} | _in_details(tree)
    assert [p.id for p in plan.panel.posts if f"post {p.id}" not in said] == []


def _in_details(tree: svg_facts.ET.Element) -> set[str]:
    return {each.get("data-label", "") for each in tree.iter()}


@pytest.mark.parametrize("name", [*SIZES, "six-dial-console"])
def test_no_two_labels_overlap(name: str) -> None:
    """At 4, 12 and 24 instruments, and in a loom with splices."""
    boxes = svg_facts.label_boxes(svg_facts.tree_of(ShownPlan(plan_named(name)).drawn.view.file()))
    assert len(boxes) > 20
    clashes = [(a.label, b.label) for a, b in combinations(boxes, 2) if a.overlap_mm(b) > NEAR_MM]
    assert clashes == []


@pytest.mark.parametrize("name", [*SIZES, "six-dial-console"])
def test_wires_that_share_a_way_lie_side_by_side(name: str) -> None:
    """No two wires run along each other nearer than half a lane, but where they end or are tied."""
    plan = plan_named(name)
    unit = frame_of(plan.panel).unit_mm
    lines = svg_facts.wire_lines(svg_facts.tree_of(ShownPlan(plan).drawn.view.file()))
    frame = frame_of(plan.panel)
    ties = [frame.at(tie.x_dmm, tie.y_dmm) for tie in plan.panel.tie_points]
    near = [
        (a.wire, b.wire)
        for a, b in combinations(lines, 2)
        if svg_facts.nearest_parallel_mm(a, b, 6 * unit, ties) < LANE * unit * 0.45
    ]
    assert near == []


NASTY = "<script>alert(1)</script> \"' & =1+1\x1b[2J" + "x" * 200


def _hostile() -> Plan:
    """The skiff with an instrument of that name, wherever the name stands."""
    text = plan_named("sandbar-skiff").model_dump_json()
    return Plan.model_validate_json(text.replace('"volts', json.dumps(NASTY)[:-1]))


def test_hostile_words_are_escaped() -> None:
    """Names that would be markup, attributes or control characters are text in every drawing."""
    plan = _hostile()
    joint = next(stack.post for stack in plan.stacks if stack.post.startswith("<script>"))
    for svg in (
        ShownPlan(plan).drawn.view.file(),
        ShownPlan(plan).drawn.small.file(),
        small_blank(plan.panel, NASTY, NASTY).file(),
        blank_view(plan.panel, NASTY).file(),
        ShownPlan(plan).drawn.step(joints=[joint]).file(),
    ):
        tree = svg_facts.tree_of(svg)
        assert not [each for each in tree.iter() if each.tag.endswith("script")]
        assert "\x1b" not in svg
        assert any("<script>" in (each.text or "") for each in tree.iter())
    tree = svg_facts.tree_of(ShownPlan(plan).drawn.view.file())
    names = [each.get("data-post", "") for each in tree.iter()]
    assert any(name.startswith("<script>") for name in names)


def test_the_small_plan_with_one_of_everything_is_drawn() -> None:
    """Paths of a single corner, a splice, an extension, a keep-out: nothing is refused."""
    tree = svg_facts.tree_of(ShownPlan(small_plan()).drawn.view.file())
    assert {"ignition splice 1", "join pigtail ignition"} == set(svg_facts.joint_places(tree))


@pytest.mark.parametrize("name", ["sandbar-skiff", "six-dial-console"])
def test_same_plan_same_bytes(name: str) -> None:
    """Drawn again from a plan read again, not one byte differs."""
    plan = plan_named(name)
    again = Plan.model_validate_json(plan.model_dump_json())
    assert ShownPlan(plan).drawn.view.file() == ShownPlan(again).drawn.view.file()
