"""How the lengths written in a jumper list differ from what the routes ask for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lugwright.plan.choice import WireKey
from lugwright.plan.schema import Jumper, Plan

# A wire whichever way round it is told: circuit and both joints, or the wire it lengthens.
Wire = tuple[str, frozenset[str]]


@dataclass(frozen=True)
class LengthDifference:
    """One wire as it was written and as it would be cut, 0.1 mm; ``by_dmm`` > 0: written longer."""

    label: str
    from_joint: str
    to_joint: str
    written_dmm: int
    routed_dmm: int

    @property
    def by_dmm(self) -> int:
        """Written less routed length."""
        return self.written_dmm - self.routed_dmm


def length_differences(
    lengths_dmm: Sequence[tuple[WireKey, int]], plan: Plan
) -> tuple[LengthDifference, ...]:
    """Every written length that is not the routed cut length, in the plan's order.

    ``plan`` is the plan assembled from the same list. A wire the plan does not hold raises
    KeyError.
    """
    by_ends: dict[Wire, Jumper] = {}
    for jumper in plan.jumpers:
        if jumper.role == "jumper":
            by_ends[jumper.circuit, frozenset((jumper.from_joint, jumper.to_joint))] = jumper
        else:
            by_ends[jumper.from_joint.removeprefix("join "), frozenset()] = jumper
    written = {by_ends[_wire(key)].label: length for key, length in lengths_dmm}
    return tuple(
        LengthDifference(
            jumper.label,
            jumper.from_joint,
            jumper.to_joint,
            written[jumper.label],
            jumper.length_dmm,
        )
        for jumper in plan.jumpers
        if jumper.label in written and written[jumper.label] != jumper.length_dmm
    )


def _wire(key: WireKey) -> Wire:
    return key.name, frozenset((key.a, key.b)) if key.sort == "jumper" else frozenset()
