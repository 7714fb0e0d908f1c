"""Currents in a tree of jumpers: each carries all that is drawn beyond it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

J = TypeVar("J")


@dataclass(frozen=True)
class Leg(Generic[J]):
    """One jumper as the walk from the supply meets it, from node to node.

    ``closes_ring``: both its nodes were met before; it carries nothing, as it is told.
    """

    jumper: J
    near: str
    far: str
    closes_ring: bool = False


def carried_ma(
    legs: Sequence[Leg[J]], drawn: Iterable[tuple[str, int]]
) -> tuple[dict[J, int], Mapping[str, int]]:
    """Current of every jumper, mA, and by node what it and all beyond it draw.

    ``legs`` go outwards: each begins at a node that was met before, or at a root. ``drawn`` is
    what is drawn at a node, or goes on from there into a taken circuit. Rule R12.

    >>> legs = [Leg("one", "hub", "a"), Leg("two", "a", "b")]
    >>> carried, _ = carried_ma(legs, [("a", 5), ("b", 7)])
    >>> carried["one"], carried["two"]
    (12, 7)
    """
    beyond: dict[str, int] = {}
    for node, current in drawn:
        beyond[node] = beyond.get(node, 0) + current
    carried: dict[J, int] = {}
    for leg in reversed(legs):
        carried[leg.jumper] = 0 if leg.closes_ring else beyond.get(leg.far, 0)
        beyond[leg.near] = beyond.get(leg.near, 0) + carried[leg.jumper]
    return carried, beyond
