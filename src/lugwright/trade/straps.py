"""What flows in a strap, stud by stud, and what drops in its contacts. Rule R35.

A strap's lug carries what everything on its stud's side draws, less what comes in there. That is
told with its sign: above nought where current leaves the strap for the stud.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lugwright.base.identity import JointId
from lugwright.scenario.console import Console
from lugwright.trade.demand import Demand


@dataclass(frozen=True)
class StrapLug:
    """One lug of a strap: on ``post``, with all posts on that stud's side of it (``side``)."""

    strap: str
    post: JointId
    side: frozenset[JointId]
    thickness_dmm: int
    contact_uohm: int
    carries_ma: int


@dataclass(frozen=True)
class ContactStep:
    """A lug's contact on the way from a strap to a post; ``sign`` -1 where it is met from the
    stud."""

    lug: StrapLug
    sign: int


def strap_lugs(console: Console) -> tuple[StrapLug, ...]:
    """Every lug of every strap, by strap and stud."""
    return tuple(
        StrapLug(
            strap.name, post, side, strap.thickness_dmm, strap.contact_uohm, strap.carries_ma
        )
        for strap in console.straps
        for post, side in zip(strap.posts, strap.sides, strict=True)
    )


Laid = tuple[str, str, int]
"""A jumper's joints from the supply's side on, and its current, mA."""


def through_ma(lug: StrapLug, drawn: Mapping[str, int], laid: Iterable[Laid], comes_in: int) -> int:
    """What flows from a strap through one of its lugs to that stud's side, mA; below nought: back.

    ``drawn`` is what each post draws, ``comes_in`` what the circuit's supply brings to that side.
    """
    own = sum(drawn.get(post, 0) for post in lug.side)
    led = sum(current * ((a in lug.side) - (b in lug.side)) for a, b, current in laid)
    return own + led - comes_in


def leaves_ma(console: Console, demand: Demand, post: str) -> int:
    """What leaves a stud but by wires of the plan, as far as its own current is judged, mA.

    What boat wires lead away. A strap may bring what the stud's instrument takes, with nothing
    coming in by any wire: there that counts as well, unless a link inside could take it from
    another post. Rule R20.
    """
    own = console.post(post)
    away = demand.away.get(post, 0)
    if not own.strap or own.link or console.circuit(own.circuit).supplied_by == post:
        return away
    return demand.posts[post]


def contacts_uohm(console: Console, circuit: str) -> int:
    """All contacts of a circuit's straps together: its current drops no more than that in them."""
    own = (lug for lug in strap_lugs(console) if console.post(lug.post).circuit == circuit)
    return sum(lug.contact_uohm for lug in own)


def contact_steps(console: Console) -> Mapping[str, tuple[ContactStep, ...]]:
    """The contacts between the first strap of a piece of metal and each of its posts.

    Only posts of metal in which a contact has resistance are told.
    """
    lugs = strap_lugs(console)
    inside: dict[str, str] = {post.id: post.link or post.id for post in console.posts}
    found: dict[str, tuple[ContactStep, ...]] = {}
    told: set[str] = set()
    for first in console.straps:
        if first.name in told:
            continue
        of_metal: dict[str, tuple[ContactStep, ...]] = {}
        waiting: list[tuple[str, tuple[ContactStep, ...]]] = [(first.name, ())]
        for strap, path in waiting:  # which grows as it goes
            told.add(strap)
            for lug in lugs:
                if lug.strap != strap or lug.post in of_metal:
                    continue
                here = (*path, ContactStep(lug, 1))
                island = [post for post, metal in inside.items() if metal == inside[lug.post]]
                of_metal |= dict.fromkeys(island, here)
                waiting += [
                    (other.strap, (*here, ContactStep(other, -1)))
                    for other in lugs
                    if other.post in island and other.strap not in told
                ]
        if any(step.lug.contact_uohm for path in of_metal.values() for step in path):
            found |= of_metal
    return found
