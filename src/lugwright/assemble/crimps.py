"""The crimp list: every fitting with its wire ends, numbered in working order.

At the bench first, then aboard; within a stage joins, splices and leads, then posts one after
another. The lugs of one stud are numbered as they are stacked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lugwright.assemble.barrels import which_folded
from lugwright.assemble.ends import BarrelWire, lug_current_ma
from lugwright.assemble.wires import Wires
from lugwright.base.identity import JointId
from lugwright.plans.choice import ChosenFitting, WireKey
from lugwright.plans.schema import Crimp
from lugwright.scenario.console import Post, Stage
from lugwright.stock.schema import FittingType, Stock
from lugwright.trade.barrels import barrel_area_um2
from lugwright.trade.names import is_join


@dataclass(frozen=True)
class CrimpSheet:
    """Crimps in order, and by number the circuit, wire keys and fitting row of each.

    ``folds`` says for each barrel of a crimp whether its lone wire is folded back.
    """

    crimps: tuple[Crimp, ...]
    circuits: Mapping[int, str]
    keys: Mapping[int, tuple[WireKey, ...]]
    rows: Mapping[int, FittingType]
    folds: Mapping[int, tuple[bool, ...]]


@dataclass(frozen=True)
class _Draft:
    """A chosen fitting before it has a number."""

    chosen: ChosenFitting
    row: FittingType
    halves: tuple[tuple[BarrelWire, ...], ...]
    stage: Stage
    current_ma: int

    @property
    def wires(self) -> tuple[BarrelWire, ...]:
        return tuple(wire for half in self.halves for wire in half)

    @property
    def folds(self) -> tuple[bool, ...]:
        return which_folded(self.row.barrels, self.halves, self.chosen.folded)

    @property
    def circuit(self) -> str:
        return min(wire.circuit for wire in self.wires)


def write_crimps(
    fittings: Sequence[ChosenFitting],
    stock: Stock,
    posts: Mapping[JointId, Post],
    ranks: Mapping[str, int],
    cut: Wires,
    known: Mapping[WireKey, BarrelWire],
) -> CrimpSheet:
    """Every chosen fitting as a crimp, numbered from 1 in working order."""
    drafts = [_draft(chosen, stock, posts, cut, known) for chosen in fittings]
    drafts.sort(key=lambda draft: _rank(draft, posts, ranks, cut))
    crimps, circuits, keys, rows, folds = [], {}, {}, {}, {}
    for number, draft in enumerate(drafts, 1):
        crimps.append(_crimp(number, draft, cut))
        circuits[number] = draft.circuit
        keys[number] = tuple(wire.key for wire in draft.wires)
        rows[number] = draft.row
        folds[number] = draft.folds
    return CrimpSheet(tuple(crimps), circuits, keys, rows, folds)


def _draft(
    chosen: ChosenFitting,
    stock: Stock,
    posts: Mapping[JointId, Post],
    cut: Wires,
    known: Mapping[WireKey, BarrelWire],
) -> _Draft:
    """Look up a fitting's row and wires; halves in the order of the row's barrels."""
    row = stock.fitting(chosen.item)
    halves = tuple(
        tuple(known[key] for key in sorted(keys, key=lambda key: _place(key, chosen.joint, cut)))
        for keys in chosen.barrels
    )
    halves = _in_order(row, halves, chosen, cut)
    wires = [wire for half in halves for wire in half]
    aboard = any(wire.stage == "aboard" for wire in wires)
    post = posts.get(chosen.joint)
    on_post = post is not None and post.kind != "lead"
    joint = chosen.joint
    current = lug_current_ma(wires, joint) if on_post else _flows_in(chosen, wires, cut)
    return _Draft(chosen, row, halves, "aboard" if aboard else "bench", current)


def _place(key: WireKey, joint: str, cut: Wires) -> tuple[str, int, str]:
    """Order of wire ends in one barrel: by label, numbers as numbers, given wires first."""
    label = cut.labels[key]
    return ("" if key.sort == "given" else label.rpartition(" ")[0], cut.numbers[key], label)


def _in_order(
    row: FittingType,
    halves: tuple[tuple[BarrelWire, ...], ...],
    chosen: ChosenFitting,
    cut: Wires,
) -> tuple[tuple[BarrelWire, ...], ...]:
    """Like halves of a butt in the order of their labels; unlike ones stay as they fit."""
    if len(halves) == 2 and row.barrels[0] == row.barrels[1]:
        one, other = sorted(halves, key=lambda half: _place(half[0].key, chosen.joint, cut))
        return (one, other)
    return halves


def _flows_in(chosen: ChosenFitting, wires: Sequence[BarrelWire], cut: Wires) -> int:
    """Current of the wire on the supply side of a fitting in mid-air, mA."""
    coming = [
        wire.current_ma
        for wire in wires
        if wire.key.sort == "jumper" and cut.end(wire.key, chosen.joint).end == "b"
    ]
    return max(coming or [wire.current_ma for wire in wires])


def _rank(
    draft: _Draft, posts: Mapping[JointId, Post], ranks: Mapping[str, int], cut: Wires
) -> tuple[bool, int, int, str, int, str, int, list[str]]:
    """Where a fitting comes in the working order."""
    joint = draft.chosen.joint
    post = posts.get(joint)
    in_air = 0 if is_join(joint) else 1
    place = in_air if post is None else 2 if post.kind == "lead" else 3
    labels: list[str] = sorted(cut.labels[wire.key] for wire in draft.wires)
    numbers = [cut.numbers[wire.key] for wire in draft.wires]
    rank = ranks.get(joint, 0)
    return (
        draft.stage == "aboard",
        place,
        rank,
        cut.joint_label(joint),
        -draft.current_ma,
        draft.circuit,
        min(numbers),
        labels,
    )


def _crimp(number: int, draft: _Draft, cut: Wires) -> Crimp:
    """One crimp as a plan tells it."""
    row = draft.row
    return Crimp(
        number=number,
        item=row.name,
        kind=row.kind,
        colour=row.colour,
        die=row.die,
        joint=cut.joint_label(draft.chosen.joint),
        stage=draft.stage,
        barrels=tuple(
            tuple(cut.end(wire.key, draft.chosen.joint) for wire in half) for half in draft.halves
        ),
        folded=any(draft.folds),
        area_um2=tuple(map(barrel_area_um2, draft.halves, draft.folds)),
        area_min_um2=tuple(barrel.area_min_um2 for barrel in row.barrels),
        area_max_um2=tuple(barrel.area_max_um2 for barrel in row.barrels),
        current_ma=draft.current_ma,
        lined=row.lined,
    )
