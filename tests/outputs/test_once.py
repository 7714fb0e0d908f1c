"""What is made once a plan: for that plan only, and the same as if made anew."""

from __future__ import annotations

from support.made_plan import small_plan

from lugwright.outputs.folder import folder_files
from lugwright.outputs.once import once_a_plan
from lugwright.outputs.sheets import SHEETS, files_of
from lugwright.plans.schema import Plan


def test_made_once_for_one_plan() -> None:
    """Asked again about the same plan it is the same thing; an equal plan is another plan."""
    made: list[str] = []

    @once_a_plan
    def title(plan: Plan) -> list[str]:
        made.append(plan.title)
        return [plan.title]

    one, other = small_plan(), small_plan()
    assert title(one) is title(one) and len(made) == 1
    assert title(other) == title(one) and len(made) == 3


def test_sheets_do_not_depend_on_what_was_written_before() -> None:
    """Each sheet alone, of a plan of its own, has the bytes it has among all the others."""
    together = folder_files(small_plan())
    backwards = files_of(small_plan(), SHEETS[::-1])
    assert {name: together[name] for name in backwards} == backwards
    for sheet in SHEETS:
        alone = files_of(small_plan(), [sheet])
        assert {name: together[name] for name in alone} == alone
