"""What an objective compares, level by level: its quantities, their weights and their names.

``LEVELS`` has the names in order for each objective of the limits, the first counting most.
An objective is either one weighted sum (``weights_of``), or its levels are quantities, one each
(``ORDER``).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, Protocol

from lugwright.limits.schema import Limits, ObjectiveName

Quantity = Literal["wire", "stacked", "tallest", "fittings", "money"]
"""Wire in 0.1 mm, stacked lugs, the tallest stack, fittings, money in millionths."""

WIRE, STACKED, FITTINGS = "wire length, 0.1 mm", "stacked lugs", "fittings"
TALLEST, MONEY, WEIGHTED = "tallest stack", "money, millionths", "weighted sum"
WORTH = "wire length + worth of stacked lugs and fittings, 0.1 mm"

LEVELS: Mapping[ObjectiveName, tuple[str, ...]] = MappingProxyType(
    {
        "default": (WORTH,),
        "shortest": (WIRE, STACKED, FITTINGS),
        "lowest-stacks": (STACKED, TALLEST, WIRE, FITTINGS),
        "cheapest": (MONEY,),
        "weights": (WEIGHTED,),
    }
)
ORDER: Mapping[ObjectiveName, tuple[Quantity, ...]] = MappingProxyType(
    {
        "shortest": ("wire", "stacked", "fittings"),
        "lowest-stacks": ("stacked", "tallest", "wire", "fittings"),
    }
)


def weights_of(limits: Limits) -> Mapping[Quantity, int]:
    """What one of each quantity counts in an objective of one level. Rule R28."""
    if limits.objective == "cheapest":
        return {"money": 1}
    if limits.objective == "weights":
        get = limits.weights.get
        return {
            "wire": get("length", 0),
            "stacked": get("stacked", 0),
            "fittings": get("fittings", 0),
            "money": get("money", 0),
        }
    return {"wire": 1, "stacked": limits.lug_worth_dmm, "fittings": limits.fitting_worth_dmm}


def counts_money(limits: Limits) -> bool:
    """Whether the objective in force compares money."""
    return limits.objective not in ORDER and bool(weights_of(limits).get("money"))


class Crimped(Protocol):
    """Barrels as equal plans are told apart by them."""

    @property
    def folds(self) -> int:
        """Wires folded back."""

    @property
    def money_micro(self) -> int:
        """Money, millionths."""

    @property
    def margin_um2(self) -> int:
        """Summed distance of each barrel's area from the nearer end of its range, µm²."""


def rank_of_equals(crimped: Crimped) -> tuple[int, int, int]:
    """What comes first among equals: fewest wires folded back, less money, more margin.

    Rule R28.
    """
    return crimped.folds, crimped.money_micro, -crimped.margin_um2


def level_values(limits: Limits, sums: Mapping[Quantity, int]) -> tuple[int, ...]:
    """The value of every level of the objective in force. Rule R28."""
    order = ORDER.get(limits.objective)
    if order:
        return tuple(sums[quantity] for quantity in order)
    return (sum(weight * sums[name] for name, weight in weights_of(limits).items()),)
