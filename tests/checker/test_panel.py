"""The panel a plan repeats is judged fact by fact against the console."""

from __future__ import annotations

from typing import Any

import pytest
from support.wired_by_hand import hand_console, hand_limits, hand_plan, hand_stock

from lugwright.checker.run import check_plan
from lugwright.plans.panel import Panel, PanelHole, PanelMount
from lugwright.scenario.brief import Brief

HOLE = PanelHole(x_dmm=100, y_dmm=200, diameter_dmm=50)

LISTS = (
    "instruments", "posts", "entries", "circuits", "loads", "boat_blocks",
)  # fmt: skip


def judged(panel: Panel) -> list[str]:
    """The places of the findings on the hand plan with that panel."""
    plan = hand_plan().model_copy(update={"panel": panel})
    report = check_plan(Brief(hand_console(), hand_limits(), hand_stock()), plan)
    assert {finding.rule for finding in report.findings} <= {"panel"}
    return [finding.place for finding in report.findings]


def test_the_right_panel_passes() -> None:
    """The panel worked up from the console is the console's."""
    assert judged(hand_plan().panel) == []


def other(value: Any) -> Any:
    """Some other value of the same kind."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    if isinstance(value, PanelMount):
        return value.model_copy(update={"bezel_width_dmm": value.bezel_width_dmm + 1})
    if isinstance(value, tuple):
        return (*value, "elsewhere")
    words = {"stud": "tab", "tab": "stud", "lead": "stud", "feed": "ground", "ground": "feed"}
    return words.get(value, {"bench": "aboard", "aboard": "bench"}.get(value, f"{value}x"))


@pytest.mark.parametrize("part", LISTS)
def test_every_fact_of_a_row_is_judged(part: str) -> None:
    """Whatever fact of a row is changed is found at that row; a code, at its colour's."""
    panel = hand_plan().panel
    rows = getattr(panel, part)
    first = rows[0]
    for field in type(first).model_fields:
        if field.endswith("colour_code"):
            continue  # a circuit may state its own; judged where it does not
        row = first.model_copy(update={field: other(getattr(first, field))})
        assert judged(panel.model_copy(update={part: (row, *rows[1:])})), (part, field)


@pytest.mark.parametrize("part", LISTS)
def test_a_row_left_out_is_found(part: str) -> None:
    """A panel without one of its rows is not the console's."""
    panel = hand_plan().panel
    assert judged(panel.model_copy(update={part: getattr(panel, part)[1:]}))


def test_every_number_of_the_plate_is_judged() -> None:
    """Width, height, thickness, voltage and the limits repeated, the largest 1:1 side too."""
    panel = hand_plan().panel
    numbers = [name for name, kind in Panel.model_fields.items() if kind.annotation is int]
    assert len(numbers) == 9
    for name in numbers:
        assert judged(panel.model_copy(update={name: getattr(panel, name) + 1})), name


def test_a_mirrored_panel_is_found() -> None:
    """A panel drawn from the front has its posts elsewhere."""
    panel = hand_plan().panel
    posts = tuple(
        post.model_copy(update={"x_dmm": panel.width_dmm - post.x_dmm}) for post in panel.posts
    )
    assert set(judged(panel.model_copy(update={"posts": posts}))) == {
        post.id for post in panel.posts if 2 * post.x_dmm != panel.width_dmm
    }


@pytest.mark.parametrize("field", sorted(PanelMount.model_fields))
def test_every_fact_of_a_mount_is_judged(field: str) -> None:
    """Sides, corners, rim, turn, screws, from which side: each is found at its instrument."""
    panel = hand_plan().panel
    first, *rest = panel.instruments
    value = (HOLE,) if field == "screws" else other(getattr(first.mount, field))
    changed = first.model_copy(update={"mount": first.mount.model_copy(update={field: value})})
    assert judged(panel.model_copy(update={"instruments": (changed, *rest)})) == [first.name]


def test_a_hole_that_the_plate_does_not_have_is_found() -> None:
    """A hole made up, in the plate itself."""
    panel = hand_plan().panel
    assert judged(panel.model_copy(update={"holes": (HOLE,)})) == ["plate"]
