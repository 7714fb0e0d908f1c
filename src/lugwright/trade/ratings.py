"""What passes through each way, and what a switch is judged by: current times the kind of load.

A contact that carries a lamp steadily is worn by its cold filament at each closing, so a switch is
rated below what it carries by a factor of the load's kind (AC 43.13-1B, Table 11-4), unless its
maker rates it for that kind. Fuses, breakers and dimmers are judged by the current itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lugwright.limits.schema import Limits
from lugwright.scenario.console import BoatBlock, Console, Load, Way
from lugwright.trade.demand import demand_in
from lugwright.trade.states import load_states

HIGHER_VOLTS_MV = 18_000  # between nominal 12 V and 24 V: from here on the row of 28 V holds
_RESISTIVE = "resistive"


@dataclass(frozen=True)
class WayLoad:
    """What flows through a way at most, mA; ``factored_ma`` with every load's factor."""

    way: Way
    circuit: str
    current_ma: int
    factored_ma: int


def way_loads(console: Console, limits: Limits) -> tuple[WayLoad, ...]:
    """What flows through every way that supplies a circuit, the largest over the load states.

    In the file's order. Rule R33.
    """
    by_far = {c.supplied_by: c.name for c in console.circuits if c.supplied_by}
    found = []
    for way in console.ways:
        if way.far in by_far:
            circuit = by_far[way.far]
            current, factored = _through(console, limits, way, circuit)
            found.append(WayLoad(way, circuit, current, factored))
    return tuple(found)


def near_loads(console: Console) -> Mapping[str, int]:
    """What flows through all ways of each near post together, the largest over the states, mA."""
    by_far = {c.supplied_by: c.name for c in console.circuits if c.supplied_by}
    found: dict[str, int] = {}
    for state in load_states(console):
        totals = demand_in(console, state).totals
        sums: dict[str, int] = {way.near: 0 for way in console.ways}
        for way in console.ways:
            if way.far in state.closed and way.far in by_far:
                sums[way.near] += totals[by_far[way.far]]
        found = {post: max(value, found.get(post, 0)) for post, value in sums.items()}
    return found


def _through(console: Console, limits: Limits, way: Way, circuit: str) -> tuple[int, int]:
    def factored(load: Load | BoatBlock) -> int:
        return load.current_ma * factor_permille(console, limits, way, load)

    states = [state for state in load_states(console) if way.far in state.closed]
    current = max((demand_in(console, s).totals[circuit] for s in states), default=0)
    if way.kind != "switch":
        return current, current
    weighed = max((demand_in(console, s, factored).totals[circuit] for s in states), default=0)
    return current, -(-weighed // 1000)


def factor_permille(console: Console, limits: Limits, way: Way, load: Load | BoatBlock) -> int:
    """By how much a load's current counts more in a switch, thousandths."""
    kind = load.kind if isinstance(load, Load) else load.load_kind
    if kind in way.rated_for:
        return 1000
    factors: Mapping[str, int] = getattr(limits, factors_of(console))
    return factors.get(kind, factors[_RESISTIVE])


def factors_of(console: Console) -> str:
    """The field of ``Limits`` that holds the factors at a console's volts."""
    return "switch_24v_permille" if console.nominal_mv >= HIGHER_VOLTS_MV else "switch_12v_permille"
