"""Which wire end of an answer goes into which barrel, so that no lug carries more than it may."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from itertools import combinations

from lugwright.plans.choice import WireKey
from lugwright.problem.schema import LugPick
from lugwright.trade.names import lead_wire

Currents = tuple[int, ...]
"""By load state, mA."""
End = tuple[str, WireKey, Currents, bool]
"""A wire end at a joint: its type, its wire, its currents, and whether they come in there."""


def sums(ends: Collection[End], states: int) -> list[tuple[int, int]]:
    """What flows in by these ends, and what flows out, in each of so many load states."""
    found = []
    for state in range(states):
        inward = sum(end[2][state] for end in ends if end[3])
        found.append((inward, sum(end[2][state] for end in ends if not end[3])))
    return found


def fill(pick: LugPick, ends: list[End], joint: str) -> tuple[tuple[WireKey, ...], ...]:
    """Lay ends into the halves of a mid-air fitting; a lead is named by its post."""
    left = list(ends)
    halves = []
    for half in pick.barrels:
        taken = []
        for name in half:
            match = next((end for end in left if end[0] == name), None)
            if match is None:
                taken.append(WireKey("given", lead_wire(joint)))
            else:
                left.remove(match)
                taken.append(match[1])
        halves.append(tuple(sorted(taken)))
    return tuple(halves)


def assign_lugs(
    picks: tuple[LugPick, ...], ends: list[End], inside_ma: Currents
) -> list[tuple[LugPick, tuple[tuple[WireKey, ...], ...]]] | None:
    """The first assignment, in order of names, in which no lug carries more than it may.

    A lug carries what flows into it or what flows out, whichever is more. At least ``inside_ma``
    (by load state) of what comes in must go on inside the same barrel.
    """
    if any(inside_ma) and not any(end[3] for end in ends):
        return None
    by_type: dict[str, list[End]] = defaultdict(list)
    for end in ends:
        by_type[end[0]].append(end)

    def place(index: int, left: dict[str, tuple[End, ...]]) -> list[tuple[End, ...]] | None:
        if index == len(picks):
            return []
        pick = picks[index]
        for lug in _takes(pick.barrels[0], left):
            flows = sums(lug, len(inside_ma))
            if any(max(each) > pick.carries_ma for each in flows):
                continue
            short = any(out < least for (_, out), least in zip(flows, inside_ma, strict=True))
            if short and any(end[3] for end in lug):
                continue
            rest = {name: tuple(e for e in group if e not in lug) for name, group in left.items()}
            tail = place(index + 1, rest)
            if tail is not None:
                return [lug, *tail]
        return None

    placed = place(0, {name: tuple(group) for name, group in by_type.items()})
    if placed is None:
        return None
    return [
        (pick, (tuple(sorted(end[1] for end in lug)),))
        for pick, lug in zip(picks, placed, strict=True)
    ]


def _takes(names: tuple[str, ...], left: dict[str, tuple[End, ...]]) -> list[tuple[End, ...]]:
    """Every set of ends that has the given types, in order of names."""
    found: dict[tuple[End, ...], None] = {}
    wanted = {name: names.count(name) for name in names}

    def extend(types: list[str], taken: tuple[End, ...]) -> None:
        if not types:
            found[tuple(sorted(taken, key=lambda end: (end[0], end[1])))] = None
            return
        for combo in combinations(left.get(types[0], ()), wanted[types[0]]):
            extend(types[1:], (*taken, *combo))

    extend(sorted(wanted), ())
    return list(found)
