"""Whether a fitting takes given wire ends where it sits: barrel by barrel, number, current."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lugwright.assemble.ends import BarrelWire
from lugwright.limits.schema import Limits
from lugwright.plans.choice import ChosenFitting, WireKey
from lugwright.stock.schema import Barrel, FittingType
from lugwright.trade.barrels import area_and_sleeve_fit, barrel_takes, is_folded, wires_counted
from lugwright.trade.fittings import Where, most_in_barrel


def which_folded(
    barrels: Sequence[Barrel], halves: Sequence[Sequence[BarrelWire]], folded: bool
) -> tuple[bool, ...]:
    """For each half of a fitting whether its lone wire is folded back; none when not ``folded``."""
    return tuple(
        folded and is_folded(barrel, half) for barrel, half in zip(barrels, halves, strict=True)
    )


def fits(
    fitting: FittingType,
    halves: Sequence[Sequence[BarrelWire]],
    folded: bool,
    limits: Limits,
    where: Where,
    post: str = "",
) -> bool:
    """Whether a fitting takes wire ends, one group per barrel, in the order of its barrels.

    ``where`` says which limit counts the wires: wires per barrel on ``post`` and at the join of
    an extension, wires per splice over all halves in mid-air.
    ``folded`` folds back every lone wire that does not fit as it is.
    """
    if len(halves) != len(fitting.barrels) or not all(halves):
        return False
    folds = which_folded(fitting.barrels, halves, folded)
    if folded and not (limits.fold_back and any(folds)):
        return False
    if not _number_fits(halves, folds, limits, where, post):
        return False
    return all(
        barrel_takes(barrel, half, limits, folded=fold, lined=fitting.lined)
        for barrel, half, fold in zip(fitting.barrels, halves, folds, strict=True)
    )


def _number_fits(
    halves: Sequence[Sequence[BarrelWire]],
    folds: Sequence[bool],
    limits: Limits,
    where: Where,
    post: str,
) -> bool:
    """Whether the wires are few enough for where the fitting sits."""
    if where == "mid-air" and sum(len(half) for half in halves) > limits.wires_per_splice:
        return False
    most = most_in_barrel(where, limits, post)
    return all(wires_counted(half, fold) <= most for half, fold in zip(halves, folds, strict=True))


def carries(fitting: FittingType, current_ma: int) -> bool:
    """Whether a fitting's own current limit (0: none) allows a current."""
    return fitting.carries_ma == 0 or current_ma <= fitting.carries_ma


def way_round(
    chosen: ChosenFitting, row: FittingType, known: Mapping[WireKey, BarrelWire]
) -> ChosenFitting:
    """A butt with unlike halves, turned so that each half holds the wires that fit it."""
    if len(row.barrels) != 2 or len(chosen.barrels) != 2 or row.barrels[0] == row.barrels[1]:
        return chosen
    for way in (chosen.barrels, chosen.barrels[::-1]):
        halves = [[known[key] for key in keys] for keys in way]
        folds = which_folded(row.barrels, halves, chosen.folded)
        if all(map(area_and_sleeve_fit, row.barrels, halves, folds)):
            return replace(chosen, barrels=way)
    return chosen
