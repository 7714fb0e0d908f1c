"""One small question for the enumerator and the planner alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from brute.enumerate import BruteResult, best_by_enumeration
from brute.statements import NONE, Statements
from brute.straight_routes import straight_routes
from lugwright.limits.schema import Limits
from lugwright.routes.schema import Routes, SplicePoint
from lugwright.scenario.brief import Brief
from lugwright.scenario.console import Console
from lugwright.stock.schema import Stock


@dataclass(frozen=True)
class Case:
    """A console, its limits, the stock, and the candidate splice points it may use.

    ``traits`` says in a word each what is in it, so that a sweep can count what it covered;
    ``more`` is what it says beyond the console.
    """

    console: Console
    limits: Limits
    stock: Stock
    seed: int
    traits: frozenset[str]
    splices: Mapping[str, tuple[SplicePoint, ...]]
    more: Statements = NONE
    _found: dict[bool, BruteResult] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @property
    def brief(self) -> Brief:
        """Console, limits and stock as the planner takes them, with their digests."""
        digests = {"scenario": self.console.digest, "stock": self.stock.digest}
        return Brief(self.console, self.limits, self.stock, digests=digests)

    def routes(self) -> Routes:
        """Straight routes with this case's splice points."""
        return straight_routes(self.console, self.splices)

    def best(self, thorough: bool = False) -> BruteResult:
        """What the enumerator finds; it is asked once."""
        if thorough not in self._found:
            routes = self.routes()
            found = best_by_enumeration(
                self.console, self.limits, self.stock, routes, thorough, self.more
            )
            self._found[thorough] = found
        return self._found[thorough]

    def with_best(self, found: BruteResult) -> Case:
        """The same case, for which the enumerator has been asked before."""
        self._found[False] = found
        return self
