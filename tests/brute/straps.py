"""Which posts are one metal, and what flows through the straps that join several.

What the specification says (rule R35): a strap joins studs of several instruments; on each lies one
ready-made bench lug, a landing and no fitting; its current is what flows through it; it has a
thickness, a contact and a limit. What it leaves open is read here so:

- Its studs are one node of the circuit's tree: no jumper is needed between them and none runs
  between two of them; jumpers may come to and leave any of them. Like linked posts they count
  once where posts are counted, for the hub too; a circuit of nothing else has no jumper, and
  its supply lands on any of them, on the hub's where the hub has one. The landing post is one
  of them all the same: lamps leave that stud. What is strapped to a far post is its metal, so
  it is no second way out and no landing post.
- A lug of it is there whether the stud is used or not. It counts as one lug and, where
  conductors are counted, as one conductor; its minutes are those of a ring landed at the
  bench. It has no barrel: its own angle is nought, and it counts as a lug beside the others'.
- It fits the thread of every stud it is stated on.
- The contact is that of each of its lugs on its stud, passed by what flows through that lug:
  from stud to stud two contacts. Through the metal itself nothing is lost.
- The limit is of the metal: the largest current through it, which is what comes in by the lug
  on the supply's side. The fuse ahead of it is no larger, as with a block's bus. It has no
  length, no price, no colour and no place in a bundle.
- It joins studs of one circuit (else it is a fault), two instruments at least; what links and
  straps join twice over, so that nobody could say which way the current goes, is a fault.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from brute.statements import Strap
from brute.states import Amps, added, minus
from lugwright.scenario.console import Console, Post


@dataclass(frozen=True)
class StrapLug:
    """The lug of a strap on one stud; its current is more than nought where it comes to the stud.

    It comes out of the strap there.
    """

    strap: Strap
    post: str
    current_ma: Amps


@dataclass(frozen=True)
class Spread:
    """What flows through the straps of one node, and what is lost up to each of its metals (nV)."""

    lugs: tuple[StrapLug, ...]
    falls_nv: Mapping[str, tuple[int, ...]]


class Metals:
    """The posts joined by links into metals, and metals by straps into nodes."""

    def __init__(self, console: Console, straps: tuple[Strap, ...]) -> None:
        self.posts = {post.id: post for post in console.posts}
        self.straps = straps
        self._node: dict[str, str] = {}
        for strap in straps:
            self._check(strap)
            self._join({self.metal(post) for post in strap.posts}, len(strap.posts))

    def _check(self, strap: Strap) -> None:
        posts = [self.posts[post] for post in strap.posts]
        if any(post.kind != "stud" for post in posts):
            raise ValueError(f"a strap lies on studs: {strap.posts}")
        if len({post.circuit for post in posts}) != 1 or not posts[0].circuit:
            raise ValueError(f"a strap joins posts of one circuit: {strap.posts}")
        if len({post.instrument for post in posts}) < 2:
            raise ValueError(f"a strap joins several instruments: {strap.posts}")

    def _join(self, metals: set[str], lugs: int) -> None:
        before = {self._node.get(metal, metal) for metal in metals}
        if len(before) < lugs:
            raise ValueError(f"joined twice over: {sorted(metals)}")
        joined = metals | {metal for metal, node in self._node.items() if node in before}
        self._node.update(dict.fromkeys(joined, min(joined)))

    def metal(self, post: str) -> str:
        """The metal a post belongs to inside its instrument: the posts of one link are one."""
        found: Post = self.posts[post]
        return f"{found.instrument}/{found.link}" if found.link else post

    def node(self, post: str) -> str:
        """The node a post belongs to: metals that straps join are one node."""
        metal = self.metal(post)
        return self._node.get(metal, metal)

    def _outward(self, entry: str) -> list[tuple[Strap, str, tuple[str, ...]]]:
        """The straps of a node as they are met from one metal: nearer stud, farther studs."""
        found: list[tuple[Strap, str, tuple[str, ...]]] = []
        reached, passed = [entry], set()
        for metal in reached:
            for index, strap in enumerate(self.straps):
                near = [post for post in strap.posts if self.metal(post) == metal]
                if not near or index in passed:
                    continue
                passed.add(index)
                far = tuple(post for post in strap.posts if post not in near)
                found.append((strap, near[0], far))
                reached.extend(self.metal(post) for post in far)
        return found

    def spread(self, entry: str, need: Mapping[str, Amps], nothing: Amps) -> Spread:
        """The current that comes in at one metal of a node, led on to all that ``need`` it."""
        met = self._outward(entry)
        total = dict(need)
        lugs: list[StrapLug] = []
        lost: list[dict[str, tuple[int, ...]]] = []
        for strap, near, far in reversed(met):
            flows = {post: total.get(self.metal(post), nothing) for post in far}
            through = nothing
            for flow in flows.values():
                through = added(through, flow)
            lugs.append(StrapLug(strap, near, minus(through)))
            lugs.extend(StrapLug(strap, post, flow) for post, flow in flows.items())
            total[self.metal(near)] = added(total.get(self.metal(near), nothing), through)
            contact = strap.contact_uohm
            lost.append(
                {
                    post: tuple(contact * each for each in added(through, flow))
                    for post, flow in flows.items()
                }
            )
        falls = {entry: nothing}
        for (_, near, far), between in zip(met, reversed(lost), strict=True):
            for post in far:
                falls[self.metal(post)] = added(falls[self.metal(near)], between[post])
        return Spread(tuple(lugs), falls)
