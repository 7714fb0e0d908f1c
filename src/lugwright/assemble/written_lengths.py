"""Lengths a person wrote down for a panel that stands, beside what its routes come to."""

from __future__ import annotations

from lugwright.assemble.jumper_list import JumperList
from lugwright.base.scale import mm_text
from lugwright.plan.choice import WireKey
from lugwright.plan.schema import Jumper, Plan


def length_notes(listed: JumperList, plan: Plan) -> tuple[str, ...]:
    """One note for every wire whose written length differs from its routed cut length (mm)."""
    notes = []
    for key, written_dmm in listed.lengths_dmm:
        jumper = _jumper(plan, key)
        if jumper is None or jumper.length_dmm == written_dmm:
            continue
        longer = "longer" if written_dmm > jumper.length_dmm else "shorter"
        difference = mm_text(abs(written_dmm - jumper.length_dmm))
        notes.append(
            f"{jumper.label} is written as {mm_text(written_dmm)} mm: {difference} mm {longer} "
            f"than its route and allowances come to ({mm_text(jumper.length_dmm)} mm)"
        )
    return tuple(notes)


def _jumper(plan: Plan, key: WireKey) -> Jumper | None:
    """The cut wire of a key, whichever way round it was written; None where the plan has none."""
    for jumper in plan.jumpers:
        if key.sort == "extension":
            if jumper.from_joint == f"join {key.name}":
                return jumper
            continue
        ends = {jumper.from_joint, jumper.to_joint}
        if jumper.circuit == key.name and key.sort == "jumper" and ends == {key.a, key.b}:
            return jumper
    return None
