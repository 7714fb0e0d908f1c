"""Our cost against trying everything where fittings, tabs and studs carry little.

The cases are ``brute.weak_parts``; those with many posts are left out, they take minutes each.
"""

from __future__ import annotations

import pytest
from brute.case import Case
from brute.weak_parts import strong, weak_case
from model.test_against_enumeration import cost_of, judge, planned

MOST_POSTS = 10
SAMPLE, WIDE = range(20), range(20, 400)
SMALL = (0, 1, 2, 3, 5, 6, 8, 10, 11, 13, 15, 17, 19)  # those of the sample with few posts
LEAST_SHARE = 0.3


def small(seeds: range) -> list[Case]:
    """The cases of these seeds with few posts."""
    cases = (weak_case(seed) for seed in seeds)
    return [case for case in cases if len(case.console.posts) <= MOST_POSTS]


@pytest.mark.parametrize("seed", SMALL)
def test_a_sample_of_weak_parts(seed: int) -> None:
    """Equal cost, or both say impossible; and the plan passes the checker."""
    judge(weak_case(seed))


@pytest.mark.slow
def test_the_wide_sweep_of_weak_parts(capsys: pytest.CaptureFixture[str]) -> None:
    """Many more; the current limits change the answer in a good share of them."""
    cases, binds = small(WIDE), 0
    for case in cases:
        judge(case)
        binds += strong(case).best().cost != case.best().cost
    with capsys.disabled():
        print(f"\ncurrent limits bind in {binds} of {len(cases)}")
    assert binds >= LEAST_SHARE * len(cases)


def test_the_limits_bind_in_the_sample() -> None:
    """Without their current limits some cases have another cost, on our side too."""
    cases = small(SAMPLE)
    assert tuple(case.seed for case in cases) == SMALL
    pairs = [(case, strong(case)) for case in cases]
    freed = [free for case, free in pairs if free.best().cost != case.best().cost]
    assert freed
    assert all(cost_of(planned(free)) == free.best().cost for free in freed[:3])
