"""Wire ends put into barrels the way a rigger does it: two to a fitting where one takes them.

Used where nobody has decided the fittings: the hand plan, and a written list of a panel that is
already built. The least fitting is taken: thinnest tongue, then price, then name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from lugwright.assemble.barrels import carries, fits
from lugwright.assemble.ends import BarrelWire, lug_current_ma
from lugwright.base.identity import JointId
from lugwright.limits.schema import Limits
from lugwright.plans.choice import ChosenFitting, WireKey
from lugwright.scenario.console import Post
from lugwright.stock.schema import FittingType, Stock
from lugwright.trade.barrels import area_and_sleeve_fit
from lugwright.trade.fittings import Where, goes_on_stud, goes_on_tab
from lugwright.trade.names import lead_wire

MOST_SPLIT = 8

Halves = tuple[tuple[BarrelWire, ...], ...]


@dataclass(frozen=True)
class FittingStock:
    """Stock and limits, and how strictly they are held.

    ``as_built``: where nothing allowed takes the wires, the nearest barrel of the right kind
    stands in, so that a panel that is already built can be told and judged.
    """

    limits: Limits
    stock: Stock
    as_built: bool = False


@dataclass(frozen=True)
class Grouped:
    """Fittings by joint, and the joints for which the stock has nothing."""

    fittings: tuple[ChosenFitting, ...]
    unfit: tuple[str, ...]


def group_ends(
    posts: Mapping[JointId, Post],
    offered: FittingStock,
    wires: Mapping[WireKey, BarrelWire],
    ends: Mapping[JointId, Sequence[WireKey]],
    named: Mapping[tuple[JointId, WireKey], str] | None = None,
) -> Grouped:
    """A fitting for every wire end at every post and join.

    ``named`` gives a barrel's name for an end at a joint: ends of one name share a barrel.
    """
    fittings: list[ChosenFitting] = []
    unfit: list[str] = []
    for joint in sorted(ends):
        here = tuple(wires[key] for key in sorted(ends[joint]))
        post = posts.get(joint)
        names = {key: name for (at, key), name in (named or {}).items() if at == joint}
        found = _at_joint(joint, post, here, names, offered)
        if found is None:
            unfit.append(joint)
        else:
            fittings.extend(found)
    return Grouped(tuple(fittings), tuple(unfit))


def _at_joint(
    joint: JointId,
    post: Post | None,
    wires: tuple[BarrelWire, ...],
    names: Mapping[WireKey, str],
    offered: FittingStock,
) -> list[ChosenFitting] | None:
    """The fittings of one joint, or None where the stock has none for some wire end."""
    if post is None:
        choices = _butts(offered.stock, [((wires[0],), (wires[1],))])
        return _one(joint, choices, offered, "join", wires[0].current_ma)
    if post.kind == "lead":
        # The wire on the supply side carries what all others here pass on.
        current = max(wire.current_ma for wire in wires)
        return _one(joint, _lead_joints(post, wires, offered), offered, "mid-air", current)
    if post.kind == "tab":
        current = lug_current_ma(wires, joint)
        return _one(joint, _on_post(post, wires, offered), offered, "post", current)
    return _on_stud(post, wires, names, offered)


def _on_stud(
    post: Post, wires: tuple[BarrelWire, ...], names: Mapping[WireKey, str], offered: FittingStock
) -> list[ChosenFitting] | None:
    """Named barrels first; what is left goes two by two where a barrel takes both."""
    found: list[ChosenFitting] = []
    for name in sorted({names[wire.key] for wire in wires if names.get(wire.key)}):
        together = tuple(wire for wire in wires if names.get(wire.key) == name)
        one = _lug(post, together, offered)
        if one is None:
            return None
        found.append(one)
    waiting = [wire for wire in wires if not names.get(wire.key)]
    while waiting:
        first = waiting.pop(0)
        strict = FittingStock(offered.limits, offered.stock)
        for mate in waiting:
            pair = _lug(post, (first, mate), strict) if mate.share == first.share else None
            if pair is not None:
                waiting.remove(mate)
                found.append(pair)
                break
        else:
            alone = _lug(post, (first,), offered)
            if alone is None:
                return None
            found.append(alone)
    return found


def _lug(post: Post, wires: tuple[BarrelWire, ...], offered: FittingStock) -> ChosenFitting | None:
    """One lug on a stud holding all of the wires, or None."""
    current = lug_current_ma(wires, post.id)
    found = _one(post.id, _on_post(post, wires, offered), offered, "post", current)
    return found[0] if found else None


def _least_first(fittings: Sequence[FittingType]) -> list[FittingType]:
    return sorted(fittings, key=lambda item: (item.tongue_dmm, item.price_micro, item.name))


def _on_post(
    post: Post, wires: tuple[BarrelWire, ...], offered: FittingStock
) -> list[tuple[FittingType, Halves]]:
    """Every lug or push-on that goes on a post, least first, with all wires in its barrel."""
    if post.kind == "tab":
        rows = [
            row
            for row in offered.stock.fittings
            if goes_on_tab(row, post.tab_size)
        ]
    else:
        rows = [
            row
            for row in offered.stock.fittings
            if goes_on_stud(row, post.thread, offered.limits)
        ]
    return [(row, (wires,)) for row in _least_first(rows) if len(row.barrels) == 1]


def _lead_joints(
    post: Post, wires: tuple[BarrelWire, ...], offered: FittingStock
) -> list[tuple[FittingType, Halves]]:
    """Every fitting that joins a lead, least first; the lead alone in its half is tried first."""
    lead = tuple(wire for wire in wires if wire.key.name == lead_wire(post.id))
    others = tuple(wire for wire in wires if wire not in lead)
    kinds = offered.limits.lead_kinds
    found: list[tuple[FittingType, Halves]] = []
    closed = [row for row in offered.stock.fittings if row.kind == "closed end"]
    if "closed end" in kinds:
        found += [(row, (wires,)) for row in _least_first(closed)]
    if "butt" in kinds:
        # Beyond what any joint takes, only the lead alone in its half is worth a look.
        most = len(others) if len(others) <= MOST_SPLIT else 1
        splits = [
            ((*lead, *beside), tuple(wire for wire in others if wire not in beside))
            for number in range(most)
            for beside in combinations(others, number)
        ]
        found += _butts(offered.stock, splits)
    return sorted(found, key=lambda item: (item[0].price_micro, item[0].name))


def _butts(
    stock: Stock, splits: Sequence[tuple[tuple[BarrelWire, ...], tuple[BarrelWire, ...]]]
) -> list[tuple[FittingType, Halves]]:
    """Every butt with every split over its halves; unlike halves are tried both ways round."""
    found: list[tuple[FittingType, Halves]] = []
    for row in sorted(stock.fittings, key=lambda item: (item.price_micro, item.name)):
        if row.kind != "butt" or len(row.barrels) != 2:
            continue
        for one, other in splits:
            found.append((row, (one, other)))
            if row.barrels[0] != row.barrels[1]:
                found.append((row, (other, one)))
    return found


def _one(
    joint: JointId,
    choices: Sequence[tuple[FittingType, Halves]],
    offered: FittingStock,
    where: Where,
    current_ma: int,
) -> list[ChosenFitting] | None:
    """The first choice that holds every rule; as built, else the nearest by area and sleeve."""
    post = joint if where == "post" else ""
    for row, halves, folded in _with_folds(choices):
        if fits(row, halves, folded, offered.limits, where, post) and carries(row, current_ma):
            return [_chosen(joint, row, halves, folded)]
    if not offered.as_built or not choices:
        return None
    for row, halves in choices:
        if all(
            area_and_sleeve_fit(barrel, half, False)
            for barrel, half in zip(row.barrels, halves, strict=True)
        ):
            return [_chosen(joint, row, halves, False)]
    row, halves = max(choices, key=lambda item: item[0].barrels[0].area_max_um2)
    return [_chosen(joint, row, halves, False)]


def _with_folds(
    choices: Sequence[tuple[FittingType, Halves]],
) -> Iterator[tuple[FittingType, Halves, bool]]:
    """All choices unfolded, then those with a lone wire folded back: a fold is the second best."""
    for row, halves in choices:
        yield row, halves, False
    for row, halves in choices:
        if any(len(half) == 1 for half in halves):
            yield row, halves, True


def _chosen(joint: JointId, row: FittingType, halves: Halves, folded: bool) -> ChosenFitting:
    barrels = tuple(tuple(sorted(wire.key for wire in half)) for half in halves)
    return ChosenFitting(joint, row.name, barrels, folded)
