"""The rear view says what each device may be set to."""

from __future__ import annotations

from support.plans import plan_of

from lugwright.outputs.drawing.panel import drawn_panel, panel_view, positions_told
from lugwright.outputs.drawing.scene import scene_of


def test_every_device_with_its_position_at_rest() -> None:
    """The key of the day boat with its lanyard, and the light switch; dials have no positions."""
    plan = plan_of("day-boat")
    told = positions_told(plan.panel)
    assert told == [
        "key: off, on, start; at rest off; lanyard in or out",
        "light: off, on; at rest off",
    ]
    svg = panel_view(plan, *drawn_panel(scene_of(plan))).file()
    assert all(words in svg for words in told)
