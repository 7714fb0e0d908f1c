"""Whether a fitting takes given wire ends: area, sleeve, number, lining, ratio, current."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal

from lugwright.assemble.ends import BarrelWire
from lugwright.limits.schema import Limits
from lugwright.plans.choice import ChosenFitting, WireKey
from lugwright.stock.schema import Barrel, FittingType

Where = Literal["post", "mid-air", "join"]
LINED_MOST = 2  # adhesive-lined barrels: two wires at most (common practice, no source)


def barrel_area_um2(wires: Sequence[BarrelWire], folded: bool) -> int:
    """Summed strand area in one barrel, µm²; a lone wire folded back counts twice."""
    area = sum(wire.area_um2 for wire in wires)
    return 2 * area if folded and len(wires) == 1 else area


def is_folded(barrel: Barrel, wires: Sequence[BarrelWire]) -> bool:
    """Whether wires are folded back in a barrel: one alone that fits only so, never one that fits.

    Whether folding is allowed at all is not asked here.
    """
    if len(wires) != 1:
        return False
    area = wires[0].area_um2
    least, most = barrel.area_min_um2, barrel.area_max_um2
    return not least <= area <= most and least <= 2 * area <= most


def which_folded(
    barrels: Sequence[Barrel], halves: Sequence[Sequence[BarrelWire]], folded: bool
) -> tuple[bool, ...]:
    """For each half of a fitting whether its lone wire is folded back; none when not ``folded``."""
    return tuple(
        folded and is_folded(barrel, half) for barrel, half in zip(barrels, halves, strict=True)
    )


def area_and_sleeve_fit(barrel: Barrel, wires: Sequence[BarrelWire], folded: bool) -> bool:
    """Whether the wires' area lies in the barrel's range and their insulation in its sleeve.

    Jacket cross-sections add, so squared diameters are compared; a fold counts them once.
    """
    area = barrel_area_um2(wires, folded)
    jackets = sum(wire.insulation_um**2 for wire in wires)
    return barrel.area_min_um2 <= area <= barrel.area_max_um2 and jackets <= barrel.sleeve_um**2


def _counts(wires: Sequence[BarrelWire], folded: bool) -> int:
    """Wires in a barrel as they are counted: a fold counts two."""
    return 2 if folded and len(wires) == 1 else len(wires)


def fits(
    fitting: FittingType,
    halves: Sequence[Sequence[BarrelWire]],
    folded: bool,
    limits: Limits,
    where: Where,
    post: str = "",
) -> bool:
    """Whether a fitting takes wire ends, one group per barrel, in the order of its barrels.

    ``where`` says which limit counts the wires: wires per barrel on ``post``, wires per splice
    over all halves in mid-air, neither at the join of an extension (a fold still counts two).
    ``folded`` folds back every lone wire that does not fit as it is.
    """
    if len(halves) != len(fitting.barrels) or not all(halves):
        return False
    folds = which_folded(fitting.barrels, halves, folded)
    if folded and not (limits.fold_back and any(folds)):
        return False
    most = limits.at("wires_per_barrel", post)
    if not _number_fits(halves, folds, limits, where, most):
        return False
    return all(
        area_and_sleeve_fit(barrel, half, fold)
        and (not fitting.lined or _counts(half, fold) <= LINED_MOST)
        and _ratio_fits(half, limits)
        for barrel, half, fold in zip(fitting.barrels, halves, folds, strict=True)
    )


def _number_fits(
    halves: Sequence[Sequence[BarrelWire]],
    folds: Sequence[bool],
    limits: Limits,
    where: Where,
    most: int,
) -> bool:
    """Whether the wires are few enough for where the fitting sits."""
    if where == "mid-air":
        return sum(len(half) for half in halves) <= limits.wires_per_splice
    if where == "join" and not any(folds):
        return True
    return all(_counts(half, fold) <= most for half, fold in zip(halves, folds, strict=True))


def _ratio_fits(wires: Sequence[BarrelWire], limits: Limits) -> bool:
    """Whether the sizes in one barrel are near enough to each other."""
    areas = [wire.area_um2 for wire in wires]
    return max(areas) * 1000 <= min(areas) * limits.size_ratio_permille


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
