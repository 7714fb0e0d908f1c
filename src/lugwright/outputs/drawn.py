"""A plan laid out and drawn: what several drawings and several sheets share, made once."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from lugwright.outputs.drawing.frame import Box
from lugwright.outputs.drawing.panel import drawn_panel, panel_view
from lugwright.outputs.drawing.pen import Pen
from lugwright.outputs.drawing.scene import Scene, scene_of
from lugwright.outputs.drawing.small import small_view
from lugwright.outputs.drawing.step import step_view
from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.stacks.views import JointViews
from lugwright.plans.schema import Plan


class DrawnPlan:
    """The drawings of one plan, each made when first asked for and then kept."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    @cached_property
    def scene(self) -> Scene:
        """Every joint, entry and wire with its place."""
        return scene_of(self.plan)

    @cached_property
    def joints(self) -> JointViews:
        """A drawing of each stud, tab and joint in mid-air."""
        return JointViews(self.plan)

    @cached_property
    def view(self) -> Drawing:
        """The full rear view."""
        return panel_view(self.plan, *self._panel)

    def panel(self) -> tuple[Pen, Box]:
        """The rear view, to draw on, and the box it fills."""
        pen, view = self._panel
        return pen.again(), view

    @cached_property
    def small(self) -> Drawing:
        """The rear view small, for setting plans side by side."""
        return small_view(self.scene)

    def step(self, wires: Sequence[str] = (), joints: Sequence[str] = ()) -> Drawing:
        """A small drawing of those wires and joints."""
        return step_view(self.scene, wires=wires, joints=joints)

    @cached_property
    def _panel(self) -> tuple[Pen, Box]:
        return drawn_panel(self.scene)
