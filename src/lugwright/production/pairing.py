"""Which piece of wire of one plan is which of another, whatever their numbers."""

from __future__ import annotations

from dataclasses import dataclass, field

from lugwright.base.scale import mm_text
from lugwright.base.units import parse_length_mm, to_dmm
from lugwright.outputs.words import colour_text, cut_labels
from lugwright.plans.schema import Jumper, Plan


@dataclass
class Pairing:
    """Which old piece is which new piece."""

    same: dict[str, str] = field(default_factory=dict)  # old label: new label, one and the same
    recut: dict[str, str] = field(default_factory=dict)  # shortened between the same joints
    moved: dict[str, str] = field(default_factory=dict)  # shortened for other joints
    removed: list[str] = field(default_factory=list)
    new: list[str] = field(default_factory=list)


class Side:
    """One plan with the names of its joints made comparable with another plan's."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.cut = cut_labels(plan)
        self.pieces: dict[str, Jumper] = {piece.label: piece for piece in plan.jumpers}
        self.crimps = {crimp.number: crimp for crimp in plan.crimps}
        self._places: dict[str, str] = {
            splice.label: f"splice of {splice.circuit} at {mm_text(splice.at.x_dmm)}, "
            f"{mm_text(splice.at.y_dmm)} mm"
            for splice in plan.splices
        }

    def joint(self, name: str) -> str:
        """A joint's name that means the same in every revision."""
        return self._places.get(name, name)

    def ends(self, piece: Jumper) -> frozenset[str]:
        """The joints a piece lies between."""
        return frozenset((self.joint(piece.from_joint), self.joint(piece.to_joint)))

    def told(self, piece: Jumper) -> str:
        """A piece in words."""
        colour = colour_text(piece.colour, piece.colour_code)
        joints = f"{self.joint(piece.from_joint)} to {self.joint(piece.to_joint)}"
        return f"{piece.label}: {mm_text(piece.length_dmm)} mm {colour} {piece.wire_size}, {joints}"


def pair_pieces(before: Side, after: Side) -> Pairing:
    """Pair like with like: what stays as it lies, then what can be shortened, here or elsewhere.

    A piece that is taken up loses both its fittings, so it serves where its length less twice
    the re-termination is enough. Needs are served longest first, by a piece between the same
    joints where there is one, else by the shortest that is long enough: that way as many are
    served as can be.
    """
    found = Pairing()
    old, new = dict(before.pieces), dict(after.pieces)
    lying = {_as_it_lies(after, piece): label for label, piece in new.items()}
    for label in list(old):
        match = lying.pop(_as_it_lies(before, old[label]), None)
        if match is not None:
            found.same[label] = match
            del old[label], new[match]
    lost_dmm = 2 * limit_dmm(after.plan, "re_termination")
    for label in sorted(new, key=lambda name: (-new[name].length_dmm, name)):
        piece = new[label]
        enough = [
            other
            for other in old
            if _wire(old[other]) == _wire(piece)
            and old[other].length_dmm - lost_dmm >= piece.length_dmm
        ]
        if not enough:
            continue
        here = [other for other in enough if before.ends(old[other]) == after.ends(piece)]
        best = min(here or enough, key=lambda name: (old[name].length_dmm, name))
        (found.recut if here else found.moved)[best] = label
        del old[best], new[label]
    found.removed, found.new = list(old), list(new)
    return found


def _wire(piece: Jumper) -> tuple[str, ...]:
    """What a piece is cut from and for: it serves nowhere else."""
    return piece.circuit, piece.role, piece.wire_size, piece.colour


def _as_it_lies(side: Side, piece: Jumper) -> tuple[object, ...]:
    """What makes a piece one and the same in place."""
    return (*_wire(piece), side.ends(piece), piece.length_dmm)


def limit_dmm(plan: Plan, name: str) -> int:
    """A length among the plan's limits, 0.1 mm; 0 where the plan states none of that name."""
    stated = next((limit.value for limit in plan.limits if limit.name == name), "0 mm")
    return to_dmm(parse_length_mm(stated))
