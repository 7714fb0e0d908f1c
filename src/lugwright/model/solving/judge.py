"""Looking at an answer: which electrical families it breaks. Exact, by the same integers.

An answer that was found without a family is the true optimum if it passes here; otherwise the
family is posed and the question asked again.
"""

from __future__ import annotations

from lugwright.base.identity import JointId, WireId
from lugwright.electrics.ampacity import bundle_factor_permille
from lugwright.model.formulation.ask import BUNDLE, CURRENTS, DROP, LUG_CURRENTS, Answer
from lugwright.model.solving.barrels import Currents, End, assign_lugs, fill, sums
from lugwright.model.solving.tree_walk import TreeWalk, Walked, Walks
from lugwright.plans.choice import WireKey
from lugwright.problem.judged_paths import crimp_nv
from lugwright.problem.schema import GroupOption, LugPick, Problem
from lugwright.trade.demand import circuit_totals
from lugwright.trade.given_wires import given_ma
from lugwright.trade.names import circuit_of_pigtail, is_boat_group, is_pigtail, pigtail_wire
from lugwright.trade.straps import leaves_ma, strap_lugs


class Judge:
    """Judges answers to one problem. ``met`` gathers every family that any answer broke."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.met: set[str] = set()
        self._trees = TreeWalk(problem)
        self._totals = circuit_totals(problem.console)

    def broken(self, answer: Answer) -> frozenset[str]:
        """The families this complete answer breaks; empty when it stands."""
        walked = self.walk(answer)
        found = set()
        if self._ampacity_broken(walked) or self._straps_broken(walked):
            found.add(CURRENTS)
        if self._drop_broken(walked):
            found |= {CURRENTS, DROP}
        if self._bundle_broken(answer, walked):
            found |= {CURRENTS, BUNDLE}
        if self._lugs_broken(answer, walked):
            found |= {CURRENTS, LUG_CURRENTS}
        self.met |= found
        return frozenset(found)

    def walk(self, answer: Answer) -> Walks:
        """Currents and drops of every tree of an answer, in every load state."""
        return self._trees.walk(answer)

    # -- the rules ---------------------------------------------------------------------------

    def _ampacity_broken(self, walked: Walks) -> bool:
        return any(
            value > self.problem.circuit(jumper.circuit).choice(jumper.wire_size).cap_ma
            for jumper, value in walked.current.items()
        )

    def _straps_broken(self, walked: Walks) -> bool:
        """Whether more flows through a lug of a strap than the strap carries. Rule R35."""
        limits = {lug.strap: lug.carries_ma for lug in strap_lugs(self.problem.console)}
        return any(
            abs(current) > limits[strap] > 0
            for each in walked.states
            for (strap, _), current in each.through.items()
        )

    def side_nv(self, walked: Walked, circuit: str, post: str) -> int:
        """Drop from the source to a post on one side, a lead's own crimp included."""
        if not circuit or not post:
            return 0
        total = self._trees.drop_at(walked, circuit, post)
        question = self.problem.circuit(circuit)
        return total + crimp_nv(self.problem, question, post, walked.demand)

    def drop_shares(self, walks: Walks) -> list[tuple[int, int]]:
        """Drop over its whole path and its limit, for every load judged that may be on, nV.

        The largest over the load states.
        """
        found = []
        for path in self.problem.drops:
            totals = [
                path.extra_nv
                + self.side_nv(walked, path.feed_circuit, path.feed_post)
                + self.side_nv(walked, path.ground_circuit, path.ground_post)
                for walked in walks.states
                if walked.demand.feeds(path.feed_circuit)
            ]
            if totals:
                found.append((max(totals), path.limit_nv))
        return found

    def _drop_broken(self, walks: Walks) -> bool:
        if any(total > limit for total, limit in self.drop_shares(walks)):
            return True
        return any(self._shift_broken(walked) for walked in walks.states)

    def _shift_broken(self, walked: Walked) -> bool:
        post = self.problem.console.post
        for shift in self.problem.shifts:
            if not walked.demand.feeds(shift.feed_circuit):
                continue
            dial = self.side_nv(walked, post(shift.dial_post).circuit, shift.dial_post)
            back = 0
            if shift.return_post:
                back = self.side_nv(walked, post(shift.return_post).circuit, shift.return_post)
            if abs(dial - back) > shift.limit_nv:
                return True
        return False

    def _bundle_broken(self, answer: Answer, walked: Walks) -> bool:
        rule, totals = self.problem.limits.bundle_rule, self._totals
        for index, leg in enumerate(self.problem.legs):
            on_leg = [(table, current) for _, table, current in leg.fixed_loads]
            lengthened: list[tuple[int, int]] = []
            for jumper, value in walked.current.items():
                if index in self._trees.edge_of(jumper).loom_legs:
                    choice = self.problem.circuit(jumper.circuit).choice(jumper.wire_size)
                    on_leg.append((choice.table_ma, value))
            for name, post in answer.landings.items():
                if self.problem.circuit(name).root:
                    continue  # no pigtail, and its first jumper is counted
                landing = next(x for x in self.problem.circuit(name).landings if x.post == post)
                if index in landing.loom_legs:
                    on_leg.append((self._pigtail_table(name), totals[name]))
                    size = answer.extension_sizes.get(name)
                    if size:  # the pigtail's own run lengthened: judged, not counted again
                        table = self.problem.circuit(name).extension(size).table_ma
                        lengthened.append((table, totals[name]))
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
        return given_ma(self.problem.console, pigtail.wire)

    def _lugs_broken(self, answer: Answer, walked: Walks) -> bool:
        for (joint, whose), option in answer.picks.items():
            if is_boat_group(whose) or not option.picks:
                continue
            if self.assign(answer, walked, joint, whose, option) is None:
                return True
        return any(self._stud_broken(answer, walked, post) for post in self.problem.studs)

    def _stud_broken(self, answer: Answer, walked: Walks, post: JointId) -> bool:
        """Whether a stud on which its own circuit has no lug carries more than it may."""
        circuit = self.problem.console.post(post).circuit
        own = answer.picks.get((post, circuit))
        bare = own is None or not own.picks
        return bare and any(self._to_pass_inside(answer, walked, post))

    def _to_pass_inside(self, answer: Answer, walked: Walks, post: str) -> Currents:
        """How much must flow on inside the barrel of the supply's end, for a stud's own limit.

        By load state. Without that, all that comes in and all that goes out would pass the stud.
        """
        limit = self.problem.post_limit_ma.get(post, 0)
        circuit = self.problem.console.post(post).circuit
        states = len(walked.states)
        if not limit or not any(c.name == circuit for c in self.problem.circuits):
            return (0,) * states
        ends = [
            end
            for whose in (circuit, pigtail_wire(circuit))
            for end in self.ends_at(answer, walked, post, whose)
        ]
        supply = self.problem.circuit(circuit).supply
        ready = supply and not supply.end_type and circuit not in answer.extension_sizes
        if supply and ready and answer.landings.get(circuit) == post:
            ends.append(("", WireKey("given", supply.wire), walked.totals(circuit), True))
        for jumper in walked.current:
            taken_from = self.problem.circuit(jumper.circuit).taken_from
            own = (jumper.circuit, post) in self._trees.node
            if taken_from == circuit and jumper.a == post and not own:
                ends.append(("", jumper.key, walked.currents(jumper), False))
        loads = self.problem.bench_ends_at(circuit, post)
        away = [
            leaves_ma(self.problem.console, each.demand, post)
            - sum(load.drawn_ma(each.demand) for load in loads)
            for each in walked.states
        ]
        flows = zip(sums(ends, states), away, strict=True)
        return tuple(max(0, max(coming, going + more) - limit) for (coming, going), more in flows)

    # -- which wire in which barrel ------------------------------------------------------------

    def ends_at(self, answer: Answer, walked: Walks, joint: str, whose: str) -> list[End]:
        """Wire ends of a group at a joint: (type, wire, currents, whether they come in there), in
        order of their names."""
        circuit = circuit_of_pigtail(whose)
        question = self.problem.circuit(circuit)
        found: list[End] = []
        if not is_pigtail(whose):
            for jumper in walked.current:
                if jumper.circuit == circuit and joint in (jumper.a, jumper.b):
                    choice = question.choice(jumper.wire_size)
                    currents = walked.currents(jumper)
                    found.append((choice.end_type, jumper.key, currents, joint == jumper.b))
            for load in self.problem.bench_ends_at(circuit, joint):
                drawn = tuple(load.drawn_ma(each.demand) for each in walked.states)
                found.append((load.end_type, self._key_of(load.wire), drawn, False))
        supply = question.supply
        lands = supply is not None and answer.landings.get(circuit) == joint
        kind = self.problem.post_kind.get(joint, "splice")
        if supply and lands and supply.apart_at(kind) == is_pigtail(whose):
            size = answer.extension_sizes.get(circuit)
            if size:
                key = WireKey("extension", supply.wire)
                found.append((question.extension(size).end_type, key, walked.totals(circuit), True))
            elif supply.end_type:
                key = WireKey("given", supply.wire)
                found.append((supply.end_type, key, walked.totals(circuit), True))
        return sorted(found, key=lambda end: (end[0], end[1]))

    def _key_of(self, wire: WireId) -> WireKey:
        """A boat wire's end as it lies at its post: its own, or that of its extension."""
        extended = any(need.wire == wire for need in self.problem.extensions)
        return WireKey("extension" if extended else "given", wire)

    def assign(
        self, answer: Answer, walked: Walks, joint: str, whose: str, option: GroupOption
    ) -> list[tuple[LugPick, tuple[tuple[WireKey, ...], ...]]] | None:
        """Wires for every barrel of an option within the fittings' limits; None if none."""
        ends = self.ends_at(answer, walked, joint, whose)
        flows = sums(ends, len(walked.states))
        kind = self.problem.post_kind.get(joint, "splice")
        if kind in ("splice", "lead"):
            if any(max(each) > option.picks[0].carries_ma for each in flows):
                return None
            return [(option.picks[0], fill(option.picks[0], ends, joint))]
        inside: Currents = (0,) * len(walked.states)
        if kind == "tab":
            limit = self.problem.post_limit_ma.get(joint, 0)
            if limit and any(abs(inward - outward) > limit for inward, outward in flows):
                return None
        elif whose == self.problem.console.post(joint).circuit:
            inside = self._to_pass_inside(answer, walked, joint)
        return assign_lugs(option.picks, ends, inside)
