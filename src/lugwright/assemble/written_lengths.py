"""Lengths a person wrote down for a panel that stands, by the label a plan gives each wire."""

from __future__ import annotations

from lugwright.assemble.jumper_list import JumperList
from lugwright.plans.choice import WireKey
from lugwright.plans.schema import Jumper, Plan
from lugwright.trade.names import join_of


def lengths_by_label(listed: JumperList, plan: Plan) -> dict[str, int]:
    """Every written length, 0.1 mm, of a wire that the plan has."""
    found = ((_jumper(plan, key), length) for key, length in listed.lengths_dmm)
    return {jumper.label: length for jumper, length in found if jumper is not None}


def _jumper(plan: Plan, key: WireKey) -> Jumper | None:
    """The cut wire of a key, whichever way round it was written; None where the plan has none."""
    for jumper in plan.jumpers:
        if key.sort == "extension":
            if jumper.from_joint == join_of(key.name):
                return jumper
            continue
        ends = {jumper.from_joint, jumper.to_joint}
        if jumper.circuit == key.name and key.sort == "jumper" and ends == {key.a, key.b}:
            return jumper
    return None
