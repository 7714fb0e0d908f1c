"""The search against the plain formulation on consoles with devices: keys, fuses, light switches.

As ``test_against_one_model``: of three consoles one is as drawn, one has a drop limit that its
best plan just breaks, one has everything on a loom.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from brute.case import Case
from brute.loosen import loosened
from brute.random_consoles import random_case
from model.test_against_one_model import SHORT_WAYS, cost_of, large_every_other, problem_of
from one_model import solve_all
from support.random_ways import with_devices
from support.seeds import every
from support.tightened_cases import VARIANTS

from lugwright.model.formulation.ask import Status
from lugwright.model.formulation.objective import objective_of
from lugwright.model.search.speed import FAST

SAMPLE = range(4000, 4024)
FEW = range(4000, 4006)
SWEEP = range(4100, 4400)
ASKED = frozenset(
    {
        *("fuse block", "way take-off one", "way take-off any", "lamps behind a switch"),
        *("lamps behind a dimmer", "lamps behind a fuse", "lead of a device", "two load states"),
    }
)


@cache
def case_of(seed: int) -> Case:
    """The console of a seed with its devices, drawn tighter in two of three."""
    return VARIANTS[seed % len(VARIANTS)](with_devices(random_case(seed)))


def judge(seed: int, patch: pytest.MonkeyPatch) -> None:
    """Both prove the same cost, or both say that there is no plan."""
    large_every_other(seed, patch)
    problem = problem_of(case_of(seed))
    plain = solve_all(problem)
    assert plain.status in (Status.BEST, Status.NONE)
    known = objective_of(problem).unfold(plain.value) if plain.answer else ()
    assert cost_of(problem) == known


@pytest.mark.parametrize("seed", every(5, SAMPLE[1:]))
def test_a_sample_of_consoles(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Equal cost, or both impossible."""
    judge(seed, monkeypatch)


@pytest.mark.parametrize("short_way", SHORT_WAYS)
@pytest.mark.parametrize("seed", every(6, FEW))
def test_a_short_way_less_on_a_few(
    seed: int, short_way: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same cost without it."""
    large_every_other(seed, monkeypatch)
    problem = problem_of(case_of(seed))
    assert cost_of(problem, replace(FAST, **{short_way: False})) == cost_of(problem)


@pytest.mark.slow
@pytest.mark.parametrize("seed", SWEEP)
def test_the_sweep(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Three hundred more."""
    judge(seed, monkeypatch)


@pytest.mark.slow
def test_the_sweep_covers_what_devices_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    """Each in one console of fifty or more; in a third there is a plan; drop binds in one in 20."""
    cases = [case_of(seed) for seed in SWEEP]
    found = Counter(trait for case in cases for trait in case.traits)
    planned = [case for case in cases if cost_of(problem_of(case))]
    felt = sum(
        cost_of(problem_of(loosened(case, "drop"))) != cost_of(problem_of(case)) for case in planned
    )
    with capsys.disabled():
        print("\n" + "\n".join(f"{trait}: {found[trait]}" for trait in sorted(ASKED)))
        print(f"with a plan: {len(planned)}, drop binds: {felt}")
    assert [trait for trait in ASKED if found[trait] * 50 < len(SWEEP)] == []
    assert len(planned) * 3 >= len(SWEEP)
    assert felt * 20 >= len(SWEEP)
