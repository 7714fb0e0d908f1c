"""The bare decisions of a plan, read back off it: hub, trees, sizes, fittings, numbers."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping

from lugwright.assemble.part_numbers import PartNumbers
from lugwright.base.identity import JointId, WireId
from lugwright.plans.choice import (
    Choice,
    ChosenExtension,
    ChosenFitting,
    ChosenJumper,
    WireKey,
)
from lugwright.plans.schema import Crimp, Jumper, Plan
from lugwright.routes.schema import Routes
from lugwright.scenario.console import Console, Post
from lugwright.trade.names import end_of_lead, wire_of_join


def decisions_of(plan: Plan, routes: Routes, console: Console) -> Choice:
    """What the plan decides. A splice is known by where it hangs.

    Raises KeyError for a splice that hangs at no splice point, and for a wire end of no wire.
    """
    joints = _splice_points(plan, routes)
    keys = {jumper.label: _key(jumper, joints) for jumper in plan.jumpers}

    def key(wire: WireId) -> WireKey:
        return keys.get(wire) or WireKey("given", wire)

    def fitting(crimp: Crimp) -> ChosenFitting:
        barrels = tuple(tuple(key(end.wire) for end in half) for half in crimp.barrels)
        return ChosenFitting(
            joints.get(crimp.joint, crimp.joint), crimp.item, barrels, crimp.folded
        )

    jumpers = (
        ChosenJumper(one.circuit, *_ends(one, joints), one.wire_size)
        for one in plan.jumpers
        if one.role == "jumper"
    )
    extensions = (
        ChosenExtension(wire_of_join(one.from_joint), one.wire_size, one.colour)
        for one in plan.jumpers
        if one.role == "extension"
    )
    return Choice(
        landings=tuple(sorted((landing.circuit, landing.post) for landing in plan.landings)),
        jumpers=tuple(sorted(jumpers)),
        extensions=tuple(sorted(extensions)),
        fittings=tuple(fitting(crimp) for crimp in plan.crimps),
        ends=tuple(_free_ends(plan, routes, console)),
    )


def _free_ends(
    plan: Plan, routes: Routes, console: Console
) -> Iterator[tuple[JointId, JointId]]:
    """Where each lead with a length ends that is joined, by the place the plan says."""
    free: dict[str, Post] = {post.id: post for post in console.posts if post.lead_length_dmm}
    joined = {crimp.joint for crimp in plan.crimps}
    for row in plan.panel.posts:
        lead = free.get(row.id)
        if lead and lead.id in joined:
            here = (row.x_dmm, row.y_dmm, row.z_dmm)
            for point in routes.ends_of(lead.id, lead.circuit):
                if (point.at.x_dmm, point.at.y_dmm, point.at.z_dmm) == here:
                    yield lead.id, end_of_lead(lead.id, point.id)
                    break


def _splice_points(plan: Plan, routes: Routes) -> Mapping[JointId, JointId]:
    """Splice point by the label of the splice that hangs there."""
    points = {
        (point.circuit, point.at.x_dmm, point.at.y_dmm, point.at.z_dmm): point.id
        for circuit in plan.panel.circuits
        for point in routes.splice_points(circuit.name)
    }
    return {
        splice.label: points[splice.circuit, splice.at.x_dmm, splice.at.y_dmm, splice.at.z_dmm]
        for splice in plan.splices
    }


def _ends(jumper: Jumper, joints: Mapping[JointId, JointId]) -> tuple[JointId, JointId]:
    """Both joints of a jumper by id, the one on the supply side first."""
    first, second = jumper.from_joint, jumper.to_joint
    return joints.get(first, first), joints.get(second, second)


def _key(jumper: Jumper, joints: Mapping[JointId, JointId]) -> WireKey:
    """A cut wire's name by what it is."""
    if jumper.role == "extension":
        return WireKey("extension", wire_of_join(jumper.from_joint))
    return WireKey("jumper", jumper.circuit, *_ends(jumper, joints))


class NumbersOf(PartNumbers):
    """Numbers as a plan of a family has them: its wires are numbered with those of its family."""

    def __init__(self, plan: Plan) -> None:
        super().__init__()
        self._own = {_part_of(jumper): jumper.number for jumper in plan.jumpers}

    def number(self, series: str, part: Hashable) -> int:
        """The plan's own number of a part; the next free one where the plan has no such part."""
        if not isinstance(part, tuple) or not part:
            return super().number(series, part)
        if isinstance(part[0], frozenset):
            places = frozenset((c.at.x_dmm, c.at.y_dmm, c.at.z_dmm) for c in part[0])
            known: tuple[Hashable, ...] = ("jumper", series, places)
        else:
            known = ("extension", part[0])
        return self._own.get(known) or super().number(series, part)


def _part_of(jumper: Jumper) -> tuple[Hashable, ...]:
    """What makes a cut wire the same part: its circuit and where it ends, or what it lengthens."""
    if jumper.role == "extension":
        return ("extension", wire_of_join(jumper.from_joint))
    ends = (jumper.path[0], jumper.path[-1]) if jumper.path else ()
    return ("jumper", jumper.circuit, frozenset((p.x_dmm, p.y_dmm, p.z_dmm) for p in ends))
