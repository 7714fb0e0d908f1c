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
from heapq import heapify, heappop, heappush


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
        conductance = self._conductance()
        reached = _reached(fixed, conductance)
        taken: dict[str, Fraction] = defaultdict(Fraction)
        for name, current in self.taken_ma.items():
            taken[self.node(name)] += current
        drops = {name: Fraction(0) for name in fixed}
        order = _eliminated(conductance, reached - fixed)
        for star in order:
            for near, share in star.near.items():
                taken[near] += taken[star.node] * share / star.total
        for star in reversed(order):
            drops[star.node] = star.drop_nv(drops, taken[star.node])
        return Solution(self, drops)

    def paths(self) -> Paths:
        """The network made ready to be asked for the resistance between any two nodes."""
        conductance = self._conductance()
        part_of: dict[str, int] = {}
        free: set[str] = set()
        for part, root in enumerate(sorted(conductance)):
            if root not in part_of:
                inside = _reached({root}, conductance)
                part_of |= dict.fromkeys(inside, part)
                free |= inside - {root}
        return Paths(self, part_of, _eliminated(conductance, free))

    def _conductance(self) -> dict[str, dict[str, Fraction]]:
        """What joins any two nodes, 1/µΩ."""
        found: dict[str, dict[str, Fraction]] = defaultdict(lambda: defaultdict(Fraction))
        for branch in self.branches:
            a, b = self.node(branch.a), self.node(branch.b)
            if a != b:
                found[a][b] += Fraction(1, branch.uohm)
                found[b][a] += Fraction(1, branch.uohm)
        return found


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


@dataclass(frozen=True)
class _Star:
    """A node as it was eliminated: its neighbours with what joins it to each, and their sum."""

    node: str
    total: Fraction
    near: Mapping[str, Fraction]

    def drop_nv(self, drops: Mapping[str, Fraction], taken_ma: Fraction) -> Fraction:
        """The node's drop from those of its neighbours and what is taken out of it."""
        pulled = sum((share * drops[near] for near, share in self.near.items()), taken_ma)
        return pulled / self.total


def _eliminated(conductance: dict[str, dict[str, Fraction]], free: set[str]) -> list[_Star]:
    """Star-to-mesh elimination of the free nodes, in the order they went."""
    order: list[_Star] = []
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
            for other, part in star.items():
                if other != near:
                    conductance[near][other] += share * part / total
        few += [near for near in sorted(star) if near in left and len(conductance[near]) == 1]
        order.append(_Star(name, total, star))
    return order


class Paths:
    """A network eliminated once, to be asked for many resistances."""

    def __init__(self, network: Network, part_of: Mapping[str, int], order: list[_Star]) -> None:
        self._network, self._part_of = network, part_of
        self._stars = {star.node: star for star in order}
        self._turn = {star.node: turn for turn, star in enumerate(order)}

    def uohm(self, a: str, b: str) -> Fraction | None:
        """Resistance from a to b, µΩ; None where nothing joins them."""
        a, b = self._network.node(a), self._network.node(b)
        if a == b:
            return Fraction(0)
        if a not in self._part_of or self._part_of[a] != self._part_of.get(b):
            return None
        # 1 mA goes in at a and comes out at b: what lies between them then, nV, is their µΩ
        taken = {a: Fraction(-1), b: Fraction(1)}
        self._pass_on(taken)
        drops: dict[str, Fraction] = {}
        return self._drop_nv(b, taken, drops) - self._drop_nv(a, taken, drops)

    def _pass_on(self, taken: dict[str, Fraction]) -> None:
        """Hand what is taken out of a node to its neighbours, in the order of elimination."""
        waiting = [(self._turn[node], node) for node in taken if node in self._turn]
        heapify(waiting)
        while waiting:
            _, node = heappop(waiting)
            star = self._stars[node]
            for near, share in star.near.items():
                if near not in taken and near in self._turn:
                    heappush(waiting, (self._turn[near], near))
                taken[near] = taken.get(near, Fraction(0)) + taken[node] * share / star.total

    def _drop_nv(
        self, node: str, taken: Mapping[str, Fraction], drops: dict[str, Fraction]
    ) -> Fraction:
        """The drop of one node; its neighbours, eliminated later, have theirs first."""
        waiting = [node]
        while waiting:
            name = waiting[-1]
            star = self._stars.get(name)
            if star is None:
                drops[name] = Fraction(0)  # what all drops of its part are counted from
            missing = [near for near in star.near if near not in drops] if star else []
            if missing:
                waiting += missing
                continue
            if star:
                drops[name] = star.drop_nv(drops, taken.get(name, Fraction(0)))
            waiting.pop()
        return drops[node]
