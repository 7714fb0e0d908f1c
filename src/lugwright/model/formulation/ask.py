"""What is put to the solver in one go, and what comes back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum

from lugwright.base.identity import JointId
from lugwright.model.formulation.objective import Sums
from lugwright.plans.choice import ChosenJumper
from lugwright.problem.schema import GroupOption

CURRENTS, DROP, BUNDLE, LUG_CURRENTS = "currents", "drop", "bundle", "lug currents"


Leaves = tuple[tuple[tuple[str, str], int], ...]


@dataclass(frozen=True)
class Ask:
    """Part of a problem: some circuits, where each may land, and the sizes it may have.

    ``families`` are the electrical rules posed; the others are looked at afterwards.
    ``rest`` adds what belongs to no circuit asked for (posts where only blocks of boat wires land).
    ``most_tall`` caps the tallest stack; ``price_tall`` puts it into the objective.
    ``most_stacked`` caps the stacked lugs of all that is asked for, ``most_wire_dmm`` its wire.
    ``leaves``: by circuit and size the fewest leaves of a tree that keeps the drop limits, where
    that is more than one. Not for asks in sizes that stand for thicker ones.
    """

    circuits: tuple[str, ...]
    landings: tuple[tuple[str, tuple[JointId, ...]], ...]
    sizes: tuple[tuple[str, tuple[str, ...]], ...]
    families: frozenset[str] = frozenset()
    rest: bool = False
    most_tall: int | None = None
    price_tall: bool = True
    most_stacked: int | None = None
    most_wire_dmm: int | None = None
    leaves: Leaves = ()

    def landing_posts(self, circuit: str) -> tuple[JointId, ...]:
        """Where that circuit's supply may land."""
        return dict(self.landings).get(circuit, ())

    def sizes_of(self, circuit: str) -> tuple[str, ...]:
        """Wire sizes that circuit may have."""
        return dict(self.sizes).get(circuit, ())


GroupKey = tuple[JointId, str]
"""(joint, whose ends): a circuit's name, ``pigtail CIRCUIT``, or ``boat_block NAME``."""


@dataclass(frozen=True)
class Answer:
    """What was chosen for an ask. ``picks`` holds the option taken at each joint and group."""

    landings: Mapping[str, JointId]
    jumpers: tuple[ChosenJumper, ...]
    extension_sizes: Mapping[str, str]
    picks: Mapping[GroupKey, GroupOption]
    sums: Sums

    def joined(self, other: Answer) -> Answer:
        """This answer and that of another part, together."""
        return Answer(
            {**self.landings, **other.landings},
            (*self.jumpers, *other.jumpers),
            {**self.extension_sizes, **other.extension_sizes},
            {**self.picks, **other.picks},
            self.sums + other.sums,
        )


def join(answers: Sequence[Answer]) -> Answer:
    """The answers of all parts, together. Raises IndexError when there is none."""
    joined = answers[0]
    for answer in answers[1:]:
        joined = joined.joined(answer)
    return joined


class Status(Enum):
    """How one ask ended."""

    BEST = "proved best"
    SOME = "an answer, not proved best"
    NONE = "no answer exists"
    UNKNOWN = "no answer in time"


@dataclass(frozen=True)
class Solved:
    """The end of one ask: ``value`` of the answer and the ``bound`` under it (folded integers)."""

    status: Status
    answer: Answer | None = None
    value: int = 0
    bound: int = 0
    extra: Mapping[str, int] = field(default_factory=dict)
