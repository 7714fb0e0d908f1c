"""Nodal analysis of a network of resistors, exactly.

Kirchhoff's current law at every node, G·v = i, with v the drop from the source in nV, i the
current taken out of the node in mA and G in 1/µΩ (µΩ·mA = nV). Solved by elimination of the node
with the fewest neighbours first, in fractions: on a tree that never fills in.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Resistor:
    """A branch of the network from ``a`` to ``b``; ``uohm`` 0 makes them one node."""

    name: str
    a: str
    b: str
    uohm: int


class Network:
    """Nodes, branches and what each node takes out. Build it up, then ``solve`` it."""

    def __init__(self) -> None:
        self.branches: list[Resistor] = []
        self.taken_ma: dict[str, int] = defaultdict(int)
        self._same: dict[str, str] = {}

    def node(self, name: str) -> str:
        """The name that stands for every node joined with this one."""
        root = name
        while self._same.get(root, root) != root:
            root = self._same[root]
        while self._same.get(name, name) != root:
            self._same[name], name = root, self._same.get(name, name)
        return root

    def join(self, a: str, b: str) -> None:
        """Make two nodes one (metal inside an instrument, no resistance)."""
        first, second = sorted((self.node(a), self.node(b)))
        self._same[second] = first

    def add(self, name: str, a: str, b: str, uohm: int) -> None:
        """Add a branch; without resistance its ends become one node."""
        if uohm <= 0:
            self.join(a, b)
        else:
            self.branches.append(Resistor(name, a, b, uohm))

    def take(self, node: str, current_ma: int) -> None:
        """Take a current out of a node, mA."""
        self.taken_ma[node] += current_ma

    def solve(self, sources: Iterable[str]) -> Solution:
        """Drops from the sources to every node that hangs on one of them."""
        fixed = {self.node(name) for name in sources}
        conductance: dict[str, dict[str, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
        for branch in self.branches:
            a, b = self.node(branch.a), self.node(branch.b)
            if a != b:
                conductance[a][b] += Fraction(1, branch.uohm)
                conductance[b][a] += Fraction(1, branch.uohm)
        reached = _reached(fixed, conductance)
        taken: dict[str, Fraction] = defaultdict(Fraction)
        for name, current in self.taken_ma.items():
            taken[self.node(name)] += current
        drops = _eliminate(conductance, taken, fixed, reached - fixed)
        return Solution(self, drops)


@dataclass(frozen=True)
class Solution:
    """Drops of a solved network; a node that hangs on no source has none."""

    network: Network
    drops_nv: Mapping[str, Fraction]

    def drop_nv(self, node: str) -> Fraction | None:
        """Drop from the source to a node, nV; None when nothing leads there."""
        return self.drops_nv.get(self.network.node(node))

    def current_ma(self, branch: Resistor) -> Fraction | None:
        """Current in a branch from ``a`` to ``b``, mA; None when it hangs on no source."""
        a, b = self.drop_nv(branch.a), self.drop_nv(branch.b)
        if a is None or b is None:
            return None
        return (b - a) / branch.uohm


def _reached(start: set[str], conductance: Mapping[str, Mapping[str, Fraction]]) -> set[str]:
    """Every node that hangs on a source."""
    found, waiting = set(start), list(start)
    while waiting:
        for beyond in conductance.get(waiting.pop(), {}):
            if beyond not in found:
                found.add(beyond)
                waiting.append(beyond)
    return found


def _eliminate(
    conductance: dict[str, dict[str, Fraction]],
    taken: dict[str, Fraction],
    fixed: set[str],
    free: set[str],
) -> dict[str, Fraction]:
    """Star-to-mesh elimination of the free nodes, then back again for the drops."""
    order: list[tuple[str, Fraction, dict[str, Fraction]]] = []
    left = set(free)
    few = [name for name in sorted(left) if len(conductance[name]) == 1]
    while left:
        name = few.pop() if few else min(left, key=lambda node: (len(conductance[node]), node))
        if name not in left:
            continue
        left.remove(name)
        star = conductance.pop(name)
        total = sum(star.values(), Fraction(0))
        for near, share in star.items():
            del conductance[near][name]
            taken[near] += taken[name] * share / total
            for other, part in star.items():
                if other != near:
                    conductance[near][other] += share * part / total
        few += [near for near in sorted(star) if near in left and len(conductance[near]) == 1]
        order.append((name, total, star))
    drops = {name: Fraction(0) for name in fixed}
    for name, total, star in reversed(order):
        pulled = sum((share * drops[near] for near, share in star.items()), taken[name])
        drops[name] = pulled / total
    return drops
