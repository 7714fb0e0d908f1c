"""Looking at an answer: which electrical families it breaks. Exact, by the same integers.

An answer that was found without a family is the true optimum if it passes here; otherwise the
family is posed and the question asked again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from itertools import combinations

from lugwright.electrics.ampacity import bundle_factor_permille, table_ma
from lugwright.electrics.resistance import wire_uohm
from lugwright.model.formulation.ask import BUNDLE, CURRENTS, DROP, LUG_CURRENTS, Answer
from lugwright.plans.choice import ChosenJumper, WireKey
from lugwright.problem.demand import boat_wires_by_post, circuit_totals
from lugwright.problem.schema import CircuitQuestion, Edge, GroupOption, LugPick, Problem


@dataclass(frozen=True)
class Walked:
    """Currents (mA) by jumper, and drop from the source (nV) by (circuit, node)."""

    current: dict[ChosenJumper, int]
    drop: dict[tuple[str, str], int]


class Judge:
    """Judges answers to one problem. ``met`` gathers every family that any answer broke."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.met: set[str] = set()
        self.totals = circuit_totals(problem.console)
        self.boat_wires = boat_wires_by_post(problem.console)
        self.node = {
            (c.name, joint): node.name
            for c in problem.circuits
            for node in c.nodes
            for joint in node.joints
        }
        self.edge = {
            (c.name, edge.a, edge.b): edge
            for c in problem.circuits
            for edge in (*c.edges, *c.take_off)
        }

    def broken(self, answer: Answer) -> frozenset[str]:
        """The families this complete answer breaks; empty when it stands."""
        walked = self.walk(answer)
        found = set()
        if self._ampacity_broken(walked):
            found.add(CURRENTS)
        if self._drop_broken(walked):
            found |= {CURRENTS, DROP}
        if self._bundle_broken(answer, walked):
            found |= {CURRENTS, BUNDLE}
        if self._lugs_broken(answer, walked):
            found |= {CURRENTS, LUG_CURRENTS}
        self.met |= found
        return frozenset(found)

    # -- currents and drops ------------------------------------------------------------------

    def _edge(self, jumper: ChosenJumper) -> Edge:
        key = (jumper.circuit, jumper.a, jumper.b)
        return self.edge.get(key) or self.edge[jumper.circuit, jumper.b, jumper.a]

    def walk(self, answer: Answer) -> Walked:
        """Currents and drops of every tree, takers before what they are taken from."""
        current: dict[ChosenJumper, int] = {}
        taken: dict[tuple[str, str], int] = defaultdict(int)
        for circuit in self._takers_first():
            self._currents(circuit, answer, current, taken)
        drop: dict[tuple[str, str], int] = {}
        for circuit in reversed(self._takers_first()):
            self._drops(circuit, answer, current, drop)
        return Walked(current, drop)

    def currents(self, answer: Answer, circuits: Collection[str]) -> dict[ChosenJumper, int]:
        """Currents (mA) by jumper in an answer to some circuits only, takers left elsewhere out."""
        current: dict[ChosenJumper, int] = {}
        taken: dict[tuple[str, str], int] = defaultdict(int)
        for circuit in self._takers_first():
            if circuit.name in circuits:
                self._currents(circuit, answer, current, taken)
        return current

    def _takers_first(self) -> list[CircuitQuestion]:
        return sorted(self.problem.circuits, key=lambda c: (not c.taken_from, c.name))

    def _out(self, circuit: str, answer: Answer) -> dict[str, list[ChosenJumper]]:
        out: dict[str, list[ChosenJumper]] = defaultdict(list)
        for jumper in answer.jumpers:
            if jumper.circuit == circuit and (circuit, jumper.a) in self.node:
                out[self.node[circuit, jumper.a]].append(jumper)
        return out

    def _starts(self, circuit: CircuitQuestion, answer: Answer) -> list[ChosenJumper]:
        return [
            j
            for j in answer.jumpers
            if j.circuit == circuit.name and (j.circuit, j.a) not in self.node
        ]

    def _currents(
        self,
        circuit: CircuitQuestion,
        answer: Answer,
        current: dict[ChosenJumper, int],
        taken: dict[tuple[str, str], int],
    ) -> None:
        out = self._out(circuit.name, answer)
        demand: dict[str, int] = defaultdict(int)
        for post, value in circuit.demand_ma.items():
            demand[self.node[circuit.name, post]] += value

        def beyond(node: str) -> int:
            total = demand[node] + taken[circuit.name, node]
            for jumper in out[node]:
                current[jumper] = beyond(self.node[circuit.name, jumper.b])
                total += current[jumper]
            return total

        for jumper in self._starts(circuit, answer):
            current[jumper] = beyond(self.node[circuit.name, jumper.b])
            taken[circuit.taken_from, self.node[circuit.taken_from, jumper.a]] += current[jumper]
        if circuit.supply:
            beyond(self.node[circuit.name, answer.landings[circuit.name]])

    def jumper_uohm(self, jumper: ChosenJumper) -> int:
        """One jumper and its two crimps, µΩ."""
        choice = self.problem.circuit(jumper.circuit).choice(jumper.wire_size)
        wire = wire_uohm(choice.nohm_per_mm, self._edge(jumper).length_dmm)
        return wire + 2 * self.problem.limits.crimp_uohm

    def _drops(
        self,
        circuit: CircuitQuestion,
        answer: Answer,
        current: dict[ChosenJumper, int],
        drop: dict[tuple[str, str], int],
    ) -> None:
        out = self._out(circuit.name, answer)
        waiting: list[str] = []
        if circuit.supply:
            start = self.node[circuit.name, answer.landings[circuit.name]]
            drop[circuit.name, start] = (
                self._supply_uohm(circuit, answer) * self.totals[circuit.name]
            )
            waiting.append(start)
        for jumper in self._starts(circuit, answer):
            there = self.node[circuit.name, jumper.b]
            before = drop[circuit.taken_from, self.node[circuit.taken_from, jumper.a]]
            drop[circuit.name, there] = before + self.jumper_uohm(jumper) * current[jumper]
            waiting.append(there)
        while waiting:
            here = waiting.pop()
            for jumper in out[here]:
                there = self.node[circuit.name, jumper.b]
                own = self.jumper_uohm(jumper) * current[jumper]
                drop[circuit.name, there] = drop[circuit.name, here] + own
                waiting.append(there)

    def _supply_uohm(self, circuit: CircuitQuestion, answer: Answer) -> int:
        total = circuit.supply.given_uohm if circuit.supply else 0
        size = answer.extension_sizes.get(circuit.name)
        if size:
            landing = next(x for x in circuit.landings if x.post == answer.landings[circuit.name])
            wire = wire_uohm(circuit.choice(size).nohm_per_mm, landing.extension_dmm)
            total += wire + 2 * self.problem.limits.crimp_uohm
        return total

    # -- the rules ---------------------------------------------------------------------------

    def _ampacity_broken(self, walked: Walked) -> bool:
        return any(
            value > self.problem.circuit(jumper.circuit).choice(jumper.wire_size).cap_ma
            for jumper, value in walked.current.items()
        )

    def side_nv(self, walked: Walked, circuit: str, post: str) -> int:
        """Drop from the source to a post on one side, a lead's own crimp included."""
        if not circuit or not post:
            return 0
        total = walked.drop[circuit, self.node[circuit, post]]
        if self.problem.post_kind[post] == "lead":
            demand = self.problem.circuit(circuit).demand_ma.get(post, 0)
            total += self.problem.limits.crimp_uohm * demand
        return total

    def drop_shares(self, walked: Walked) -> list[tuple[int, int]]:
        """Drop over its whole path and its limit, for every load judged, nV."""
        found = []
        for path in self.problem.drops:
            total = path.extra_nv
            total += self.side_nv(walked, path.feed_circuit, path.feed_post)
            total += self.side_nv(walked, path.ground_circuit, path.ground_post)
            found.append((total, path.limit_nv))
        return found

    def _drop_broken(self, walked: Walked) -> bool:
        if any(total > limit for total, limit in self.drop_shares(walked)):
            return True
        post = self.problem.console.post
        for shift in self.problem.shifts:
            dial = self.side_nv(walked, post(shift.dial_post).circuit, shift.dial_post)
            back = 0
            if shift.return_post:
                back = self.side_nv(walked, post(shift.return_post).circuit, shift.return_post)
            if abs(dial - back) > shift.limit_nv:
                return True
        return False

    def _bundle_broken(self, answer: Answer, walked: Walked) -> bool:
        rule = self.problem.limits.bundle_rule
        for index, leg in enumerate(self.problem.legs):
            on_leg = [(table, current) for _, table, current in leg.fixed_loads]
            lengthened: list[tuple[int, int]] = []
            for jumper, value in walked.current.items():
                if index in self._edge(jumper).loom_legs:
                    choice = self.problem.circuit(jumper.circuit).choice(jumper.wire_size)
                    on_leg.append((choice.table_ma, value))
            for name, post in answer.landings.items():
                landing = next(x for x in self.problem.circuit(name).landings if x.post == post)
                if index in landing.loom_legs:
                    on_leg.append((self._pigtail_table(name), self.totals[name]))
                    size = answer.extension_sizes.get(name)
                    if size:  # the pigtail's own run lengthened: judged, not counted again
                        table = self.problem.circuit(name).choice(size).table_ma
                        lengthened.append((table, self.totals[name]))
            number = len(on_leg) - len(leg.fixed_loads) + leg.fixed
            factor = bundle_factor_permille(rule, max(1, number))
            judged = (*on_leg, *lengthened)
            if any(current > table * factor // 1000 for table, current in judged):
                return True
        return False

    def _pigtail_table(self, circuit: str) -> int:
        pigtail = self.problem.console.circuit(circuit).pigtail
        if pigtail is None:
            raise KeyError(circuit)
        wire = pigtail.wire
        return table_ma(
            wire.ampacity_size, wire.insulation_temp_c, self.problem.console.engine_space
        )

    def _lugs_broken(self, answer: Answer, walked: Walked) -> bool:
        for (joint, whose), option in answer.picks.items():
            if whose.startswith("boat wires ") or not option.picks:
                continue
            if self.assign(answer, walked, joint, whose, option) is None:
                return True
        return any(self._stud_broken(answer, walked, post) for post in self.problem.studs)

    def _stud_broken(self, answer: Answer, walked: Walked, post: str) -> bool:
        """Whether a stud on which its own circuit has no lug carries more than it may."""
        circuit = self.problem.console.post(post).circuit
        own = answer.picks.get((post, circuit))
        bare = own is None or not own.picks
        return bare and self._to_pass_inside(answer, walked, post) > 0

    def _to_pass_inside(self, answer: Answer, walked: Walked, post: str) -> int:
        """How much must flow on inside the barrel of the supply's end, for a stud's own limit.

        Without that, all that comes in and all that goes out would pass the stud.
        """
        limit = self.problem.post_limit_ma.get(post, 0)
        circuit = self.problem.console.post(post).circuit
        if not limit or not any(c.name == circuit for c in self.problem.circuits):
            return 0
        coming = going = 0
        for whose in (circuit, f"pigtail {circuit}"):
            inward, outward = _sums(self.ends_at(answer, walked, post, whose))
            coming, going = coming + inward, going + outward
        supply = self.problem.circuit(circuit).supply
        ready = supply and not supply.end_type and circuit not in answer.extension_sizes
        if ready and answer.landings.get(circuit) == post:
            coming += self.totals[circuit]
        for jumper, value in walked.current.items():
            taken_from = self.problem.circuit(jumper.circuit).taken_from
            if (
                taken_from == circuit
                and jumper.a == post
                and (jumper.circuit, post) not in self.node
            ):
                going += value
        return max(0, max(coming, going + self.boat_wires.get(post, 0)) - limit)

    # -- which wire in which barrel ------------------------------------------------------------

    def ends_at(self, answer: Answer, walked: Walked, joint: str, whose: str) -> list[End]:
        """Wire ends of a group at a joint: (type, wire, current, whether it comes in there), in
        order of their names."""
        circuit = whose.removeprefix("pigtail ")
        question = self.problem.circuit(circuit)
        found: list[End] = []
        if not whose.startswith("pigtail "):
            for jumper, value in walked.current.items():
                if jumper.circuit == circuit and joint in (jumper.a, jumper.b):
                    choice = question.choice(jumper.wire_size)
                    found.append((choice.end_type, jumper.key, value, joint == jumper.b))
        supply = question.supply
        lands = supply is not None and answer.landings.get(circuit) == joint
        if supply and lands and supply.aboard == whose.startswith("pigtail "):
            size = answer.extension_sizes.get(circuit)
            if size:
                key = WireKey("extension", supply.wire)
                found.append((question.choice(size).end_type, key, self.totals[circuit], True))
            elif supply.end_type:
                key = WireKey("given", supply.wire)
                found.append((supply.end_type, key, self.totals[circuit], True))
        return sorted(found, key=lambda end: (end[0], end[1]))

    def assign(
        self, answer: Answer, walked: Walked, joint: str, whose: str, option: GroupOption
    ) -> list[tuple[LugPick, tuple[tuple[WireKey, ...], ...]]] | None:
        """Wires for every barrel of an option within the fittings' limits; None if none."""
        ends = self.ends_at(answer, walked, joint, whose)
        kind = self.problem.post_kind.get(joint, "splice")
        if kind in ("splice", "lead"):
            flowing_in = max((end[2] for end in ends), default=0)
            if flowing_in > option.picks[0].carries_ma:
                return None
            return [(option.picks[0], _fill(option.picks[0], ends, joint))]
        inside = 0
        if kind == "tab":
            limit, (inward, outward) = self.problem.post_limit_ma.get(joint, 0), _sums(ends)
            if limit and abs(inward - outward) > limit:
                return None
        elif whose == self.problem.console.post(joint).circuit:
            inside = self._to_pass_inside(answer, walked, joint)
        return _assign_lugs(option.picks, ends, inside)


End = tuple[str, WireKey, int, bool]
"""A wire end at a joint: its type, its wire, its current, and whether that comes in there."""


def _sums(ends: Collection[End]) -> tuple[int, int]:
    """What flows in by these ends, and what flows out."""
    inward = sum(end[2] for end in ends if end[3])
    return inward, sum(end[2] for end in ends if not end[3])


def _fill(pick: LugPick, ends: list[End], joint: str) -> tuple[tuple[WireKey, ...], ...]:
    """Lay ends into the halves of a mid-air fitting; a lead is named by its post."""
    left = list(ends)
    halves = []
    for half in pick.barrels:
        taken = []
        for name in half:
            match = next((end for end in left if end[0] == name), None)
            if match is None:
                taken.append(WireKey("given", f"lead {joint}"))
            else:
                left.remove(match)
                taken.append(match[1])
        halves.append(tuple(sorted(taken)))
    return tuple(halves)


def _assign_lugs(
    picks: tuple[LugPick, ...], ends: list[End], inside_ma: int
) -> list[tuple[LugPick, tuple[tuple[WireKey, ...], ...]]] | None:
    """The first assignment, in order of names, in which no lug carries more than it may.

    A lug carries what flows into it or what flows out, whichever is more. At least ``inside_ma``
    of what comes in must go on inside the same barrel.
    """
    if inside_ma and not any(end[3] for end in ends):
        return None
    by_type: dict[str, list[End]] = defaultdict(list)
    for end in ends:
        by_type[end[0]].append(end)

    def place(index: int, left: dict[str, tuple[End, ...]]) -> list[tuple[End, ...]] | None:
        if index == len(picks):
            return []
        pick = picks[index]
        for lug in _takes(pick.barrels[0], left):
            inward, outward = _sums(lug)
            if max(inward, outward) > pick.carries_ma:
                continue
            if outward < inside_ma and any(end[3] for end in lug):
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
