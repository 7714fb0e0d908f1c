"""How a problem is split: landings are tried one by one, circuits apart.

A *trial* fixes where the supplies land. Given that, circuits only meet in what ``judge`` looks
at, so each is asked for by itself and shared by all trials in which it looks the same.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from lugwright.base.identity import JointId
from lugwright.model.formulation.ask import Ask
from lugwright.problem.schema import CircuitQuestion, Problem
from lugwright.trade.hubs import NO_HUB

Landings = tuple[tuple[str, tuple[JointId, ...]], ...]


@dataclass(frozen=True, order=True)
class Trial:
    """Where every supply may land, and the hub's name ("one per circuit" where they differ).

    With several harnesses it names the hub of each, ``APART`` between them.
    """

    hub: str
    landings: Landings


def landings_anywhere(trials: list[Trial]) -> Trial | None:
    """All landings of all trials at once: its bound is a bound of each. None: no trial."""
    if not trials:
        return None
    merged: dict[str, set[JointId]] = {}
    for trial in trials:
        for circuit, posts in trial.landings:
            merged.setdefault(circuit, set()).update(posts)
    names = [circuit for circuit, _ in trials[0].landings]
    return Trial("anywhere", tuple((name, tuple(sorted(merged[name]))) for name in names))


def supplied(problem: Problem) -> list[CircuitQuestion]:
    """Circuits whose supply lands: those of a pigtail, and those of a way."""
    return [circuit for circuit in problem.circuits if circuit.supply or circuit.root]


ONE_PER_CIRCUIT = "one per circuit"


def hub_landings(
    problem: Problem, *, one_hub: bool | None = None, held: Collection[str] | None = None
) -> Iterator[tuple[str, Landings]]:
    """Every hub (or set of hubs, one per circuit) with the posts its supplies may land on.

    ``one_hub`` as the limit says when not stated. ``held``: no other instrument is looked at.
    Circuits that the hub cannot have land wherever else they may. Rule R7.
    """
    circuits = supplied(problem)
    sets: list[dict[str, str]] = [{}]
    if problem.limits.one_hub if one_hub is None else one_hub:
        sets = hub_sets(problem, held)
    for hubs in sets:
        named = [hubs.get(circuit.harness, ONE_PER_CIRCUIT) for circuit in circuits]
        choices = [
            _landing_sets(problem, circuit, name if name in circuit.hubs else None)
            for circuit, name in zip(circuits, named, strict=True)
        ]
        told = APART.join(dict.fromkeys(hubs.values())) or ONE_PER_CIRCUIT
        for picked in product(*choices):
            pairs = zip(circuits, picked, strict=True)
            yield told, tuple((circuit.name, posts) for circuit, posts in pairs)


APART = ", "
"""Between the hubs of several harnesses; no instrument's name has it in it."""


def hub_sets(problem: Problem, held: Collection[str] | None = None) -> list[dict[str, str]]:
    """A hub for each harness that has one, every choice of them: each harness by itself.

    What is held is the hub of each harness that could have it; at least one must. Rule R7.
    """
    harnesses = sorted({circuit.harness for circuit in supplied(problem)})
    if len(harnesses) == 1:
        return [{harnesses[0]: name} for name in hub_names(problem, held)]
    each = {name: hub_names(problem, None, name) for name in harnesses}
    if held is not None:
        kept = {name: hub_names(problem, held, name) for name in harnesses}
        if not any(kept.values()):
            return []
        each = {name: kept[name] or each[name] for name in harnesses}
    return [dict(zip(harnesses, names, strict=True)) for names in product(*each.values())]


def hub_names(
    problem: Problem, held: Collection[str] | None = None, harness: str = ""
) -> list[str]:
    """The instruments that are compared as the one hub, before any limit of reach or room.

    Those that all circuits can land on; where none is, those that most circuits of two posts or
    more can. Where no circuit can choose, there is no hub to speak of. ``harness``: of its
    circuits alone. Rule R7.
    """
    own = [circuit for circuit in supplied(problem) if harness in ("", circuit.harness)]
    landed = [c for c in own if (c.others or not c.root) and c.side not in NO_HUB]
    may = sorted(frozenset[str]().union(*(circuit.hubs for circuit in landed)))
    of_all = [name for name in may if all(name in circuit.hubs for circuit in landed)]
    counted = [circuit for circuit in landed if len(circuit.others) > 1]
    count = {name: sum(name in circuit.hubs for circuit in counted) for name in may}
    if held is not None:
        return [name for name in of_all or may if name in held and (of_all or count[name])]
    most = max(count.values(), default=0)
    if not (of_all or most):
        return [ONE_PER_CIRCUIT]
    return of_all or [name for name in may if count[name] == most]


def _landing_sets(
    problem: Problem, circuit: CircuitQuestion, instrument: str | None
) -> list[tuple[JointId, ...]]:
    """Posts of one trial: one by one where a taker is taken off at the landing, else together."""
    posts = tuple(
        sorted(
            landing.post
            for landing in circuit.landings
            if instrument is None or landing.instrument == instrument
        )
    )
    if not posts:
        return []
    if circuit.takers and problem.limits.lamp_take_off == "landing":
        return [(post,) for post in posts]
    return [posts]


def takers_together(problem: Problem) -> bool:
    """Whether a taker is asked for together with the circuit it is taken from."""
    limits = problem.limits
    return limits.lamp_take_off == "any" or limits.wire_size_choice == "jumper"


def parts_of(problem: Problem, trial: Trial, sizes: Mapping[str, tuple[str, ...]]) -> list[Ask]:
    """The asks a trial falls into in some sizes, each circuit by itself where it may be."""
    landings = dict(trial.landings)
    together = takers_together(problem)
    parts = []
    for circuit in problem.circuits:
        if circuit.taken_from and together:
            continue
        members = (circuit.name, *(circuit.takers if together else ()))
        guests = () if together else circuit.takers
        owner = circuit.taken_from or circuit.name
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
    return any(group.post not in owned for group in problem.boat_groups)


def whole(
    problem: Problem, trial: Trial, sizes: dict[str, tuple[str, ...]], families: frozenset[str]
) -> Ask:
    """Everything of a trial at once, with some electrical families posed."""
    return Ask(
        circuits=tuple(circuit.name for circuit in problem.circuits),
        landings=trial.landings,
        sizes=tuple((circuit.name, sizes[circuit.name]) for circuit in problem.circuits),
        families=families,
        rest=True,
    )
