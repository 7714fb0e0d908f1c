"""The sheet ``rear-view.svg``: what every sheet carries stands on it."""

import pytest
from support import svg_facts
from support.drawn_plans import SIZES, plan_named

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.drawing.rear_view import REAR_VIEW, sheet_files
from lugwright.outputs.paper_size import PAGES_DMM, Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import WaiverUsed


def test_the_sheet_carries_what_every_sheet_carries() -> None:
    """Title, side, cautions, rule set, waivers, digest and page; no torque figure."""
    waiver = WaiverUsed(
        limit="lugs_per_stud", place="fuel.ground", value="4", reason="no <other> way",
        initials="R", date="2026-05-01", origin="boat.toml:9",
    )  # fmt: skip
    plan = plan_named("sandbar-skiff").model_copy(update={"waivers": (waiver,)})
    [(name, data)] = sheet_files(ShownPlan(plan), Paper()).items()
    tree = svg_facts.tree_of(data.decode())
    words = " ".join(svg_facts.words_of(tree))
    assert name == REAR_VIEW
    wanted = [
        plan.title, "SEEN FROM THE BACK", *plan.cautions, plan.rule_set, "lugs_per_stud 4",
        "no <other> way", plan_digest(plan), "Page 1 of 1",
    ]  # fmt: skip
    assert [each for each in wanted if each not in words] == []
    assert "Nm" not in words.split()


@pytest.mark.parametrize("page", sorted(PAGES_DMM))
@pytest.mark.parametrize("name", SIZES)
def test_the_sheet_fits_the_page(name: str, page: str) -> None:
    """Printed from a browser nothing is cut off: at most the page less 10 mm on each side."""
    paper = Paper(page)
    tree = svg_facts.tree_of(sheet_files(ShownPlan(plan_named(name)), paper)[REAR_VIEW].decode())
    wide, high = (float(tree.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    _, _, view_wide, view_high = map(float, tree.get("viewBox", "").split())
    room = (paper.width_dmm / 10 - 20, paper.height_dmm / 10 - 20)
    room = room[::-1] if view_wide > view_high else room
    assert wide <= room[0] + 0.01 and high <= room[1] + 0.01
    assert wide > room[0] - 0.01 or high > room[1] - 0.01
    assert wide / high == pytest.approx(view_wide / view_high, rel=1e-3)
