"""The sheet ``rear-view.svg``: what every sheet carries stands on it."""

from unit.drawing import svg_facts
from unit.drawing.drawn_plans import plan_named

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.drawing.rear_view import REAR_VIEW, sheet_files
from lugwright.outputs.paper_size import Paper
from lugwright.plan.schema import WaiverUsed


def test_the_sheet_carries_what_every_sheet_carries() -> None:
    """Title, side, cautions, rule set, waivers, digest and page; no torque figure."""
    waiver = WaiverUsed(
        limit="lugs_per_stud", place="fuel.ground", value="4", reason="no <other> way",
        initials="R", date="2026-05-01", origin="boat.toml:9",
    )  # fmt: skip
    plan = plan_named("sandbar-skiff").model_copy(update={"waivers": (waiver,)})
    [(name, data)] = sheet_files(plan, Paper()).items()
    tree = svg_facts.tree_of(data.decode())
    words = " ".join(svg_facts.words_of(tree))
    assert name == REAR_VIEW
    wanted = [
        plan.title, "SEEN FROM THE BACK", *plan.cautions, plan.practice, "lugs_per_stud 4",
        "no <other> way", plan_digest(plan), "Page 1 of 1",
    ]  # fmt: skip
    assert [each for each in wanted if each not in words] == []
    assert "Nm" not in words.split()


def test_the_sheet_is_in_millimetres_at_the_plate_s_own_size() -> None:
    """Its stated size equals its view in mm, so that a reader's ruler agrees (SVG 2, 8.2)."""
    plan = plan_named("sandbar-skiff")
    tree = svg_facts.tree_of(sheet_files(plan, Paper())[REAR_VIEW].decode())
    _, _, wide, high = map(float, tree.get("viewBox", "").split())
    assert (f"{wide:g}mm", f"{high:g}mm") == (tree.get("width"), tree.get("height"))
    assert wide > plan.panel.width_dmm / 10
