"""A jumper of a harness that is to be changed."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.base.identity import JointId


@dataclass(frozen=True, order=True)
class BuiltJumper:
    """A jumper that exists: its circuit, its joints by today's names, wire size and length.

    ``spare_dmm`` is what is left of its length once both its fittings have been cut off, 0.1 mm.
    A joint that is no more has the name it had.
    """

    circuit: str
    a: JointId
    b: JointId
    size: str
    length_dmm: int
    spare_dmm: int

    def lies(self, a: str, b: str, size: str, length_dmm: int) -> bool:
        """True where a jumper between two joints is this very piece, as it lies."""
        same = {self.a, self.b} == {a, b} and self.size == size
        return same and self.length_dmm == length_dmm
