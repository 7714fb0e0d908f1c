"""What is minimised: the shop's choice as levels, and as one integer for the solver.

A vector of levels is folded into one integer with weights large enough that no sum of lower
levels reaches one step of a higher one; the weights come from the problem at hand, so that the
numbers stay small enough for the solver's arithmetic.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from lugwright.problem.schema import Problem
from lugwright.trade.objective import LEVELS, MONEY, ORDER, STACKED, WIRE, Quantity, weights_of

QUANTITIES: tuple[Quantity, ...] = ("wire", "stacked", "tallest", "fittings", "money")


@dataclass(frozen=True)
class Sums:
    """The quantities of section "decision problem", as sums over (part of) a plan.

    ``tallest`` is a maximum, not a sum. ``changes`` counts those of a harness that is built
    (``problem.built``), 0 where none is. ``folds`` and ``margin_um2`` tell equal plans apart
    (rule R28).
    """

    wire_dmm: int = 0
    stacked: int = 0
    tallest: int = 0
    fittings: int = 0
    money_micro: int = 0
    changes: int = 0
    folds: int = 0
    margin_um2: int = 0

    def __add__(self, other: Sums) -> Sums:
        return Sums(
            self.wire_dmm + other.wire_dmm,
            self.stacked + other.stacked,
            max(self.tallest, other.tallest),
            self.fittings + other.fittings,
            self.money_micro + other.money_micro,
            self.changes + other.changes,
            self.folds + other.folds,
            self.margin_um2 + other.margin_um2,
        )


def quantity_of(sums: Sums, quantity: Quantity) -> int:
    """One of the quantities: 0.1 mm, lugs, fittings or millionths."""
    return {
        "wire": sums.wire_dmm,
        "stacked": sums.stacked,
        "tallest": sums.tallest,
        "fittings": sums.fittings,
        "money": sums.money_micro,
    }[quantity]


@dataclass(frozen=True)
class Objective:
    """Levels by name, most important first, and the weight of each quantity in one integer.

    ``order`` names the quantity of every level where each level is one; it is empty where there
    is one level, a weighted sum.
    """

    name: str
    levels: tuple[str, ...]
    wire: int
    stacked: int
    tallest: int
    fittings: int
    money: int
    order: tuple[Quantity, ...] = ()
    changes: int = 0

    def scalar(self, sums: Sums) -> int:
        """The folded value of some sums (0.1 mm, lugs, fittings, millionths as weighted)."""
        return (
            self.wire * sums.wire_dmm
            + self.stacked * sums.stacked
            + self.tallest * sums.tallest
            + self.fittings * sums.fittings
            + self.money * sums.money_micro
            + self.changes * sums.changes
        )

    def vector(self, sums: Sums) -> tuple[int, ...]:
        """The value of every level."""
        if self.order:
            return tuple(quantity_of(sums, quantity) for quantity in self.order)
        return (self.scalar(sums),)

    def unfold(self, scalar: int) -> tuple[int, ...]:
        """The vector of a folded value (of a bound, say). Negative values unfold to zeros."""
        left = max(0, scalar)
        if not self.order:
            return (left,)
        weights = {
            "wire": self.wire,
            "stacked": self.stacked,
            "tallest": self.tallest,
            "fittings": self.fittings,
            "money": self.money,
        }
        values = []
        for quantity in self.order:
            value, left = divmod(left, weights[quantity])
            values.append(value)
        return tuple(values)


def objective_of(problem: Problem) -> Objective:
    """The objective the limits ask for, with folding weights that fit this problem.

    Where a harness is built already, what its changes are worth is added. Rule R28.
    """
    plain = _plain_objective(problem)
    if not problem.built:
        return plain
    levels = (f"{plain.levels[0]}, with changes",)
    return replace(plain, levels=levels, changes=problem.change_worth)


def _plain_objective(problem: Problem) -> Objective:
    """The objective of a new harness."""
    limits = problem.limits
    levels = LEVELS[limits.objective]
    order = ORDER.get(limits.objective, ())
    weights = _folding(problem, order) if order else weights_of(limits)
    wire, stacked, tallest, fittings, money = (weights.get(each, 0) for each in QUANTITIES)
    return Objective(
        limits.objective, levels, wire, stacked, tallest, fittings, money, order=order
    )


def _folding(problem: Problem, order: tuple[Quantity, ...]) -> dict[Quantity, int]:
    """Weights under which one step of a level outweighs all that the levels below it can be."""
    ends, wire_dmm = _most_ends(problem), _most_wire_dmm(problem)
    weights: dict[Quantity, int] = {}
    weight = 1
    for quantity in reversed(order):
        weights[quantity] = weight
        weight *= (wire_dmm if quantity == "wire" else ends) + 1
    return weights


def money_then(problem: Problem, quantity: Quantity) -> Objective:
    """Money, then stacked lugs or wire: for the frontier of money against one of them.

    Raises ValueError for another quantity.
    """
    if quantity == "stacked":
        step = _most_ends(problem) + 1
        return Objective("money", (MONEY, STACKED), 0, 1, 0, 0, step, ("money", "stacked"))
    if quantity == "wire":
        step = _most_wire_dmm(problem) + 1
        return Objective("money", (MONEY, WIRE), 1, 0, 0, 0, step, ("money", "wire"))
    raise ValueError(f"money is not set against {quantity}")


def _most_ends(problem: Problem) -> int:
    """More fittings, and more lugs, than any plan can have: two per jumper and what is given."""
    nodes = sum(len(circuit.nodes) + 2 for circuit in problem.circuits)
    coming = sum(group.ends + group.ready_lugs for group in problem.boat_groups)
    coming += len(problem.bench_ends)
    return 2 * nodes + coming + 2 * len(problem.extensions) + 2 * len(problem.circuits)


def _most_wire_dmm(problem: Problem) -> int:
    """More wire than any plan can have: every joint reached by the longest jumper there is."""
    total = problem.fixed_dmm
    for circuit in problem.circuits:
        edges = (*circuit.edges, *circuit.take_off)
        longest = max((edge.length_dmm for edge in edges), default=0)
        total += longest * len(circuit.nodes)
        total += max((landing.extension_dmm for landing in circuit.landings), default=0)
    return total
