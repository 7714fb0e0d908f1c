"""What is made once of a plan: the same as if made anew, whichever sheet asks for it first."""

from __future__ import annotations

from support.made_plan import small_plan

from lugwright.outputs.folder import folder_files
from lugwright.outputs.sheets import SHEETS, files_of
from lugwright.outputs.shown import ShownPlan


def test_made_once_and_kept() -> None:
    """Asked again it is the same thing; another showing of the plan makes its own."""
    plan = small_plan()
    one, other = ShownPlan(plan), ShownPlan(plan)
    assert one.rows is one.rows and one.drawn.scene is one.drawn.scene
    assert one.rows is not other.rows and one.rows == other.rows
    assert (one.text, one.digest, one.build_list) == (other.text, other.digest, other.build_list)


def test_sheets_do_not_depend_on_what_was_written_before() -> None:
    """Each sheet alone, of a plan of its own, has the bytes it has among all the others."""
    shown = ShownPlan(small_plan())
    together = folder_files(shown)
    assert folder_files(shown) == together
    backwards = files_of(ShownPlan(small_plan()), SHEETS[::-1])
    assert {name: together[name] for name in backwards} == backwards
    for sheet in SHEETS:
        alone = files_of(ShownPlan(small_plan()), [sheet])
        assert {name: together[name] for name in alone} == alone
