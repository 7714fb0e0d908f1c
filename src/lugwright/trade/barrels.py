"""Crimp barrels: which wire ends one barrel takes together, as they are or folded back.

A barrel takes wires by summed strand area, summed jacket cross-section, lining and ratio of
sizes. How many wires a fitting may hold where it sits is asked apart. A new rule about the wires
of one barrel goes into ``barrel_takes``, and into the two rooms that judge for themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from lugwright.limits.schema import Limits
from lugwright.stock.schema import Barrel

LINED_MOST = 2  # adhesive-lined barrels: two wires at most (common practice, no source)


class StrandedEnd(Protocol):
    """A wire end as a barrel sees it: strand area, µm², and diameter over its insulation, µm."""

    @property
    def area_um2(self) -> int:
        """Strand area, µm²."""

    @property
    def insulation_um(self) -> int:
        """Diameter over the insulation, µm."""


def wires_counted(ends: Sequence[object], folded: bool) -> int:
    """Wires in a barrel as they are counted: a lone wire folded back counts twice."""
    return 2 if folded and len(ends) == 1 else len(ends)


def barrel_area_um2(ends: Sequence[StrandedEnd], folded: bool) -> int:
    """Summed strand area in one barrel, µm²; a lone wire folded back counts twice."""
    area = sum(end.area_um2 for end in ends)
    return 2 * area if folded and len(ends) == 1 else area


def area_fits(barrel: Barrel, area_um2: int) -> bool:
    """Whether a strand area lies in the barrel's range."""
    return barrel.area_min_um2 <= area_um2 <= barrel.area_max_um2


def area_and_sleeve_fit(barrel: Barrel, ends: Sequence[StrandedEnd], folded: bool) -> bool:
    """Whether the wires' area lies in the barrel's range and their insulation in its sleeve.

    Jacket cross-sections add, so squared diameters are compared; a fold counts them once.
    """
    if not area_fits(barrel, barrel_area_um2(ends, folded)):
        return False
    return sum(end.insulation_um**2 for end in ends) <= barrel.sleeve_um**2


def barrel_takes(
    barrel: Barrel, ends: Sequence[StrandedEnd], limits: Limits, *, folded: bool, lined: bool
) -> bool:
    """Whether these wires go into this barrel together (number per fitting not judged here).

    Rule R18.
    """
    if not area_and_sleeve_fit(barrel, ends, folded):
        return False
    if lined and wires_counted(ends, folded) > LINED_MOST:
        return False
    areas = [end.area_um2 for end in ends]
    return max(areas) * 1000 <= min(areas) * limits.size_ratio_permille


def barrel_margin_um2(barrel: Barrel, ends: Sequence[StrandedEnd], folded: bool) -> int:
    """How far the summed strand area lies from the nearer end of the barrel's range, µm².

    Rule R28.
    """
    area = barrel_area_um2(ends, folded)
    return min(area - barrel.area_min_um2, barrel.area_max_um2 - area)


def is_folded(barrel: Barrel, ends: Sequence[StrandedEnd]) -> bool:
    """Whether wires are folded back in a barrel: one alone that fits only so, never one that fits.

    Whether folding is allowed at all is not asked here.
    """
    if len(ends) != 1:
        return False
    area = ends[0].area_um2
    return not area_fits(barrel, area) and area_fits(barrel, 2 * area)


def folds(
    barrel: Barrel, ends: Sequence[StrandedEnd], limits: Limits, lined: bool, most: int
) -> bool | None:
    """How these ends go into a barrel: False as they are, True folded back, None not at all.

    Rule R18.
    """
    if len(ends) <= most and barrel_takes(barrel, ends, limits, folded=False, lined=lined):
        return False
    may_fold = limits.fold_back and len(ends) == 1 and most >= 2
    if may_fold and barrel_takes(barrel, ends, limits, folded=True, lined=lined):
        return True
    return None
