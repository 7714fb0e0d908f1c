"""The search against the plain formulation: the whole problem as one model (``benchmarks``).

The search takes every short way it has (``FAST``); then each of them is switched off by itself.
Of three consoles one is as drawn, one has a drop limit that its best plan just breaks, and one
has everything on a loom with heavy loads; every other one counts as a large one. A fixed sample
runs always; the sweep of 500 random consoles is marked slow, and says what it covered.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import fields, replace
from functools import cache

import pytest
from brute.case import Case
from brute.loosen import loosened
from brute.random_consoles import random_case
from one_model import solve_all
from support.seeds import every
from support.shared import shared
from support.tightened_cases import VARIANTS

from lugwright.model.choose import best_choice
from lugwright.model.formulation.ask import Status
from lugwright.model.formulation.objective import objective_of
from lugwright.model.search import first_plan
from lugwright.model.search.speed import FAST, Speed
from lugwright.plans.outcome import Ending
from lugwright.problem.build import build_problem
from lugwright.problem.schema import Problem

SAMPLE = range(2000, 2030)
SWEEP = range(2030, 2530)
SHORT_WAYS = tuple(field.name for field in fields(Speed))
FEW = range(2000, 2006)
MANY = range(2030, 2130)
OBJECTIVES = ("default", "shortest", "lowest-stacks", "cheapest", "weights")
ASKED = frozenset(
    {
        *(f"objective {name}" for name in OBJECTIVES),
        *("take-off landing", "take-off any", "sizes by circuit", "sizes by jumper"),
        *("splices", "several hubs", "loom"),
    }
)
BINDING = ("drop", "bundles")
FELT = ((2002, "drop"), (2008, "drop"), (2012, "bundles"), (2028, "bundles"))
"""Consoles of the sample in which a rule changes the cost."""
LEAST_SHARE = 0.02
LEAST_SHARE_BINDING = 0.05


@cache
def case_of(seed: int) -> Case:
    """The console of a seed, drawn tighter in two of three."""
    drawn = VARIANTS[seed % len(VARIANTS)]
    return shared(f"console {seed} of the comparison", lambda: drawn(random_case(seed)))


def problem_of(case: Case) -> Problem:
    """The question of a case."""
    return build_problem(case.brief, case.routes())


def cost_of(problem: Problem, speed: Speed = FAST) -> tuple[int, ...]:
    """The cost the search proves; empty where it says that no plan exists."""
    outcome = best_choice(problem, speed=speed)
    assert outcome.ending in (Ending.PROVED, Ending.IMPOSSIBLE)
    return outcome.cost


def fast_cost(seed: int) -> tuple[int, ...]:
    """The cost with every short way on, found once: ask where ``large_every_other`` has been."""
    return shared(f"fast cost of {seed}", lambda: cost_of(problem_of(case_of(seed))))


def large_every_other(seed: int, patch: pytest.MonkeyPatch) -> None:
    """What is done on large consoles only is done on every other one of these, too."""
    if seed % 2:
        patch.setattr(first_plan, "LARGE", 0)


def judge(seed: int, patch: pytest.MonkeyPatch) -> None:
    """Both prove the same cost, or both say that there is no plan."""
    large_every_other(seed, patch)
    problem = problem_of(case_of(seed))
    plain = solve_all(problem)
    assert plain.status in (Status.BEST, Status.NONE)
    known = objective_of(problem).unfold(plain.value) if plain.answer else ()
    assert fast_cost(seed) == known


def judge_without(seed: int, short_way: str, patch: pytest.MonkeyPatch) -> None:
    """The same cost with one short way switched off."""
    large_every_other(seed, patch)
    problem = problem_of(case_of(seed))
    assert cost_of(problem, replace(FAST, **{short_way: False})) == fast_cost(seed)


def binds(case: Case, rule: str) -> bool:
    """Whether the cost is another one without the drop limit, or without bundle factors."""
    if rule == "drop":
        free = loosened(case, "drop")
    else:
        free = replace(case, limits=replace(case.limits, bundle_rule="none"))
    return cost_of(problem_of(free)) != cost_of(problem_of(case))


def traits_of(case: Case) -> Iterator[str]:
    """What a case asks for."""
    limits = case.limits
    yield f"objective {limits.objective}"
    yield f"take-off {limits.lamp_take_off}"
    yield f"sizes by {limits.wire_size_choice}"
    if limits.splices and any(case.splices.values()):
        yield "splices"
    if not limits.one_hub:
        yield "several hubs"
    if case.console.tie_points:
        yield "loom"


def covered(seeds: Iterable[int]) -> Counter[str]:
    """How many of the cases have each trait."""
    return Counter(trait for seed in seeds for trait in traits_of(case_of(seed)))


def test_every_short_way_is_taken() -> None:
    """What is compared below is the search with all of them on."""
    assert all(getattr(FAST, name) for name in SHORT_WAYS)


@pytest.mark.parametrize("seed", every(4, SAMPLE))
def test_a_sample_of_consoles(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Equal cost, or both impossible."""
    judge(seed, monkeypatch)


@pytest.mark.parametrize("short_way", SHORT_WAYS)
@pytest.mark.parametrize("seed", every(3, FEW))
def test_a_short_way_less_on_a_few(
    seed: int, short_way: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same cost without it."""
    judge_without(seed, short_way, monkeypatch)


@pytest.mark.slow
def test_the_sample_asks_in_every_way() -> None:
    """Each objective, take-off and choice of size, splices, hubs apart, a loom."""
    assert set(covered(SAMPLE)) >= ASKED


@pytest.mark.parametrize(("seed", "rule"), FELT)
def test_the_sample_feels_electrical_rules(seed: int, rule: str) -> None:
    """Some of its consoles cost something else without the rule."""
    assert seed in SAMPLE
    assert binds(case_of(seed), rule)


@pytest.mark.slow
@pytest.mark.parametrize("seed", SWEEP)
def test_the_sweep(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Five hundred more."""
    judge(seed, monkeypatch)


@pytest.mark.slow
@pytest.mark.parametrize("short_way", SHORT_WAYS)
@pytest.mark.parametrize("seed", MANY)
def test_a_short_way_less_on_many(
    seed: int, short_way: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hundred consoles for each."""
    judge_without(seed, short_way, monkeypatch)


@pytest.mark.slow
def test_the_sweep_covers_every_way_to_ask(capsys: pytest.CaptureFixture[str]) -> None:
    """Each of them in one console in fifty or more, and rules that bind in one in twenty."""
    found, cases = covered(SWEEP), [case_of(seed) for seed in SWEEP]
    felt = {rule: sum(binds(case, rule) for case in cases) for rule in BINDING}
    with capsys.disabled():
        print("\n" + "\n".join(f"{trait}: {found[trait]}" for trait in sorted(ASKED)))
        print("\n".join(f"{rule} binds: {number}" for rule, number in felt.items()))
    assert [trait for trait in ASKED if found[trait] < LEAST_SHARE * len(SWEEP)] == []
    assert min(felt.values()) >= LEAST_SHARE_BINDING * len(SWEEP)
