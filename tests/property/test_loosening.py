"""Loosening a limit, or offering one more hub, never makes the best plan dearer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.strategies import FEW, Case, cases, cost, no_dearer

from lugwright.limits.schema import Limits

LOOSER: dict[str, Callable[[Limits], dict[str, Any]]] = {
    "lugs per stud": lambda old: {"lugs_per_stud": old.lugs_per_stud + 1},
    "wires per barrel": lambda old: {"wires_per_barrel": old.wires_per_barrel + 1},
    "wires per splice": lambda old: {"wires_per_splice": old.wires_per_splice + 1},
    "counting lugs": lambda old: {"stud_count": "lugs"},
    "splices": lambda old: {"splices": True},
    "splice to post": lambda old: {"splice_to_post_dmm": 0},
    "extensions": lambda old: {"extensions": True},
    "hub for each circuit": lambda old: {"one_hub": False},
    "drop": lambda old: {"drop_critical_permille": 1000, "drop_other_permille": 1000},
    "lock washer": lambda old: {"lock_washer": False},
    "minimum jumper": lambda old: {"minimum_jumper_dmm": 0},
    "stud kinds": lambda old: {"stud_kinds": ("ring", "captive spade", "plain spade")},
}


@pytest.mark.parametrize("name", sorted(LOOSER))
def test_loosening_never_costs(name: str) -> None:
    """The same question under a looser limit has a plan at least as good."""

    @FEW
    @given(case=cases(3))
    def holds(case: Case) -> None:
        looser = case.with_limits(**LOOSER[name](case.limits))
        if looser != case:
            assert no_dearer(cost(looser.outcome()), cost(case.outcome()))

    holds()


@FEW
@given(case=cases(), number=st.integers(0, 3))
def test_one_more_hub_candidate_never_costs(case: Case, number: int) -> None:
    """One instrument ruled out as the hub, and let in again."""
    instruments = list(case.console.instruments)
    out = number % len(instruments)
    instruments[out] = replace(instruments[out], hub_candidate=False)
    fewer = replace(case, console=replace(case.console, instruments=tuple(instruments)))
    assert no_dearer(cost(case.outcome()), cost(fewer.outcome()))


@FEW
@given(case=cases())
def test_any_take_off_never_costs(case: Case) -> None:
    """Lamp jumpers may leave any ignition stud, and so the landing alone."""
    landing = case.with_limits(lamp_take_off="landing")
    anywhere = case.with_limits(lamp_take_off="any")
    assert no_dearer(cost(anywhere.outcome()), cost(landing.outcome()))
