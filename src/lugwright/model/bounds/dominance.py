"""Which wire sizes need looking at: proof, by tables alone, that others cannot do better.

With the electrical rules left out, a thinner wire can do all a thicker one does if its ends go
into fittings at least as good, joint by joint. With them in, a thicker wire carries more and
drops less; where it costs nothing in the objective it alone needs looking at.
"""

from __future__ import annotations

from lugwright.base.identity import JointId
from lugwright.model.formulation.objective import Objective
from lugwright.model.formulation.wire_ends import end_counts, options_at, room_for_ends
from lugwright.problem.schema import CircuitQuestion, GroupOption, Problem
from lugwright.trade.objective import rank_of_equals
from lugwright.trade.studs import FULL_TURN_DEG, turn_wanted_deg


class SizeSets:
    """Wire sizes by circuit: ``every`` one, ``thin`` to bound with, ``stout`` to prove with.

    ``equal`` are those to look at between plans of equal cost: a thicker one may want no fold.

    ``each_jumper``: jumpers of one circuit may differ, and every size is looked at.
    """

    def __init__(self, problem: Problem, objective: Objective, *, shortcuts: bool = True) -> None:
        self.problem = problem
        self._spare: dict[str, bool] = {}
        self.each_jumper = problem.limits.wire_size_choice == "jumper"
        self.every = {c.name: tuple(w.size for w in c.choices) for c in problem.circuits}
        plain = self.each_jumper or not shortcuts
        free = objective.money == 0
        self.thin, self.equal = dict(self.every), dict(self.every)
        if not plain:
            self.thin = {c.name: self._thin(c) for c in problem.circuits}
            self.equal = {c.name: self._thin(c, equals=True) for c in problem.circuits}
        self.stout = dict(self.every)
        if free and not plain:
            self.stout = {c.name: self._stout(c) for c in problem.circuits}

    def equal_matter(self, folded: bool) -> bool:
        """Whether ``equal`` sizes must be looked at besides ``thin`` ones.

        The least money is had in thin ones. Where nothing is ``folded`` for it, a thicker wire
        could come first only by its margin, and only at the same price.
        """
        if folded:
            return self.equal != self.thin
        return any(self._one_price(circuit) for circuit in self.problem.circuits)

    def _one_price(self, circuit: CircuitQuestion) -> bool:
        more = set(self.equal[circuit.name]) - set(self.thin[circuit.name])
        thin = {circuit.choice(size).price_micro_per_m for size in self.thin[circuit.name]}
        return any(circuit.choice(size).price_micro_per_m in thin for size in more)

    def _thin(self, circuit: CircuitQuestion, *, equals: bool = False) -> tuple[str, ...]:
        """Sizes that no thinner one matches in every level and in money.

        ``equals``: nor in what tells equal plans apart (rule R28).
        """
        kept: list[str] = []
        for size in self.every[circuit.name]:
            if not any(
                self._covers(circuit, other, size, money=True, equals=equals) for other in kept
            ):
                kept.append(size)
        return tuple(kept)

    def _stout(self, circuit: CircuitQuestion) -> tuple[str, ...]:
        """Sizes that no thicker one matches in every level (money aside) and betters in current."""
        kept: list[str] = []
        for size in reversed(self.every[circuit.name]):
            if not any(
                self._stouter(circuit, other, size)
                and self._covers(circuit, other, size, money=False)
                for other in kept
            ):
                kept.append(size)
        return tuple(reversed(kept))

    def _stouter(self, circuit: CircuitQuestion, one: str, other: str) -> bool:
        mine, theirs = circuit.choice(one), circuit.choice(other)
        return mine.nohm_per_mm <= theirs.nohm_per_mm and mine.table_ma >= theirs.table_ma

    def _covers(
        self,
        circuit: CircuitQuestion,
        one: str,
        other: str,
        *,
        money: bool,
        equals: bool = False,
    ) -> bool:
        """Whether every answer in ``other`` is matched by one in ``one``, electrics left out."""
        mine, theirs = circuit.choice(one), circuit.choice(other)
        if money and mine.price_micro_per_m > theirs.price_micro_per_m:
            return False
        butt = circuit.butts.get(other)
        lengthened = any(landing.extension_dmm for landing in circuit.landings)
        if butt is not None and lengthened and circuit.own_extension is None:
            own = circuit.butts.get(one)
            if own is None or (money and own.money_micro > butt.money_micro):
                return False
            if equals and not _first_or_level(own, butt):
                return False
        return all(
            self._covered(circuit, joint, mine.end_type, theirs.end_type, money, equals)
            for joint in self._joints(circuit)
        )

    def _joints(self, circuit: CircuitQuestion) -> list[JointId]:
        """One joint of every kind of post that this circuit's wires may end on: the one with the
        most room, since what can meet at another can meet there."""
        seen: dict[tuple[str, ...], JointId] = {}
        joints = [joint for node in circuit.nodes for joint in node.joints]
        for joint in [*joints, *(edge.a for edge in circuit.take_off)]:
            if joint not in self.problem.post_kind:
                seen.setdefault(("splice",), joint)
                continue
            post = self.problem.console.post(joint)
            most = str(self.problem.tables.most_at(joint))
            free = str(post.kind == "stud" and self._room_to_spare(joint))
            limited = str(bool(post.kind == "stud" and post.carries_ma))
            lead = str(post.lead or "")
            loads = [end.end_type for end in self.problem.bench_ends_at(circuit.name, joint)]
            kind = (post.kind, post.thread, post.tab_size, lead, most, free, limited, *loads)
            other = seen.setdefault(kind, joint)
            if room_for_ends(self.problem, joint) > room_for_ends(self.problem, other):
                seen[kind] = joint
        return list(seen.values())

    def _covered(
        self,
        circuit: CircuitQuestion,
        joint: JointId,
        mine: str,
        theirs: str,
        money: bool,
        equals: bool,
    ) -> bool:
        supply = circuit.supply
        singles = [supply.end_type] if supply and supply.end_type else []
        singles += [circuit.own_extension.end_type] if circuit.own_extension else []
        room = joint in self.problem.studs and self._room_to_spare(joint)
        for counts in end_counts(self.problem, circuit, joint, [theirs], singles):
            renamed = tuple(sorted((mine if n == theirs else n, number) for n, number in counts))
            own = options_at(self.problem, joint, renamed)
            for option in options_at(self.problem, joint, counts):
                if not any(
                    _no_worse(o, option, money, room=room, alike=(mine, theirs))
                    and (not equals or _first_or_level(o, option))
                    for o in own
                ):
                    return False
        return True

    def _room_to_spare(self, stud: JointId) -> bool:
        """Whether as many of the largest lugs as may be on a stud have thread and room there.

        Then no choice of lugs runs out of either, and neither needs comparing.
        """
        if stud not in self._spare:
            problem, room = self.problem, self.problem.studs[stud]
            tongue_dmm, angle_deg = problem.tables.largest_lug(problem.console.post(stud).thread)
            ready = [
                (c.supply.ready_tongue_dmm, c.supply.ready_angle_deg)
                for c in problem.circuits
                if c.supply
            ]
            ready += [
                (g.ready_tongue_dmm, g.ready_angle_deg)
                for g in problem.boat_groups
                if g.post == stud
            ]
            thickest = max([tongue_dmm, *(tongue for tongue, _ in ready)])
            widest = max([angle_deg, room.reserved_angle_deg, *(angle for _, angle in ready)])
            lugs = max(0, room.places - room.reserved)
            turn_deg = turn_wanted_deg(room.places, widest)
            self._spare[stud] = (
                lugs * thickest <= room.thread_dmm and turn_deg <= FULL_TURN_DEG
            )
        return self._spare[stud]


def _no_worse(
    one: GroupOption, other: GroupOption, money: bool, *, room: bool, alike: tuple[str, str]
) -> bool:
    """In every level; and in money (when bounding), or in current limits (when proving).

    ``room``: there is enough of it for whatever lugs are chosen. ``alike``: the type of a jumper's
    end in the one option and in the other.
    """
    if money and one.money_micro > other.money_micro:
        return False
    return (
        one.lugs <= other.lugs
        and (room or one.tongue_dmm <= other.tongue_dmm)
        and (room or one.angle_deg <= other.angle_deg)
        and one.fittings <= other.fittings
        and (money or _limits_no_worse(_shared_out(one, *alike), _shared_out(other)))
    )


def _first_or_level(one: GroupOption, other: GroupOption) -> bool:
    """Whether one comes before another where plans are equal, or as early, whatever else there is.

    Rule R28.
    """
    return one.folds <= other.folds and rank_of_equals(one) <= rank_of_equals(other)


SharedOut = list[tuple[tuple[str, ...], int]]


def _shared_out(option: GroupOption, name: str = "", renamed: str = "") -> SharedOut:
    """The ends in each fitting with its current limit, ends of one type under another name."""
    return sorted(
        (
            tuple(sorted(renamed if end == name else end for half in p.barrels for end in half)),
            p.carries_ma,
        )
        for p in option.picks
    )


def _limits_no_worse(mine: SharedOut, theirs: SharedOut) -> bool:
    """Current limits compare fitting by fitting where the ends are shared out alike."""
    if [ends for ends, _ in mine] != [ends for ends, _ in theirs]:
        return False
    return all(a[1] >= b[1] for a, b in zip(mine, theirs, strict=True))
