"""Cut lengths by hand arithmetic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.consoles import tiny_console
from support.limits import plain_limits

from lugwright.trade.lengths import extension_length_dmm, jumper_length_dmm, reach_needed_dmm


def test_a_plain_jumper_is_as_long_as_its_path() -> None:
    """No slack, no allowance, step 0.1 mm: 1234 stays 1234."""
    assert jumper_length_dmm(1234, plain_limits()) == 1234


@pytest.mark.parametrize(
    ("path_dmm", "length_dmm"),
    [
        (1000, 1350),  # 1050 + 2*150 = 1350.0, a whole step
        (952, 1300),  # 999.6 + 300 = 1299.6, up to 1300
        (953, 1350),  # 1000.65 + 300 = 1300.65, up to 1350
        (400, 800),  # 420 + 300 = 720, raised to the minimum 800
        (0, 800),  # 300, raised to 800
    ],
)
def test_slack_allowance_minimum_and_step(path_dmm: int, length_dmm: int) -> None:
    """5 % slack, 15 mm at each end, at least 80 mm, cut in steps of 5 mm."""
    limits = plain_limits(
        slack_permille=50, end_allowance_dmm=150, minimum_jumper_dmm=800, cut_step_dmm=50
    )
    assert jumper_length_dmm(path_dmm, limits) == length_dmm


def test_a_minimum_between_steps_is_rounded_up_too() -> None:
    """Minimum 810 with step 50 gives 850."""
    limits = plain_limits(minimum_jumper_dmm=810, cut_step_dmm=50)
    assert jumper_length_dmm(10, limits) == 850


def test_an_extension_is_cut_like_a_jumper_over_the_shortfall() -> None:
    """Shortfall 1010: 1010*1.1 + 2*100 = 1311, up to 1320 at step 20."""
    limits = plain_limits(slack_permille=100, end_allowance_dmm=100, cut_step_dmm=20)
    assert extension_length_dmm(1010, limits) == 1320


def test_a_short_extension_is_raised_to_the_minimum() -> None:
    """Shortfall 10 with minimum 700: 10 + 200 = 210, raised to 700."""
    limits = plain_limits(end_allowance_dmm=100, minimum_jumper_dmm=700)
    assert extension_length_dmm(10, limits) == 700


def test_nothing_short_is_not_extended() -> None:
    """A shortfall of nothing, or a negative path, is the caller's fault."""
    with pytest.raises(ValueError, match="nothing is short"):
        extension_length_dmm(0, plain_limits())
    with pytest.raises(ValueError, match="-1"):
        jumper_length_dmm(-1, plain_limits())


def test_reach_needed_adds_travel_loop_and_two_re_terminations() -> None:
    """Path 3000 + travel 1500 + loop 1000 + 2*200 = 5900; slack is not in it."""
    console = replace(tiny_console(), service_travel_dmm=1500)
    limits = plain_limits(drip_loop_dmm=1000, re_termination_dmm=200, slack_permille=500)
    assert reach_needed_dmm(3000, console, limits) == 5900


@given(
    path_dmm=st.integers(0, 50_000),
    slack=st.integers(0, 500),
    allowance=st.integers(0, 500),
    minimum=st.integers(0, 2000),
    step=st.integers(1, 200),
)
def test_a_cut_is_the_least_step_that_is_long_enough(
    path_dmm: int, slack: int, allowance: int, minimum: int, step: int
) -> None:
    """A whole number of steps, long enough, and one step less would not be."""
    limits = plain_limits(
        slack_permille=slack,
        end_allowance_dmm=allowance,
        minimum_jumper_dmm=minimum,
        cut_step_dmm=step,
    )

    def is_enough(cut_dmm: int) -> bool:
        needed = path_dmm * (1000 + slack) + 2000 * allowance
        return cut_dmm * 1000 >= needed and cut_dmm >= minimum

    cut_dmm = jumper_length_dmm(path_dmm, limits)
    assert cut_dmm % step == 0
    assert is_enough(cut_dmm)
    assert cut_dmm == 0 or not is_enough(cut_dmm - step)
