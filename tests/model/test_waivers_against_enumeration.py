"""Plans with waivers against trying everything, on small random consoles."""

from __future__ import annotations

import pytest
from brute.random_waivers import waived_case, without_waivers
from model.test_against_enumeration import cost_of, judge, planned
from support.seeds import seeds

SAMPLE = range(24)
WIDE = range(24, 300)


@pytest.mark.parametrize("seed", seeds(SAMPLE))
def test_a_sample_of_consoles_with_waivers(seed: int) -> None:
    """Equal cost, or both say impossible; and the plan passes the checker, waivers and all."""
    judge(waived_case(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", WIDE)
def test_the_wide_sweep_with_waivers(seed: int) -> None:
    """Ten times as many as in the default run."""
    judge(waived_case(seed))


@pytest.mark.slow
def test_waivers_are_felt() -> None:
    """Left out, they change the answer in at least a fifth of the sample: it asks something."""
    felt = 0
    for case in map(waived_case, SAMPLE):
        felt += cost_of(planned(case)) != cost_of(planned(without_waivers(case)))
    assert felt * 5 >= len(SAMPLE)
