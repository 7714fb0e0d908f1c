"""What a plan says of each joint, found once for many drawings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from lugwright.outputs.rows_bench import StudRow, stud_rows
from lugwright.outputs.stacks.barrel import WireEnd
from lugwright.outputs.wire_facts import WireFacts, wire_facts
from lugwright.outputs.words import cut_labels, end_text
from lugwright.plans.panel import PanelPost, PanelStrap
from lugwright.plans.schema import Crimp, EndRef, Plan, Splice, Stack, StackedLug
from lugwright.trade.names import strap_name


@dataclass(frozen=True)
class Book:
    """A plan looked up by post, joint, crimp and wire."""

    plan: Plan
    posts: dict[str, PanelPost]
    stacks: dict[str, Stack]
    studs: dict[str, StudRow]
    crimps: dict[int, Crimp]
    splices: dict[str, Splice]
    wires: dict[str, WireFacts]
    cut: frozenset[str]
    at_joint: dict[str, tuple[Crimp, ...]] = field(default_factory=dict)

    def ends(self, barrel: Iterable[EndRef]) -> tuple[WireEnd, ...]:
        """The wire ends of a barrel. Raises KeyError for a wire the plan does not know."""
        return tuple(WireEnd(end_text(end, self.cut), self.wires[end.wire]) for end in barrel)

    def strap(self, lug: StackedLug) -> PanelStrap | None:
        """The strap a lug is of; None for any other."""
        return next((s for s in self.plan.panel.straps if strap_name(s.name) == lug.ready), None)

    def lug_ends(self, lug: StackedLug) -> tuple[WireEnd, ...]:
        """The wire ends of a lug on a stud; a ready-made ring has the one wire it came on."""
        if not lug.crimp:
            return (WireEnd(lug.ready, self.wires[lug.ready]),)
        return self.ends(end for barrel in self.crimps[lug.crimp].barrels for end in barrel)


def book_of(plan: Plan) -> Book:
    """The plan made ready to be looked up."""
    at_joint: dict[str, tuple[Crimp, ...]] = {}
    for crimp in plan.crimps:
        at_joint[crimp.joint] = (*at_joint.get(crimp.joint, ()), crimp)
    return Book(
        plan=plan,
        posts={post.id: post for post in plan.panel.posts},
        stacks={stack.post: stack for stack in plan.stacks},
        studs={row.post: row for row in stud_rows(plan)},
        crimps={crimp.number: crimp for crimp in plan.crimps},
        splices={splice.label: splice for splice in plan.splices},
        wires=wire_facts(plan),
        cut=cut_labels(plan),
        at_joint=at_joint,
    )


def crimp_title(crimp: Crimp) -> str:
    """A fitting as the crimp list calls it: ``crimp 6, captive spade blue``."""
    return f"crimp {crimp.number}, {crimp.item}"


def crimp_words(crimp: Crimp) -> str:
    """How to make it: barrel colour, die, whether the lone wire is folded back."""
    folded = ", lone wire folded back" if crimp.folded else ""
    return f"{crimp.colour} barrel, die {crimp.die}{folded}"
