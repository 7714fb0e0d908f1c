"""The doors: one joint of a plan as a small inline SVG, to stand in a card or on a sheet."""

from __future__ import annotations

from lugwright.outputs.drawing.svg import Drawing
from lugwright.outputs.stacks.book import book_of
from lugwright.outputs.stacks.mid_air import draw_joint, draw_tab
from lugwright.outputs.stacks.stud import draw_stud
from lugwright.plans.schema import Plan


class JointViews:
    """Drawings of a plan's joints, each made once; the plan is looked through once for all."""

    def __init__(self, plan: Plan) -> None:
        self.book = book_of(plan)
        self._drawn = dict[str, Drawing]()

    def of(self, joint: str) -> Drawing:
        """The drawing of a post, splice or extension butt, whatever it is.

        Raises KeyError when nothing is joined there.
        """
        if joint not in self._drawn:
            self._drawn[joint] = self._draw(joint)
        return self._drawn[joint]

    def _draw(self, joint: str) -> Drawing:
        if joint in self.book.stacks:
            return draw_stud(self.book, joint)
        if joint in self.book.posts and self.book.posts[joint].kind == "tab":
            return draw_tab(self.book, joint)
        return draw_joint(self.book, joint)


def stack_view(plan: Plan, post: str) -> Drawing:
    """One stud in section, base to nut. Raises KeyError when no lug lies on that post."""
    return draw_stud(book_of(plan), post)


def tab_view(plan: Plan, post: str) -> Drawing:
    """A tab with its push-on. Raises KeyError when nothing is pushed on that post."""
    return draw_tab(book_of(plan), post)


def joint_view(plan: Plan, joint: str) -> Drawing:
    """A splice, a lead's joint or an extension butt. Raises KeyError when there is none."""
    return draw_joint(book_of(plan), joint)
