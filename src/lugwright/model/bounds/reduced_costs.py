"""What prices say of each jumper: an answer that has it costs at least so much.

Reduced-cost fixing: a jumper with which every answer costs more than one in hand is left out, and
nothing is lost (H. Crowder, E. L. Johnson and M. Padberg, "Solving large-scale zero-one linear
programming problems", Operations Research 31, 1983; from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lugwright.model.bounds.rows import Whole
from lugwright.model.formulation.trees import Cut
from lugwright.model.formulation.variables import ArcKey


@dataclass(frozen=True)
class Narrow:
    """What a relaxation says of an ask: its ``bound``, and the bound with each jumper in it.

    ``with_key`` holds the latter, one for each of ``keys``.
    """

    bound: int
    keys: tuple[ArcKey, ...]
    with_key: Whole
    cuts: tuple[Cut, ...]

    def keeps(self, limit: int) -> frozenset[ArcKey]:
        """The jumpers that an answer of at most ``limit`` may have."""
        return frozenset(self.keys[i] for i in np.nonzero(self.with_key <= limit)[0].tolist())

    def share(self, limit: int) -> float:
        """How much of all jumpers these are."""
        return float((self.with_key <= limit).mean()) if len(self.keys) else 1.0


def joined(parts: Sequence[Narrow]) -> Narrow:
    """The same of several parts that are asked for together."""
    bound = sum(part.bound for part in parts)
    beside = [part.with_key + (bound - part.bound) for part in parts]
    keys = tuple(key for part in parts for key in part.keys)
    cuts = tuple(cut for part in parts for cut in part.cuts)
    return Narrow(bound, keys, np.concatenate(beside), cuts)


def least(ways: Sequence[Narrow]) -> Narrow:
    """The same of an ask that is answered in one of several ways; a key may stand in more."""
    if len(ways) == 1:
        return ways[0]
    keys = tuple(key for way in ways for key in way.keys)
    cuts = dict.fromkeys(cut for way in ways for cut in way.cuts)
    values = np.concatenate([way.with_key for way in ways])
    return Narrow(min(way.bound for way in ways), keys, values, tuple(cuts))
