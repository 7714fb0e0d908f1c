"""Which two things are set against each other, and what a search minimises for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from lugwright.base.scale import mm_text
from lugwright.limits.schema import ObjectiveName
from lugwright.model.formulation.objective import Objective, money_then, objective_of
from lugwright.problem.schema import Problem
from lugwright.trade.objective import Quantity

NO_CAP = 1 << 60

Value = Literal["wire", "money", "lugs"]
Against = Literal["lugs", "wire", "drop"]


@dataclass(frozen=True)
class Trade:
    """``value`` is minimised under ever lower caps on what it is set ``against``.

    ``drop`` is the worst drop: the largest share of its own limit that any load takes, in
    thousandths, rounded up.
    """

    value: Value
    against: Against

    @property
    def name(self) -> str:
        """Both sides, ``wire:lugs``."""
        return f"{self.value}:{self.against}"

    @property
    def objective(self) -> ObjectiveName:
        """The objective by which the plans of this trade are made."""
        names: dict[Value, ObjectiveName] = {
            "wire": "shortest",
            "money": "cheapest",
            "lugs": "lowest-stacks",
        }
        return names[self.value]

    def held(self, cap: int) -> tuple[str, ...]:
        """The cap a point was found under, in words."""
        if cap == NO_CAP:
            return ()
        return {
            "lugs": (f"at most {cap} stacked lugs",),
            "wire": (f"at most {mm_text(cap)} mm of wire",),
            "drop": (f"at most {cap / 10:.1f} % of the drop allowed",),
        }[self.against]


WIRE_AGAINST_LUGS = Trade("wire", "lugs")
TRADES: Mapping[str, Trade] = MappingProxyType(
    {
        trade.name: trade
        for trade in (
            WIRE_AGAINST_LUGS,
            Trade("money", "lugs"),
            Trade("money", "wire"),
            Trade("wire", "drop"),
            Trade("money", "drop"),
            Trade("lugs", "drop"),
        )
    }
)


def capped_quantity(trade: Trade) -> Quantity:
    """What a cap counts. Raises ValueError where it is no sum over the plan."""
    if trade.against == "drop":
        raise ValueError("the worst drop is no sum over a plan")
    return "stacked" if trade.against == "lugs" else "wire"


def folded(problem: Problem, trade: Trade) -> Objective:
    """The value, then what it is set against: so no point is found that another one beats."""
    if trade.value == "money":
        return money_then(problem, capped_quantity(trade))
    return objective_of(problem)
