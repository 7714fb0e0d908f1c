"""A choice whose leads' ends were chosen: told by the leads, and where each ends."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from lugwright.base.identity import JointId
from lugwright.plans.choice import Choice, ChosenFitting, ChosenJumper, WireKey
from lugwright.trade.names import lead_wire


def with_free_ends(choice: Choice, leads: Mapping[JointId, JointId]) -> Choice:
    """The choice with each lead in place of the end that was chosen for it. Rule R36.

    ``leads``: the lead of every place where one may end.
    """
    if not leads:
        return choice

    at = {str(end): str(lead) for end, lead in leads.items()}
    own: dict[str, str] = {lead_wire(end): lead_wire(lead) for end, lead in leads.items()}

    def key(wire: WireKey) -> WireKey:
        a, b = (at.get(end, end) for end in (wire.a, wire.b))
        return replace(wire, name=own.get(wire.name, wire.name), a=a, b=b)

    def fitting(one: ChosenFitting) -> ChosenFitting:
        barrels = tuple(tuple(sorted(map(key, half))) for half in one.barrels)
        return replace(one, joint=leads.get(one.joint, one.joint), barrels=barrels)

    def jumper(one: ChosenJumper) -> ChosenJumper:
        return replace(one, a=leads.get(one.a, one.a), b=leads.get(one.b, one.b))

    ends = {joint for one in choice.jumpers for joint in (one.a, one.b)} & leads.keys()
    return replace(
        choice,
        jumpers=tuple(sorted(map(jumper, choice.jumpers))),
        fittings=tuple(sorted(map(fitting, choice.fittings))),
        ends=tuple(sorted((leads[end], end) for end in ends)),
    )
