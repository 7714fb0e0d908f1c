"""What is built already: the jumpers of a harness, put into the question of the next plan."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from lugwright.problem.built_jumper import BuiltJumper
from lugwright.problem.schema import Problem


def with_built(
    problem: Problem,
    built: Iterable[BuiltJumper],
    landings: Mapping[str, str],
    change_worth: int,
) -> Problem:
    """The problem of changing a harness: every change costs ``change_worth`` of the objective.

    A change is a jumper made new, taken out, or taken out and put to use elsewhere (one change,
    not two), or a pigtail that lands elsewhere than ``landings`` (post by circuit) say. Pieces of
    circuits that are no more are left to be taken out. Raises ValueError for an objective of
    several levels, which has no unit to count a change in, and for a worth below nought.
    """
    if problem.limits.objective not in ("default", "cheapest", "weights"):
        message = f"objective {problem.limits.objective} has no unit to count a change in"
        raise ValueError(message)
    if change_worth < 0:
        raise ValueError("a change cannot be worth less than nothing")
    supplied = {circuit.name for circuit in problem.circuits if circuit.supply}
    landed = tuple(sorted((name, post) for name, post in landings.items() if name in supplied))
    return replace(
        problem, built=tuple(sorted(built)), built_landings=landed, change_worth=change_worth
    )
