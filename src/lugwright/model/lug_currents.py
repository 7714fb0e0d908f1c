"""Current limits of fittings: which wire goes into which lug, and what each lug carries.

Options say how many ends of each type share a barrel. Here the ends themselves are assigned to
the barrels of the chosen option, so that the sum of their currents can be held to each limit.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from lugwright.model.ask import LUG_CURRENTS, GroupKey
from lugwright.model.variables import Linear, Pick, Variables, total
from lugwright.problem.demand import circuit_totals
from lugwright.problem.groups import NO_LIMIT_MA
from lugwright.problem.schema import GroupOption


@dataclass(frozen=True)
class EndHere:
    """One wire end that may be at a joint: its type, whether it is there, and its current."""

    end_type: str
    present: Linear
    current: Linear


def add_lug_currents(v: Variables) -> None:
    """Hold every fitting and tab to its limit, where some fitting has one that could bind."""
    if LUG_CURRENTS not in v.ask.families:
        return
    for key, picks in v.picks.items():
        joint, whose = key
        if whose.startswith("arrival "):
            continue  # judged when their options were made
        kind = v.problem.post_kind.get(joint, "splice")
        if kind in ("splice", "lead"):
            _mid_air(v, key, picks)
        elif kind == "tab":
            _tab(v, key, picks)
        else:
            _stud(v, key, picks)


def ends_here(v: Variables, key: GroupKey) -> list[EndHere]:
    """Every end that may belong to a group at a joint."""
    joint, whose = key
    totals = circuit_totals(v.problem.console)
    aboard_only = whose.startswith("pigtail ")
    circuit = whose.removeprefix("pigtail ")
    found: list[EndHere] = []
    guests = v.problem.console.circuit(circuit).rides_on
    guest = guests and (guests, joint) in v.node_of and (circuit, joint) not in v.node_of
    if not aboard_only:
        for index, arc in enumerate(v.arcs):
            if arc.circuit != circuit or joint not in (arc.a, arc.b):
                continue
            if guest and not (arc.take_off and arc.a == joint):
                continue
            found.append(EndHere(arc.choice.end_type, arc.use, v.flow[index]))
    supply = v.problem.circuit(circuit).supply
    if supply and supply.aboard == aboard_only:
        for source in v.sources_at[circuit, joint]:
            name = source.extension.end_type if source.extension else supply.end_type
            if name:
                found.append(EndHere(name, source.use, totals[circuit] * source.use))
    return found


def _tab(v: Variables, key: GroupKey, picks: list[Pick]) -> None:
    post_limit = v.problem.post_limit_ma.get(key[0], 0) or NO_LIMIT_MA
    carried = total(end.current for end in ends_here(v, key))
    for option, use in picks:
        if option.picks:
            limit = min(post_limit, option.picks[0].current_limit_ma)
            if limit < NO_LIMIT_MA:
                v.model.add(carried <= limit).only_enforce_if(use)


def _mid_air(v: Variables, key: GroupKey, picks: list[Pick]) -> None:
    """What flows in is the current of the one jumper on the supply side."""
    joint, circuit = key
    flowing_in = total(
        v.flow[index]
        for index, arc in enumerate(v.arcs)
        if arc.circuit == circuit and arc.b == joint
    )
    for option, use in picks:
        if option.picks and option.picks[0].current_limit_ma < NO_LIMIT_MA:
            v.model.add(flowing_in <= option.picks[0].current_limit_ma).only_enforce_if(use)


def _stud(v: Variables, key: GroupKey, picks: list[Pick]) -> None:
    if all(p.current_limit_ma >= NO_LIMIT_MA for option, _ in picks for p in option.picks):
        return
    ends = ends_here(v, key)
    slots = max((len(option.picks) for option, _ in picks), default=0)
    most = max(sum(circuit_totals(v.problem.console).values()), 1)
    in_slot: dict[tuple[int, str], list[Linear]] = defaultdict(list)
    carried: dict[int, list[Linear]] = defaultdict(list)
    for number, end in enumerate(ends):
        places = []
        for slot in range(slots):
            here = v.model.new_bool_var(f"{key} end {number} in lug {slot}")
            current = v.model.new_int_var(0, most, f"{key} current {number} in lug {slot}")
            v.model.add(current >= end.current - most * (1 - here))
            in_slot[slot, end.end_type].append(here)
            carried[slot].append(current)
            places.append(here)
        v.model.add(total(places) == end.present)
    types = sorted({end.end_type for end in ends})
    for slot in range(slots):
        for name in types:
            wanted = total(_held(option, slot, name) * use for option, use in picks)
            v.model.add(total(in_slot[slot, name]) == wanted)
        for option, use in picks:
            if slot < len(option.picks) and option.picks[slot].current_limit_ma < NO_LIMIT_MA:
                limit = option.picks[slot].current_limit_ma
                v.model.add(total(carried[slot]) <= limit).only_enforce_if(use)


def _held(option: GroupOption, slot: int, name: str) -> int:
    picks = option.picks
    return picks[slot].barrels[0].count(name) if slot < len(picks) else 0
