"""Current limits of fittings, studs and tabs: which wire goes into which lug, what each carries.

Options say how many ends of each type share a barrel. Here the ends themselves are assigned to
the barrels of the chosen option. What flows into a barrel and what flows out of it are summed
apart: a lug carries the larger of the two (its largest wire end where it holds the end on the
supply's side, since what leaves inside the barrel is no more than that; else all its ends
together, which go through its tongue). What passes inside the barrel of the supply's end does not
pass the stud, so a stud with a limit of its own asks how much does. Where ends lie is decided once,
what they carry in every load state.
"""

from __future__ import annotations

from dataclasses import dataclass

from lugwright.model import solver as cp_model
from lugwright.model.formulation.ask import LUG_CURRENTS, GroupKey
from lugwright.model.formulation.variables import Flows, Linear, Pick, Variables, total
from lugwright.problem.groups import NO_LIMIT_MA
from lugwright.problem.schema import GroupOption
from lugwright.trade.names import circuit_of_pigtail, is_boat_group, is_pigtail
from lugwright.trade.straps import leaves_ma


@dataclass(frozen=True)
class EndHere:
    """One wire end that may be at a joint: its type, whether it is there, and its currents.

    ``currents`` and the most they can be, ``most_ma``, by load state. ``inward``: the end on the
    supply's side, whose current comes in.
    """

    end_type: str
    present: Linear
    currents: tuple[Linear, ...]
    most_ma: tuple[int, ...]
    inward: bool


def add_lug_currents(v: Variables) -> None:
    """Hold every fitting, stud and tab to its limit, where one has a limit that could bind.

    Rule R20.
    """
    if LUG_CURRENTS not in v.ask.families:
        return
    for key, picks in v.picks.items():
        joint, whose = key
        if is_boat_group(whose):
            continue  # judged when their options were made
        kind = v.problem.post_kind.get(joint, "splice")
        if kind in ("splice", "lead"):
            _mid_air(v, key, picks)
        elif kind == "tab":
            _tab(v, key, picks)
        else:
            _stud(v, key, picks)
    for post in sorted(v.problem.studs):
        circuit = v.problem.console.post(post).circuit
        limit = v.problem.post_limit_ma.get(post, 0)
        if limit and circuit in v.ask.circuits and (post, circuit) not in v.picks:
            for state in v.states:
                v.model.add(_taken_elsewhere(v, post, state) <= limit)
                v.model.add(_lone_supply(v, (post, circuit), state) <= limit)


def ends_here(v: Variables, key: GroupKey) -> list[EndHere]:
    """Every end that may belong to a group at a joint."""
    joint, whose = key
    pigtail_only = is_pigtail(whose)
    circuit = circuit_of_pigtail(whose)
    found: list[EndHere] = []
    guests = v.problem.console.circuit(circuit).taken_from
    guest = guests and (guests, joint) in v.node_of and (circuit, joint) not in v.node_of
    if not pigtail_only:
        for index, arc in enumerate(v.arcs):
            if arc.circuit != circuit or joint not in (arc.a, arc.b):
                continue
            if guest and not (arc.take_off and arc.a == joint):
                continue
            currents: tuple[Linear, ...] = tuple(state.flow[index] for state in v.states)
            most = tuple(state.most_ma[index] for state in v.states)
            found.append(EndHere(arc.choice.end_type, arc.use, currents, most, arc.b == joint))
        for load in v.problem.bench_ends_at(circuit, joint):
            drawn = tuple(load.drawn_ma(state.demand) for state in v.states)
            found.append(EndHere(load.end_type, 1, drawn, drawn, False))
    supply = v.problem.circuit(circuit).supply
    kind = v.problem.post_kind.get(joint, "splice")
    if supply and supply.apart_at(kind) == pigtail_only:
        for source in v.sources_at[circuit, joint]:
            name = source.extension.end_type if source.extension else supply.end_type
            if name:
                most = tuple(state.demand.totals[circuit] for state in v.states)
                currents = tuple(each * source.use for each in most)
                found.append(EndHere(name, source.use, currents, most, True))
    return found


def _sums(ends: list[EndHere], state: int) -> tuple[Linear, Linear]:
    """What flows in by these ends in a load state, and what flows out."""
    inward = total(end.currents[state] for end in ends if end.inward)
    return inward, total(end.currents[state] for end in ends if not end.inward)


def _tab(v: Variables, key: GroupKey, picks: list[Pick]) -> None:
    """The push-on by its larger side; the tab by what goes through the tongue."""
    ends = ends_here(v, key)
    for state in range(len(v.states)):
        inward, outward = _sums(ends, state)
        for option, use in picks:
            if option.picks and option.picks[0].carries_ma < NO_LIMIT_MA:
                limit = option.picks[0].carries_ma
                v.model.add(inward <= limit).only_enforce_if(use)
                v.model.add(outward <= limit).only_enforce_if(use)
        post_limit = v.problem.post_limit_ma.get(key[0], 0)
        if post_limit:
            v.model.add(inward - outward <= post_limit)
            v.model.add(outward - inward <= post_limit)


def _mid_air(v: Variables, key: GroupKey, picks: list[Pick]) -> None:
    """What flows in: by the one jumper or pigtail on the supply side; at a root what flows out."""
    joint, whose = key
    ends = ends_here(v, key)
    at_root = joint == v.problem.circuit(circuit_of_pigtail(whose)).root
    for state in range(len(v.states)):
        inward, outward = _sums(ends, state)
        for option, use in picks:
            if option.picks and option.picks[0].carries_ma < NO_LIMIT_MA:
                flowing = outward if at_root else inward
                v.model.add(flowing <= option.picks[0].carries_ma).only_enforce_if(use)


def _stud(v: Variables, key: GroupKey, picks: list[Pick]) -> None:
    """Ends shared out over the lugs of the option, each lug and the stud held to its limit."""
    joint, whose = key
    own = whose == v.problem.console.post(joint).circuit
    post_limit = v.problem.post_limit_ma.get(joint, 0) if own else 0
    limited = any(p.carries_ma < NO_LIMIT_MA for option, _ in picks for p in option.picks)
    if not limited and not post_limit:
        return
    shared = _Shared(v, key, picks)
    shared.hold_lugs()
    if post_limit:
        shared.hold_stud(post_limit)


class _Shared:
    """The ends of one group, each in one of the lugs of the option that is chosen."""

    def __init__(self, v: Variables, key: GroupKey, picks: list[Pick]) -> None:
        self.v, self.key, self.picks = v, key, picks
        self.ends = ends_here(v, key)
        self.slots = range(max((len(option.picks) for option, _ in picks), default=0))
        self.here: dict[tuple[int, int], cp_model.IntVar] = {}
        for number, end in enumerate(self.ends):
            for slot in self.slots:
                name = f"{key} end {number} in lug {slot}"
                self.here[number, slot] = v.model.new_bool_var(name)
            v.model.add(total(self.here[number, slot] for slot in self.slots) == end.present)
        for slot in self.slots:
            for name in sorted({end.end_type for end in self.ends}):
                held = total(_held(option, slot, name) * use for option, use in picks)
                there = (
                    self.here[number, slot]
                    for number, end in enumerate(self.ends)
                    if end.end_type == name
                )
                v.model.add(total(there) == held)
        self.supply = [self._supply_in(slot) for slot in self.slots]

    def _supply_in(self, slot: int) -> cp_model.IntVar:
        """Whether the end on the supply's side lies in that lug."""
        inward = (self.here[number, slot] for number, end in enumerate(self.ends) if end.inward)
        lies = self.v.model.new_bool_var(f"{self.key} supply in lug {slot}")
        self.v.model.add(total(inward) == lies)
        return lies

    def hold_lugs(self) -> None:
        """What flows into a lug, and what flows out of it, is at most its limit."""
        for state in range(len(self.v.states)):
            self._hold_lugs_in(state)

    def _hold_lugs_in(self, state: int) -> None:
        inward, _ = _sums(self.ends, state)
        for slot in self.slots:
            limited = [
                (option.picks[slot].carries_ma, use)
                for option, use in self.picks
                if slot < len(option.picks) and option.picks[slot].carries_ma < NO_LIMIT_MA
            ]
            if not limited:
                continue
            outward = self._flows_out(slot, state)
            for limit, use in limited:
                self.v.model.add(inward <= limit).only_enforce_if([use, self.supply[slot]])
                self.v.model.add(outward <= limit).only_enforce_if(use)

    def _flows_out(self, slot: int, state: int) -> Linear:
        """At least what flows out by the ends in one lug."""
        found: list[Linear] = []
        for number, end in enumerate(self.ends):
            most = end.most_ma[state]
            if not end.inward and most:
                current = self.v.model.new_int_var(0, most, "")
                elsewhere = most * (1 - self.here[number, slot])
                self.v.model.add(current >= end.currents[state] - elsewhere)
                found.append(current)
        return total(found)

    def hold_stud(self, limit: int) -> None:
        """What comes in by tongues is at most the stud's limit, and so is what goes out."""
        model = self.v.model
        for state in range(len(self.v.states)):
            inward, outward = self._past_stud(state)
            for slot, lies in zip(self.slots, self.supply, strict=True):
                inside = self._inside(slot, state)
                model.add(inward - inside <= limit).only_enforce_if(lies)
                model.add(outward - inside <= limit).only_enforce_if(lies)
        elsewhere = model.new_bool_var(f"{self.key} supply in no lug of these")
        model.add_exactly_one([*self.supply, elsewhere])
        for state, flows in enumerate(self.v.states):
            model.add(self._past_stud(state)[1] <= limit).only_enforce_if(elsewhere)
            model.add(_lone_supply(self.v, self.key, flows) <= limit)

    def _past_stud(self, state: int) -> tuple[Linear, Linear]:
        """What comes in by the ends here, and what leaves the stud by all there are."""
        inward, outward = _sums(self.ends, state)
        return inward, outward + _taken_elsewhere(self.v, self.key[0], self.v.states[state])

    def _inside(self, slot: int, state: int) -> Linear:
        """At most what flows out by the ends in one lug."""
        found: list[Linear] = []
        for number, end in enumerate(self.ends):
            most = end.most_ma[state]
            if not end.inward and most:
                current = self.v.model.new_int_var(0, most, "")
                self.v.model.add(current <= end.currents[state])
                self.v.model.add(current <= most * self.here[number, slot])
                found.append(current)
        return total(found)


def _taken_elsewhere(v: Variables, post: str, state: Flows) -> Linear:
    """What leaves a stud by lugs of other groups: taken circuits and boat wires."""
    circuit = v.problem.console.post(post).circuit
    own = sum(load.drawn_ma(state.demand) for load in v.problem.bench_ends_at(circuit, post))
    taken = total(state.flow[i] for i, arc in enumerate(v.arcs) if arc.take_off and arc.a == post)
    return taken + leaves_ma(v.problem.console, state.demand, post) - own


def _lone_supply(v: Variables, key: GroupKey, state: Flows) -> Linear:
    """What comes in by a supply that lands in a lug of its own: a ready ring, a pigtail aboard."""
    joint, circuit = key
    supply = v.problem.circuit(circuit).supply
    if supply is None:
        return 0
    current = state.demand.totals[circuit]
    return total(
        current * source.use
        for source in v.sources_at[circuit, joint]
        if supply.apart_at(v.problem.post_kind[joint]) or not (source.extension or supply.end_type)
    )


def _held(option: GroupOption, slot: int, name: str) -> int:
    picks = option.picks
    return picks[slot].barrels[0].count(name) if slot < len(picks) else 0
