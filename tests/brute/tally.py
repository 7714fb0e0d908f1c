"""What a choice costs, and how the shop's objective compares it."""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.limits.schema import Limits

# Not one of the shop's: for listing every pair of money and wire.
MONEY_THEN_WIRE = "money, then wire"


@dataclass(frozen=True)
class Tally:
    """The counted quantities of a plan, or of a part of one. ``tallest`` in lugs on one stud.

    ``folds`` counts wires folded back, ``margin_um2`` sums over barrels how far the area in each
    is from the nearer end of its range. Rules R26, R28.
    """

    wire_dmm: int = 0
    stacked: int = 0
    fittings: int = 0
    money_micro: int = 0
    tallest: int = 0
    folds: int = 0
    margin_um2: int = 0

    def __add__(self, other: Tally) -> Tally:
        """Both parts together: sums, and the taller of the two stacks."""
        return Tally(
            self.wire_dmm + other.wire_dmm,
            self.stacked + other.stacked,
            self.fittings + other.fittings,
            self.money_micro + other.money_micro,
            max(self.tallest, other.tallest),
            self.folds + other.folds,
            self.margin_um2 + other.margin_um2,
        )


EQUALS = 3
"""The last entries of a key: what tells plans of equal objective apart."""


def summed_key(tally: Tally, limits: Limits) -> tuple[int, ...]:
    """The objective without the tallest stack, then folds, money and margin (the more the better):
    every entry is a sum over the plan's parts. Rule R28.
    """
    return (*_objective(tally, limits), tally.folds, tally.money_micro, -tally.margin_um2)


def _objective(tally: Tally, limits: Limits) -> tuple[int, ...]:
    """The objective without the tallest stack: every entry is a sum over the plan's parts.

    So the key of two parts together is the entrywise sum of their keys, and adding the same
    part to two choices never changes which of them compares less. Rule R28.
    """
    length, stacked, fittings = tally.wire_dmm, tally.stacked, tally.fittings
    if limits.objective == "default":
        lug, fitting = limits.lug_worth_dmm, limits.fitting_worth_dmm
        return (length + lug * stacked + fitting * fittings,)
    if limits.objective == "shortest":
        return (length, stacked, fittings)
    if limits.objective == "lowest-stacks":
        return (stacked, length, fittings)
    if limits.objective == "cheapest":
        return (tally.money_micro,)
    if limits.objective == MONEY_THEN_WIRE:
        return (tally.money_micro, length)
    worth = limits.weights
    return (
        worth.get("length", 0) * length
        + worth.get("stacked", 0) * stacked
        + worth.get("fittings", 0) * fittings
        + worth.get("money", 0) * tally.money_micro,
    )


def with_tallest(key: tuple[int, ...], tallest: int, limits: Limits) -> tuple[int, ...]:
    """The whole objective vector from the summed key and the tallest stack."""
    if limits.objective != "lowest-stacks":
        return key
    stacked, *rest = key
    return (stacked, tallest, *rest)


def plus(one: tuple[int, ...], other: tuple[int, ...]) -> tuple[int, ...]:
    """Entrywise sum."""
    return tuple(a + b for a, b in zip(one, other, strict=True))
