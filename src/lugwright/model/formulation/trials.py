"""How a problem is split: landings are tried one by one, circuits apart.

A *trial* fixes where the supplies land. Given that, circuits only meet in what ``judge`` looks
at, so each is asked for by itself and shared by all trials in which it looks the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from lugwright.base.identity import JointId
from lugwright.model.formulation.ask import Ask
from lugwright.problem.schema import CircuitQuestion, Problem

Landings = tuple[tuple[str, tuple[JointId, ...]], ...]


@dataclass(frozen=True, order=True)
class Trial:
    """Where every supply may land, and the hub's name ("one per circuit" where they differ)."""

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
    """Circuits that have a pigtail of their own."""
    return [circuit for circuit in problem.circuits if circuit.supply]


ONE_PER_CIRCUIT = "one per circuit"


def hub_landings(
    problem: Problem, *, one_hub: bool | None = None
) -> Iterator[tuple[str, Landings]]:
    """Every hub (or set of hubs, one per circuit) with the posts its supplies may land on.

    ``one_hub`` as the limit says when not stated.
    """
    circuits = supplied(problem)
    if not (problem.limits.one_hub if one_hub is None else one_hub):
        choices = [_landing_sets(problem, circuit, None) for circuit in circuits]
        for picked in product(*choices):
            pairs = zip(circuits, picked, strict=True)
            yield ONE_PER_CIRCUIT, tuple((circuit.name, posts) for circuit, posts in pairs)
        return
    names = sorted({landing.instrument for c in circuits for landing in c.landings})
    for name in names:
        choices = [_landing_sets(problem, circuit, name) for circuit in circuits]
        for picked in product(*choices):
            pairs = zip(circuits, picked, strict=True)
            yield name, tuple((circuit.name, posts) for circuit, posts in pairs)


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


def parts_of(problem: Problem, trial: Trial, sizes: Mapping[str, tuple[str, ...]]) -> list[Ask]:
    """The asks a trial falls into in some sizes, each circuit by itself where it may be."""
    landings = dict(trial.landings)
    each_jumper = problem.limits.wire_size_choice == "jumper"
    together = problem.limits.lamp_take_off == "any" or each_jumper
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
