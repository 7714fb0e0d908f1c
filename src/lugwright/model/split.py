"""How a problem is split: hubs and wire sizes are tried one by one, circuits apart.

A *trial* fixes the landing posts and (with one size per circuit) the wire sizes. Given those,
circuits only meet in what ``judge`` looks at, so each is asked for by itself and shared by all
trials in which it looks the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from lugwright.model.ask import Ask
from lugwright.model.joints import end_counts, options_at
from lugwright.problem.schema import CircuitQuestion, GroupOption, Problem

Landings = tuple[tuple[str, tuple[str, ...]], ...]
Sizes = tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, order=True)
class Trial:
    """One way to fix landings and sizes. ``hub`` is the instrument, or several joined by " + "."""

    hub: str
    landings: Landings
    sizes: Sizes


def supplied(problem: Problem) -> list[CircuitQuestion]:
    """Circuits that have a pigtail of their own."""
    return [circuit for circuit in problem.circuits if circuit.supply]


def hub_landings(problem: Problem) -> Iterator[tuple[str, Landings]]:
    """Every hub (or set of hubs, one per circuit) with the posts its supplies may land on."""
    circuits = supplied(problem)
    if not problem.limits.one_hub:
        choices = [_landing_sets(problem, circuit, None) for circuit in circuits]
        for picked in product(*choices):
            pairs = zip(circuits, picked, strict=True)
            yield "one per circuit", tuple((circuit.name, posts) for circuit, posts in pairs)
        return
    names = sorted({landing.instrument for c in circuits for landing in c.landings})
    for name in names:
        choices = [_landing_sets(problem, circuit, name) for circuit in circuits]
        for picked in product(*choices):
            pairs = zip(circuits, picked, strict=True)
            yield name, tuple((circuit.name, posts) for circuit, posts in pairs)


def _landing_sets(
    problem: Problem, circuit: CircuitQuestion, instrument: str | None
) -> list[tuple[str, ...]]:
    """Posts of one trial: one by one where a rider is taken off at the landing, else together."""
    posts = tuple(
        sorted(
            landing.post
            for landing in circuit.landings
            if instrument is None or landing.instrument == instrument
        )
    )
    if not posts:
        return []
    if circuit.riders and problem.limits.lamp_take_off == "landing":
        return [(post,) for post in posts]
    return [posts]


def size_choices(problem: Problem) -> Iterator[Sizes]:
    """Every vector of wire sizes, thinnest first; all at once where each jumper has its own."""
    per_circuit: list[list[tuple[str, ...]]] = []
    for circuit in problem.circuits:
        sizes = tuple(choice.size for choice in circuit.choices)
        if problem.limits.wire_size_choice == "jumper" or not sizes:
            per_circuit.append([sizes])
        else:
            per_circuit.append([(size,) for size in sizes])
    names = [circuit.name for circuit in problem.circuits]
    for picked in product(*per_circuit):
        yield tuple(zip(names, picked, strict=True))


def parts_of(problem: Problem, trial: Trial) -> list[Ask]:
    """The asks a trial falls into, each circuit by itself where it may be."""
    landings, sizes = dict(trial.landings), dict(trial.sizes)
    together = problem.limits.lamp_take_off == "any" or problem.limits.wire_size_choice == "jumper"
    parts = []
    for circuit in problem.circuits:
        if circuit.rides_on and together:
            continue
        riders = circuit.riders if together else ()
        members = (circuit.name, *riders)
        guests = () if together else circuit.riders
        owner = circuit.rides_on or circuit.name
        parts.append(
            Ask(
                circuits=members,
                landings=((owner, landings[owner]),),
                sizes=tuple((name, sizes[name]) for name in (*members, *guests)),
            )
        )
    if problem.extensions or _rest_posts(problem):
        parts.append(Ask((), (), (), rest=True))
    return parts


def _rest_posts(problem: Problem) -> bool:
    owned = {post for c in problem.circuits for node in c.nodes for post in node.joints}
    return any(group.post not in owned for group in problem.arrival_groups)


def whole(problem: Problem, trial: Trial, families: frozenset[str]) -> Ask:
    """Everything of a trial at once, with some electrical families posed."""
    return Ask(
        circuits=tuple(circuit.name for circuit in problem.circuits),
        landings=trial.landings,
        sizes=trial.sizes,
        families=families,
        rest=True,
    )


class Dominance:
    """Proof, by tables alone, that a thinner wire can do all a thicker one does at no more cost."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._known: dict[tuple[str, str, str], bool] = {}

    def covers(self, circuit: str, thin: str, thick: str) -> bool:
        """Whether every answer in ``thick`` is matched by one in ``thin`` with no level worse.

        Electrical rules are left out: this compares bounds, not plans.
        """
        key = (circuit, thin, thick)
        if key not in self._known:
            self._known[key] = thin == thick or self._compare(*key)
        return self._known[key]

    def _compare(self, circuit: str, thin: str, thick: str) -> bool:
        question = self.problem.circuit(circuit)
        one, other = question.choice(thin), question.choice(thick)
        if one.price_micro_per_m > other.price_micro_per_m:
            return False
        for size, option in question.butts.items():
            if size == thick:
                mine = question.butts.get(thin)
                if mine is None or mine.money_micro > option.money_micro:
                    return False
        return all(
            self._covered(question, joint, one.end_type, other.end_type)
            for joint in self._joints(question)
        )

    def _joints(self, question: CircuitQuestion) -> list[str]:
        """One joint of every kind of post that this circuit's wires may end on."""
        console = self.problem.console
        seen: dict[tuple[str, ...], str] = {}
        joints = [joint for node in question.nodes for joint in node.joints]
        joints += [edge.a for edge in question.take_off]
        for joint in joints:
            if joint not in self.problem.post_kind:
                seen.setdefault(("splice",), joint)
                continue
            post = console.post(joint)
            lead = f"{post.lead}" if post.lead else ""
            seen.setdefault((post.kind, post.thread, post.tab_size, lead), joint)
        return list(seen.values())

    def _covered(self, question: CircuitQuestion, joint: str, thin: str, thick: str) -> bool:
        singles = [question.supply.end_type] if question.supply and question.supply.end_type else []
        for counts in end_counts(self.problem, joint, [thick], singles):
            renamed = tuple(sorted((thin if n == thick else n, number) for n, number in counts))
            mine = options_at(self.problem, joint, renamed)
            for option in options_at(self.problem, joint, counts):
                if not any(_no_worse(other, option) for other in mine):
                    return False
        return True


def _no_worse(one: GroupOption, other: GroupOption) -> bool:
    return (
        one.lugs <= other.lugs
        and one.tongue_dmm <= other.tongue_dmm
        and one.angle_deg <= other.angle_deg
        and one.fittings <= other.fittings
        and one.money_micro <= other.money_micro
    )
