"""A family of consoles that share one hub and as many jumpers as pays: the joint optimum.

Each variant is a problem of its own, weighted by how many boats are built of it; every distinct
jumper that any variant uses costs a price once. Objective: the sum of weight × money of each
variant, and the price of each distinct jumper.

The search is that of ``search``, for all variants at once. A *trial* is one hub with a set of
landings for every variant. Given it, circuits share nothing but the electrical rules of each
variant (and landing studs, posed with the host), and a jumper belongs to one circuit; so without
electrics the least cost of a trial is the sum over circuits of a model that holds that circuit of
every variant, joined by "a jumper is paid for when a variant uses it". Before that is solved, a
trial is bounded by each variant's own parts and by the number of jumpers any trees over all their
posts must have. A joined answer that every variant's judge lets stand is exact; else the trial is
asked again, all circuits of all variants at once, with the broken families posed where they broke.
Trials are taken lowest bound first.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from lugwright.model.choose import choice_of, run_aside
from lugwright.model.clock import Clock
from lugwright.model.formulation.ask import Answer, Ask, Status, join
from lugwright.model.formulation.trials import Trial, hub_landings, whole
from lugwright.model.search.parts import PartSolver
from lugwright.model.solving.judge import Judge
from lugwright.model.solving.solve import second_opinion
from lugwright.model.variants.family_model import Joined, PartKey, Variant, solve_members
from lugwright.plans.choice import Choice
from lugwright.plans.outcome import Ending
from lugwright.plans.progress import Listener, Progress

LEVELS = ("money of the mix and its distinct jumpers, millionths",)


@dataclass(frozen=True)
class FamilyFound:
    """How the search ended. ``choices`` one for each variant; costs in millionths."""

    ending: Ending
    hub: str = ""
    choices: tuple[Choice, ...] = ()
    money_micro: tuple[int, ...] = ()
    parts: int = 0
    cost_micro: int = 0
    bound_micro: int = 0
    interrupted: bool = False
    note: str = ""


def best_family(
    variants: Sequence[Variant],
    part_micro: int,
    *,
    hub: str = "",
    time_limit_s: float | None = None,
    listener: Listener | None = None,
) -> FamilyFound:
    """The best plans of a family with one hub, and what a distinct jumper costs (millionths).

    ``hub`` "" leaves the hub free. Raises ValueError without a variant, or for a weight or price
    below nought.
    """
    if not variants or part_micro < 0 or min(variant.boats for variant in variants) < 1:
        raise ValueError("a family has variants, boats of each, and a price of nought or more")
    variants = [_by_money(variant) for variant in variants]
    if any(variant.problem.faults for variant in variants):
        return FamilyFound(Ending.IMPOSSIBLE, note="a variant has no plan, whatever is chosen")
    clock = Clock(time_limit_s)
    search = _FamilySearch(variants, part_micro, clock, listener, hub)
    found, interrupted = run_aside(clock, search.run)
    return replace(found, interrupted=interrupted)


def _by_money(variant: Variant) -> Variant:
    limits = replace(variant.problem.limits, objective="cheapest")
    return replace(variant, problem=replace(variant.problem, limits=limits))


@dataclass(order=True)
class _Open:
    """A trial of the whole family. ``answers`` None: not asked jointly since its last bound."""

    bound: int
    stage: int
    number: int
    hub: str = field(compare=False)
    trials: tuple[Trial, ...] = field(compare=False)
    families: tuple[frozenset[str], ...] = field(compare=False)
    answers: list[Answer] | None = field(compare=False, default=None)


class _FamilySearch:
    """Searches over hubs for the family."""

    def __init__(
        self,
        variants: Sequence[Variant],
        part_micro: int,
        clock: Clock,
        listener: Listener | None,
        hub: str,
    ) -> None:
        self.variants, self.part_micro = variants, part_micro
        self.clock, self.listener, self.hub = clock, listener, hub
        self.solvers = [PartSolver(variant.problem, clock) for variant in variants]
        self.judges = [Judge(variant.problem) for variant in variants]
        self.sizes = self._sizes()
        self.counter = itertools.count()
        self.heap: list[_Open] = []
        self.best: _Open | None = None
        self.joint: dict[tuple[Ask | None, ...], Joined] = {}
        self.given_up: list[int] = []
        self.unconfirmed = False

    def _sizes(self) -> dict[str, tuple[str, ...]] | None:
        """Thin wire sizes, where every variant has the same ones; None: look at every size.

        Where thinner wire is shown to do as well in every variant, changing all of them together
        makes no new part; changing one alone might.
        """
        sets = [(solver.sizes.every, solver.sizes.thin) for solver in self.solvers]
        return dict(sets[0][1]) if all(one == sets[0] for one in sets) else None

    # -- trials ----------------------------------------------------------------------------------

    def run(self) -> FamilyFound:
        """Take open trials lowest bound first until none could be better."""
        for hub, trials in self._trials():
            if self.clock.over:
                return FamilyFound(Ending.NO_ANSWER)
            self._open(hub, trials)
        while self.heap and not self.clock.over:
            if self.best and self.heap[0].bound >= self.best.bound:
                break
            self._step(heapq.heappop(self.heap))
        return self._end()

    def _trials(self) -> Iterator[tuple[str, tuple[Trial, ...]]]:
        """Every hub that all variants have, with landings for each variant."""
        by_hub: list[dict[str, list[Trial]]] = []
        for variant in self.variants:
            own: dict[str, list[Trial]] = {}
            held = {self.hub} if self.hub else None
            for hub, landings in hub_landings(variant.problem, one_hub=True, held=held):
                own.setdefault(hub, []).append(Trial(hub, landings))
            by_hub.append(own)
        for solver, own in zip(self.solvers, by_hub, strict=True):
            solver.bounds.land_on(trial for trials in own.values() for trial in trials)
        common = sorted(set.intersection(*(set(own) for own in by_hub)))
        for hub in common:
            if self.hub in ("", hub):
                for trials in itertools.product(*(own[hub] for own in by_hub)):
                    yield hub, trials

    def _open(self, hub: str, trials: tuple[Trial, ...]) -> None:
        bound = 0
        for variant, solver, trial in zip(self.variants, self.solvers, trials, strict=True):
            solved = solver.solve_many(solver.parts(trial))
            if any(part.status is Status.NONE for part in solved):
                return
            bound += variant.boats * sum(part.bound for part in solved)
        bound += self.part_micro * self._fewest_parts(trials)
        self._push(hub, trials, bound, 0, tuple(frozenset[str]() for _ in trials))

    def _push(
        self,
        hub: str,
        trials: tuple[Trial, ...],
        bound: int,
        stage: int,
        families: tuple[frozenset[str], ...],
        answers: list[Answer] | None = None,
    ) -> None:
        made = _Open(bound, stage, next(self.counter), hub, trials, families, answers)
        heapq.heappush(self.heap, made)

    def _fewest_parts(self, trials: tuple[Trial, ...]) -> int:
        """Distinct jumpers that trees over all variants' posts must have.

        The union of a circuit's trees joins every post that any variant needs to a landing: it
        has at least as many jumpers as there are such nodes that are no landing or root. A
        taker's tree takes in each of its nodes by a jumper.
        """
        fewest = 0
        names = {circuit.name for variant in self.variants for circuit in variant.problem.circuits}
        for name in sorted(names):
            needed: set[frozenset[str]] = set()
            landed: set[str] = set()
            for variant, trial in zip(self.variants, trials, strict=True):
                for circuit in variant.problem.circuits:
                    if circuit.name == name:
                        needed |= {frozenset(n.joints) for n in circuit.nodes if n.needed}
                        landed |= {circuit.root, *dict(trial.landings).get(name, ())}
            groups = _merged(needed)
            fewest += sum(1 for group in groups if not group & landed)
        return fewest

    # -- one trial -------------------------------------------------------------------------------

    def _step(self, item: _Open) -> None:
        if item.answers is not None:
            self._judge(item)
        elif any(item.families):
            self._together(item)
        else:
            self._apart(item)

    def _apart(self, item: _Open) -> None:
        """Circuit by circuit, each over all variants: the exact cost without electrics."""
        groups: dict[tuple[str, ...], list[Ask | None]] = {}
        for at, (solver, trial) in enumerate(zip(self.solvers, item.trials, strict=True)):
            for ask in solver.parts(trial):
                row = groups.setdefault(ask.circuits, [None] * len(self.variants))
                row[at] = ask if self.sizes is not None else self._every_size(at, ask)
        answers: list[list[Answer]] = [[] for _ in self.variants]
        bound = 0
        for key in sorted(groups):
            joined = self._joint(tuple(groups[key]))
            if joined.status is Status.NONE:
                return
            bound += joined.bound
            if joined.status is not Status.BEST:
                self.given_up.append(max(item.bound, bound))
                return
            for at, answer in joined.answers.items():
                answers[at].append(answer)
        whole_answers = [join(own) for own in answers]
        self._push(item.hub, item.trials, max(bound, item.bound), 1, item.families, whole_answers)

    def _every_size(self, at: int, ask: Ask) -> Ask:
        every = self.solvers[at].sizes.every
        return replace(ask, sizes=tuple((name, every[name]) for name, _ in ask.sizes))

    def _joint(self, asks: tuple[Ask | None, ...]) -> Joined:
        if asks not in self.joint:
            self.joint[asks] = self._solve_joint(asks)
        return self.joint[asks]

    def _solve_joint(self, asks: tuple[Ask | None, ...]) -> Joined:
        members = [
            (at, variant, ask)
            for at, (variant, ask) in enumerate(zip(self.variants, asks, strict=True))
            if ask is not None
        ]
        return solve_members(members, self.part_micro, self.clock)

    def _together(self, item: _Open) -> None:
        """All circuits of all variants at once, with the families that were broken."""
        asks = tuple(
            whole(variant.problem, trial, solver.sizes.every, families)
            for variant, solver, trial, families in zip(
                self.variants, self.solvers, item.trials, item.families, strict=True
            )
        )
        joined = self._joint(asks)
        if joined.status is Status.NONE:
            self._confirm(asks)
            return
        bound = max(item.bound, joined.bound)
        if joined.status is not Status.BEST:
            self.given_up.append(bound)
            return
        answers = [joined.answers[at] for at in range(len(self.variants))]
        self._push(item.hub, item.trials, bound, 1, item.families, answers)

    def _confirm(self, asks: Sequence[Ask]) -> None:
        """Have a second, plainly different solve find the variant that has no answer.

        What one variant does forbids another nothing, so one of them must have none by itself.
        """
        ends = [
            second_opinion(solver.problem, ask, solver.objective, self.clock)
            for solver, ask in zip(self.solvers, asks, strict=True)
        ]
        self.unconfirmed = self.unconfirmed or Status.NONE not in ends

    def _judge(self, item: _Open) -> None:
        """Take a joined answer that stands; else ask again with what it breaks."""
        broken = [
            frozenset(judge.broken(answer))
            for judge, answer in zip(self.judges, item.answers or [], strict=True)
        ]
        if not any(broken):
            if self.best is None or item.bound < self.best.bound:
                self.best = item
                self._tell(item)
            return
        families = tuple(a | b for a, b in zip(item.families, broken, strict=True))
        if families == item.families:
            raise RuntimeError("a rule that was posed is broken all the same")
        self._push(item.hub, item.trials, item.bound, 0, families)

    def _tell(self, item: _Open) -> None:
        if self.listener is not None:
            low = min([other.bound for other in self.heap] + [item.bound])
            told = Progress(f"a family with hub {item.hub}", LEVELS, (item.bound,), (low,))
            self.listener(told)

    # -- the end ---------------------------------------------------------------------------------

    def _end(self) -> FamilyFound:
        open_bounds = [item.bound for item in self.heap] + self.given_up
        if self.best is None or self.best.answers is None:
            if open_bounds:
                return FamilyFound(Ending.NO_ANSWER, bound_micro=min(open_bounds))
            doubts = [solver.disagreed or solver.unconfirmed for solver in self.solvers]
            if self.unconfirmed or any(doubts):
                return FamilyFound(Ending.NO_ANSWER, note="two solves do not agree")
            note = "no instrument can be the hub of every variant"
            return FamilyFound(Ending.IMPOSSIBLE, note=note)
        best, answers = self.best, self.best.answers
        bound = min([best.bound, *open_bounds])
        parts: set[PartKey] = set()
        for variant, answer in zip(self.variants, answers, strict=True):
            parts |= parts_of_answer(variant, answer)
        return FamilyFound(
            Ending.PROVED if bound == best.bound else Ending.WITHIN_BOUND,
            best.hub,
            tuple(
                choice_of(variant.problem, answer)
                for variant, answer in zip(self.variants, answers, strict=True)
            ),
            tuple(answer.sums.money_micro for answer in answers),
            len(parts),
            best.bound,
            bound,
        )


def _merged(nodes: set[frozenset[str]]) -> list[frozenset[str]]:
    """Nodes that share a joint counted as one."""
    groups: list[frozenset[str]] = []
    for node in sorted(nodes, key=sorted):
        touching = [group for group in groups if group & node]
        groups = [group for group in groups if not group & node]
        groups.append(node.union(*touching))
    return groups


def parts_of_answer(variant: Variant, answer: Answer) -> set[PartKey]:
    """The distinct jumpers an answer uses."""
    lengths = {
        (circuit.name, frozenset((edge.a, edge.b))): edge.length_dmm
        for circuit in variant.problem.circuits
        for edge in (*circuit.edges, *circuit.take_off)
    }
    return {
        variant.part(j.circuit, j.a, j.b, j.wire_size, lengths[j.circuit, frozenset((j.a, j.b))])
        for j in answer.jumpers
    }
