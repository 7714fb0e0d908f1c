"""Joints drawn one by one: what is read back from a drawing is what the plan says."""

from __future__ import annotations

import re
from math import atan2, degrees

import pytest
from support.joint_svg import SVG, facts, groups, parsed, words
from support.made_plan import CRIMPS, STACKS, ends, lug, small_panel, small_plan, stack

from lugwright.base.scale import mm_text
from lugwright.outputs.drawing.paint import paint_of
from lugwright.outputs.paper.fonts import BOLD, SANS, text_width
from lugwright.outputs.stacks.sketch import SIZE, WIDTH
from lugwright.outputs.stacks.views import JointViews, joint_view, stack_view, tab_view
from lugwright.outputs.wire_facts import wire_facts
from lugwright.plans import schema as p

PLAN = small_plan()
TAB_POSTS = [post.id for post in PLAN.panel.posts if post.kind == "tab"]
MID_AIR = ["join pigtail ignition", "ignition splice 1"]


def wires_of(crimp: p.Crimp) -> list[str]:
    """Wires of a fitting, in the order of its barrels."""
    return [end.wire for barrel in crimp.barrels for end in barrel]


@pytest.mark.parametrize("one", STACKS, ids=lambda one: one.post)
def test_a_stack_read_back_is_the_plans(one: p.Stack) -> None:
    """Nut above, base below; every lug with its crimp, wires, bearing, tongue and colour."""
    drawn = parsed(stack_view(PLAN, one.post))
    crimps = {crimp.number: crimp for crimp in CRIMPS}
    lugs = groups(drawn, "data-lug")
    assert [str(n) for n in range(len(one.lugs), 0, -1)] == facts(drawn, "data-lug")
    for group, put_on in zip(lugs, reversed(one.lugs), strict=True):
        said = " ".join(words(group))
        assert str(put_on.clock) == group.attrib["data-clock"]
        assert f"to {put_on.clock} o'clock" in said
        assert f"tongue {mm_text(put_on.tongue_dmm)} mm" in said
        crimp = crimps.get(put_on.crimp)
        assert (wires_of(crimp) if crimp else [put_on.ready]) == facts(group, "data-wire")
        if crimp:
            assert f"crimp {crimp.number}, {crimp.item}" in said
            assert f"{crimp.colour} barrel, die {crimp.die}" in said
            assert crimp.folded == ("folded back" in said)


@pytest.mark.parametrize("one", STACKS, ids=lambda one: one.post)
def test_thread_nut_and_driver_are_said(one: p.Stack) -> None:
    """Thread used and left, the driver, washer, what the nut does at the bench."""
    said = " ".join(words(parsed(stack_view(PLAN, one.post))))
    left = mm_text(one.free_dmm - one.used_dmm)
    used = f"thread used {mm_text(one.used_dmm)} of {mm_text(one.free_dmm)} mm, left {left} mm"
    assert used in said
    assert f"stud {one.thread}, {one.driver}" in said
    assert ("snug at the bench" in said) == (one.nut_at_bench == "snug")
    assert ("LOOSE at the bench" in said) == (one.nut_at_bench == "loose")
    assert "lock washer" in said
    assert one.boot == ("boot over it all" in said)
    assert bool(one.reserved) == ("room kept for 1 more lug" in said)


def test_the_thread_bar_is_to_scale() -> None:
    """The dark bar is to the light one as thread used is to free thread."""
    one = STACKS[1]
    boxes = list(parsed(stack_view(PLAN, one.post)).iter(f"{SVG}rect"))
    whole, filled = (float(box.attrib["width"]) for box in boxes[-2:])
    assert filled == pytest.approx(whole * one.used_dmm / one.free_dmm, abs=0.06)


def test_every_wire_is_named_sized_and_painted() -> None:
    """Beside each wire stand name, size and colour; its line has the colour's paint."""
    views, known = JointViews(PLAN), wire_facts(PLAN)
    seen = set()
    for joint in [one.post for one in STACKS] + TAB_POSTS + MID_AIR:
        for group in groups(parsed(views.of(joint)), "data-wire"):
            wire = known[group.attrib["data-wire"]]
            seen.add((wire.wire, group.attrib["data-end"]))
            assert f"{group.attrib['data-end']} {wire.size_and_colour}" == " ".join(words(group))
            strokes = {path.attrib["stroke"] for path in group.iter(f"{SVG}path")}
            assert paint_of(wire.colour).fill in strokes
    jumpers = {(piece.label, f"{piece.label}-{end}") for piece in PLAN.jumpers for end in "ab"}
    given = {(wire.wire, wire.wire) for wire in PLAN.given}
    assert jumpers | given == seen


@pytest.mark.parametrize("hour", range(1, 13))
def test_the_ray_of_a_lug_points_to_its_hour(hour: int) -> None:
    """Clockwise from twelve at the top, as a clock face is read: three is on the right."""
    turned = lug(5, "ignition").model_copy(update={"clock": hour})
    plan = small_plan(stacks=(stack("fuel.ignition", turned),))
    drawn = parsed(stack_view(plan, "fuel.ignition"))
    first = next(iter(drawn.iter(f"{SVG}path"))).attrib["d"]
    points = [tuple(map(float, point.split(" "))) for point in re.split("[ML]", first)[1:]]
    (x0, y0), (x1, y1) = points[0], points[-1]
    assert hour % 12 == round(degrees(atan2(x1 - x0, y0 - y1)) / 30) % 12


def test_lug_one_lies_lowest() -> None:
    """The nut is above every tongue, and tongues go down to the base in their order."""
    drawn = parsed(stack_view(PLAN, "depth.ignition"))
    tongues = [
        float(group.find(f"{SVG}rect").attrib["y"])  # type: ignore[union-attr]
        for group in groups(drawn, "data-lug")
    ]
    assert sorted(tongues) == tongues
    assert facts(drawn, "data-lug") == ["2", "1"]


def test_bench_and_aboard_are_told_apart_in_words_and_lines() -> None:
    """What goes on aboard is dashed and says so; what goes on at the bench is neither."""
    above, below = groups(parsed(stack_view(PLAN, "fuel.ground")), "data-lug")
    assert "ABOARD" in " ".join(words(above)) and "bench" in " ".join(words(below))
    dashed = [
        any("stroke-dasharray" in part.attrib for part in lug.iter()) for lug in (above, below)
    ]
    assert dashed == [True, False]


def test_a_bench_lug_above_an_aboard_lug_waits() -> None:
    """It is on at the bench, labelled and loose, and goes above what comes aboard."""
    crossed = stack("fuel.ignition", lug(9, "ground", stage="aboard"), lug(5, "ignition"))
    plan = small_plan(stacks=(crossed,))
    above = groups(parsed(stack_view(plan, "fuel.ignition")), "data-lug")[0]
    assert "bench, labelled: WAITS loose" in " ".join(words(above))


def test_a_nut_that_is_not_on_yet_is_said() -> None:
    """Where nothing is put on at the bench the nut stays in the bag."""
    only = stack("fuel.ground", lug(9, "ground", stage="aboard"))
    said = " ".join(words(parsed(stack_view(small_plan(stacks=(only,), steps=()), only.post))))
    assert "not at the bench: stays in the bag until aboard" in said


def test_a_tab_shows_its_push_on() -> None:
    """Tab size, fitting, and the wires in its barrel."""
    panel = small_panel()
    posts = tuple(
        post.model_copy(update={"tab_size": "6.3 x 0.8" if post.kind == "tab" else ""})
        for post in panel.posts
    )
    plan = small_plan(panel=panel.model_copy(update={"posts": posts}))
    drawn = parsed(tab_view(plan, "fuel.lamp"))
    said = " ".join(words(drawn))
    assert facts(drawn, "data-wire") == ["lamps 2"]
    assert "tab 6.3 x 0.8 mm" in said and "crimp 12, push-on blue" in said
    assert "push on at the bench" in said


def test_a_butt_keeps_its_halves_apart() -> None:
    """The wires of each half of a butt are drawn on its own side."""
    drawn = parsed(joint_view(PLAN, "join pigtail ignition"))
    halves = groups(drawn, "data-barrel")
    assert [facts(half, "data-wire") for half in halves] == [["pigtail ignition"], ["ignition 1"]]


def test_a_splice_says_where_it_is() -> None:
    """Place from the back, tie point, and all wires on one side of a closed end."""
    drawn = parsed(joint_view(PLAN, "ignition splice 1"))
    said = " ".join(words(drawn))
    assert "210.5 mm from the left edge, 90 mm up, 30 mm off the panel, at tie point mid" in said
    assert facts(drawn, "data-wire") == ["ignition 2", "ignition 3", "ignition 4"]


@pytest.mark.parametrize("door", [stack_view, tab_view, joint_view])
def test_no_drawing_of_nothing(door: object) -> None:
    """A joint the plan does not know is refused."""
    with pytest.raises(KeyError):
        door(PLAN, "nowhere.ground")  # type: ignore[operator]


HOSTILE = ("<script>alert('x')</script>", '"=1+1" & <b>', "W" * 200, "bell \x07 and\ttab", "計器")


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_stay_text_inside_the_drawing(name: str) -> None:
    """Any name is escaped in text and attributes, and no line of text leaves the drawing."""
    text = PLAN.model_dump_json().replace("fuel sender: black", "SENDER")
    plan = p.Plan.model_validate_json(text)
    clean = " ".join(name.replace("\x07", " ").split())
    crimps = tuple(
        one.model_copy(update={"barrels": (ends("SENDER"),)}) if one.number == 9 else one
        for one in plan.crimps
    )
    named = p.Plan.model_validate(
        _renamed(plan.model_copy(update={"crimps": crimps}).model_dump(), "SENDER", name)
    )
    drawn = parsed(stack_view(named, "fuel.ground"))
    assert [clean, "ground 1"] == facts(drawn, "data-wire")
    assert clean.replace(" ", "") in "".join(words(drawn)).replace(" ", "")
    assert not list(drawn.iter(f"{SVG}script"))
    for text_line in drawn.iter(f"{SVG}text"):
        bold = text_line.attrib.get("font-weight") == "bold"
        wide = text_width(text_line.text or "", SIZE, BOLD if bold else SANS)
        if text_line.attrib.get("text-anchor") != "middle":
            assert float(text_line.attrib["x"]) + wide <= WIDTH


def _renamed(value: object, old: str, new: str) -> object:
    """The data with one text replaced by another wherever it stands alone."""
    if isinstance(value, dict):
        return {key: _renamed(inner, old, new) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return type(value)(_renamed(inner, old, new) for inner in value)
    return new if value == old else value


def test_same_plan_same_bytes() -> None:
    """Drawings hold no clock and no random name."""
    assert [JointViews(PLAN).of(one.post) for one in STACKS] == [
        stack_view(small_plan(), one.post) for one in STACKS
    ]
